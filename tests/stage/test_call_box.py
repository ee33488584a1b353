"""A song called from the floor by a few letters."""

import pytest
from msgspec.structs import replace
from stage.scenes import book_of, rig_of, song

from companion.music import read_key
from companion.rig import Keyboard, Sound
from companion.show import Song, SoundCall
from companion.stage.call_box import (
    CallBox,
    Chosen,
    OfferedSound,
    by_likeness,
    is_full,
    is_too_long,
    key_typed,
    new_song,
    open_box,
    sounds_on_offer,
    without_accents,
)

TITLES = ("Gasworks Corner", "Kettle on the Jetty", "Crêpe Paper Armada", "Öl auf der Lagune", "Kettledrum Sunday")


def typed(letters: str, box: CallBox | None = None) -> CallBox:
    box = box or open_box(TITLES)
    for letter in letters:
        after = key_typed(box, "space" if letter == " " else letter, letter)
        assert isinstance(after, CallBox)
        box = after
    return box


def fits(letters: str) -> list[str]:
    return [TITLES[number] for number in typed(letters).fits]


@pytest.mark.parametrize(
    ("letters", "best"),
    [
        ("gas", "Gasworks Corner"),
        ("jetty", "Kettle on the Jetty"),
        ("crepe", "Crêpe Paper Armada"),
        ("ol auf", "Öl auf der Lagune"),
        ("gaswroks", "Gasworks Corner"),
        ("corner gas", "Gasworks Corner"),
        ("kettled", "Kettledrum Sunday"),
    ],
)
def test_a_few_letters_find_the_song(letters: str, best: str) -> None:
    assert fits(letters)[0] == best


def test_the_best_three_are_shown() -> None:
    assert fits("kettle")[:2] == ["Kettle on the Jetty", "Kettledrum Sunday"]
    assert len(typed("e").fits) <= 3


def test_enter_goes_to_the_best_and_digits_pick_the_others() -> None:
    box = typed("kettle")
    assert key_typed(box, "enter", None) == Chosen(number=1)
    assert key_typed(box, "2", "2") == Chosen(number=4)


@pytest.mark.parametrize(
    ("letters", "near"),
    [
        ("zoo", "Ozone"),  # three letters prove nothing
        ("moon lake", "The Moon Under Oak Lane"),
        ("gasworks blues", "Gasworks Hymn"),
    ],
)
def test_a_title_that_only_resembles_the_text_is_offered_and_enter_adds_the_new_song(letters: str, near: str) -> None:
    box = typed(letters, open_box((*TITLES, near)))
    assert box.fits
    assert box.is_near
    assert key_typed(box, "enter", None) == Chosen(song=Song(letters))
    assert key_typed(box, "1", "1") == Chosen(number=box.fits[0])


@pytest.mark.parametrize(
    "letters",
    [
        "gaswroks",
        "gaswork corner",
        "kettl on the jety",
        "crepe papr",
        "corner gas",
        "halelujah",
        "haleluja",
        "haleluya",
    ],
)
def test_a_typing_error_in_a_longer_text_still_takes_the_song(letters: str) -> None:
    box = typed(letters, open_box((*TITLES, "Hallelujah Bus Stop")))
    assert not box.is_near
    assert isinstance(chosen := key_typed(box, "enter", None), Chosen)
    assert chosen.number is not None


def test_escape_returns_and_backspace_takes_a_letter_back() -> None:
    assert key_typed(typed("gas"), "escape", None) is None
    assert key_typed(typed("gas"), "backspace", None) == typed("ga")


def test_enter_takes_an_unknown_title_as_a_new_song_and_does_nothing_without_a_title() -> None:
    assert key_typed(typed("zzzzqqq"), "enter", None) == Chosen(song=Song("zzzzqqq"))
    assert key_typed(typed(""), "enter", None) == typed("")
    assert key_typed(typed("Wish, H"), "enter", None) == typed("Wish, H"), "no key is called H"


