"""A song called from the floor by a few letters."""

import pytest

from companion.show import Song
from companion.stage.call_box import CallBox, Chosen, by_likeness, key_typed, open_box, without_accents

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


@pytest.mark.parametrize("key", ["f5", "page down", "left", "tab", "insert", "?"])
def test_other_keys_change_nothing(key: str) -> None:
    assert key_typed(typed("gas"), key, None if len(key) > 1 else key) == typed("gas" if len(key) > 1 else "gas?")


def test_the_typed_text_has_a_length_limit() -> None:
    assert len(typed("a" * 100).typed) == 60


def test_accents_case_and_spaces_are_ignored() -> None:
    assert without_accents("  Crêpe   PAPER ") == without_accents("crepe paper")


def test_an_empty_query_finds_nothing() -> None:
    assert by_likeness("zzzqqq", [without_accents(title) for title in TITLES]) == ()