def test_a_comma_adds_a_song_that_is_not_on_the_list() -> None:
    chosen = key_typed(typed("Wish upon, Eb"), "enter", None)
    assert isinstance(chosen, Chosen)
    assert chosen.song is not None
    assert (chosen.song.title, str(chosen.song.key)) == ("Wish upon", "Eb")
    no_key = key_typed(typed("Wish upon,"), "enter", None)
    assert isinstance(no_key, Chosen)
    assert no_key.song is not None
    assert no_key.song.key is None
    assert isinstance(key_typed(typed("Wish, H7b"), "enter", None), CallBox)


LONG = "The Winter That the Ferrymen Sang Back to the Lighthouse at Skerry Point"


def test_a_long_title_keeps_its_key_and_its_sounds() -> None:
    chosen = key_typed(typed(f"{LONG}, Bbm, str", open_box(TITLES, OFFERED)), "enter", None)
    assert isinstance(chosen, Chosen)
    assert chosen.song == Song(LONG, key=read_key("Bbm"), sounds=(SoundCall("strings", "lower"),))


def test_a_full_box_takes_no_further_letter_and_a_title_longer_than_a_file_holds_is_not_called() -> None:
    full = typed("ab " * 100)
    assert is_full(full.typed)
    assert key_typed(full, "c", "c") == full
    assert not is_full(full.typed[:-1])
    assert new_song("x" * 200, OFFERED) == Song("x" * 200)
    for text in ("x" * 201, f"{'x' * 201}, Eb"):
        assert new_song(text, OFFERED) is None
        assert is_too_long(text, OFFERED)
    assert not is_too_long(f"{'x' * 200}, Eb, pad", OFFERED)


def test_a_typing_error_in_a_long_title_still_takes_the_song() -> None:
    box = typed(LONG.replace("Ferrymen", "Fererymen"), open_box((*TITLES, LONG)))
    assert (box.fits[0], box.is_near) == (len(TITLES), False)
    other = typed(f"{LONG} and Then Went Home Again Across the Ice", open_box((*TITLES, LONG)))
    assert other.is_near


SOUND_CALLS = {"strings": ("lower", "upper"), "organ": ("lower", "upper"), "pad": ("lower",), "e-piano": ("upper",)}
OFFERED = tuple(
    OfferedSound(SoundCall(name, board), f"{board} {name}", name)
    for name, boards in SOUND_CALLS.items()
    for board in boards
)


@pytest.mark.parametrize(
    ("letters", "title", "key", "sounds"),
    [
        ("Wish, pad", "Wish", None, ["lower pad"]),
        ("Wish,Eb,pa", "Wish", "Eb", ["lower pad"]),
        ("Wish, pad, Eb", "Wish", "Eb", ["lower pad"]),
        ("Now, Then, Eb, org", "Now, Then", "Eb", ["lower organ"]),
        ("Wish, Eb, pad, e-p", "Wish", "Eb", ["lower pad", "upper e-piano"]),
        ("Wish, E", "Wish", "E", []),  # a key first, and a sound only if it is no key
        ("Wish, E, e", "Wish", "E", ["upper e-piano"]),
        ("Strings, pad", "Strings", None, ["lower pad"]),
    ],
)
def test_a_new_song_takes_its_key_and_its_sounds_after_the_comma_in_any_order(
    letters: str, title: str, key: str | None, sounds: list[str]
) -> None:
    chosen = key_typed(typed(letters, open_box(TITLES, OFFERED)), "enter", None)
    assert isinstance(chosen, Chosen)
    assert chosen.song is not None
    shown = {one.call: one.shown for one in OFFERED}
    found = (chosen.song.title, chosen.song.key and str(chosen.song.key), [shown[one] for one in chosen.song.sounds])
    assert found == (title, key, sounds)


@pytest.mark.parametrize(
    ("letters", "digit", "key", "sound"),
    [
        ("Wish,", "2", None, ("strings", "upper")),
        ("Wish, Eb,", "1", "Eb", ("strings", "lower")),
        ("Wish, org", "2", None, ("organ", "upper")),
        ("Wish, E", "1", None, ("e-piano", "upper")),  # the digit means the sound, though E is a key too
    ],
)
def test_after_the_comma_a_digit_calls_the_new_song_with_that_sound(
    letters: str, digit: str, key: str | None, sound: tuple[str, str]
) -> None:
    chosen = key_typed(typed(letters, open_box(TITLES, OFFERED)), digit, digit)
    assert isinstance(chosen, Chosen)
    assert chosen.song == Song("Wish", key=read_key(key) if key else None, sounds=(SoundCall(*sound),))


def test_a_digit_calls_a_new_song_whose_title_has_commas() -> None:
    chosen = key_typed(typed("Now, Then, org", open_box(TITLES, OFFERED)), "2", "2")
    assert isinstance(chosen, Chosen)
    assert chosen.song == Song("Now, Then", sounds=(SoundCall("organ", "upper"),))


@pytest.mark.parametrize(
    ("letters", "key", "sounds"),
    [
        ("Wish, strings, pad", "enter", [("pad", "lower")]),  # a keyboard plays one sound: find_sounds takes the first
        ("Wish, pad, organ, e-p", "1", [("organ", "lower"), ("e-piano", "upper")]),
    ],
)
def test_of_two_sounds_for_one_keyboard_the_last_counts(letters: str, key: str, sounds: list[tuple[str, str]]) -> None:
    chosen = key_typed(typed(letters, open_box(TITLES, OFFERED)), key, None)
    assert isinstance(chosen, Chosen)
    assert chosen.song == Song("Wish", sounds=tuple(SoundCall(*one) for one in sounds))


def test_a_digit_that_offers_nothing_is_typed() -> None:
    assert typed("Wish, xq2", open_box(TITLES, OFFERED)).typed == "Wish, xq2"
    assert typed(",2", open_box(TITLES, OFFERED)).typed == ",", "a song needs a title"


@pytest.mark.parametrize(("key", "text"), [("3", "#"), ("1", "!"), ("2", "@"), ("2", '"'), ("3", "£")])
@pytest.mark.parametrize("letters", ["gas", "Wish, F", "Wish, p"])
def test_a_sign_on_a_key_with_a_digit_is_typed_and_picks_nothing(letters: str, key: str, text: str) -> None:
    box = typed(letters, open_box([*TITLES, "Gasp"], OFFERED))
    after = key_typed(box, key, text)
    assert isinstance(after, CallBox)
    assert after.typed == f"{letters}{text}"


@pytest.mark.parametrize("key", ["keypad 2", "é"])  # the keys' names for the 2 of a keypad and of a French row
def test_a_digit_picks_whatever_key_types_it(key: str) -> None:
    assert key_typed(typed("gas"), key, "2") == key_typed(typed("gas"), "2", "2")


def test_the_sounds_that_the_show_uses_most_are_offered_first() -> None:
    book = book_of([song("A", "Intro @pad, Verse @lead, Solo @pad")], rig=rig_of("lower", "upper"))
    offered = [one.shown for one in sounds_on_offer(book)]
    assert offered[:3] == ["lower pad", "lower lead", "lower piano"]
    assert len(offered) == len(set(offered)) == 12


def test_a_keyboard_on_general_midi_offers_its_list_last() -> None:
    general = replace(rig_of("lower"), keyboards=(Keyboard("lower", general_midi=True, sounds=(Sound("growl", 0),)),))
    offered = [one.shown for one in sounds_on_offer(book_of([song("A")], rig=general))]
    assert offered[0] == "growl"
    assert "Accordion" in offered


@pytest.mark.parametrize("key", ["f5", "page down", "left", "tab", "insert", "?"])
def test_other_keys_change_nothing(key: str) -> None:
    assert key_typed(typed("gas"), key, None if len(key) > 1 else key) == typed("gas" if len(key) > 1 else "gas?")


def test_accents_case_and_spaces_are_ignored() -> None:
    assert without_accents("  Crêpe   PAPER ") == without_accents("crepe paper")


def test_an_empty_query_finds_nothing() -> None:
    assert by_likeness("zzzqqq", [without_accents(title) for title in TITLES]) == ()
