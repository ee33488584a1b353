"""The key as the hands need it, and who takes the band's shift upon themselves."""

import pytest
from msgspec.structs import replace
from view.test_view import CALM, RIG, VERSE, after, book_of, shown, song

from companion.music import read_key
from companion.rig import HowTransposed, Rig
from companion.show import Section, Set, Show
from companion.stage import KeyDown, KeyUp, Next, Surroundings, make_book
from companion.view import LineMark, LineRole, Looks, view

TUNED = Rig("test", (replace(RIG.keyboards[0], transpose=HowTransposed.MASTER_TUNING),))


@pytest.mark.parametrize(
    ("rig", "fingered_in", "told"),
    [
        # A keyboard that cannot be tuned leaves the hands to move: up a semitone from B flat is B
        (RIG, None, "hands move: play B"),
        (TUNED, None, "keyboard tuned: play B♭"),
        (RIG, "C", "hands move: play D♭"),
        (TUNED, "C", "keyboard tuned: play C"),
    ],
)
def test_tonights_shift_is_circled_and_shown_as_the_hands_need_it(rig: Rig, fingered_in: str | None, told: str) -> None:
    fingers = read_key(fingered_in) if fingered_in else None
    book, _ = make_book(
        Show("Pier", sets=(Set("First", songs=(song(VERSE, key=read_key("Bb"), fingered_in=fingers),)),)), rig
    )
    seen = view(after(book, Next, KeyUp), CALM)
    assert shown(seen, LineRole.KEY) == [told]
    assert [line.mark for line in seen.lines if line.part is LineRole.KEY] == [LineMark.CIRCLE]


@pytest.mark.parametrize(
    ("key", "steps", "told"),
    [
        ("Bb", (), "lift hands: play B♭, sounds B"),
        ("Bb", (Next,), "lift hands: play B♭"),
        (None, (), "lift hands: a half step up"),
        (None, (Next,), "lift hands: a half step up"),
    ],
)
def test_a_keyboard_that_is_tuned_only_when_the_hands_lift_is_not_called_tuned(
    key: str | None, steps: tuple[type[Next], ...], told: str
) -> None:
    book, _ = make_book(
        Show("Pier", sets=(Set("First", songs=(song(VERSE, key=read_key(key) if key else None),)),)), TUNED
    )
    seen = view(after(book, *steps, KeyUp), replace(CALM, tuning_waits=True))
    assert shown(seen, LineRole.KEY) == [told]


def test_a_key_change_under_a_shift_is_shown() -> None:
    road_map = (VERSE, Section("Chorus", key=read_key("C")), Section("Outro"))
    book = book_of(song(*road_map, key=read_key("Bb")))
    seen = [shown(view(after(book, KeyUp, *[Next] * steps), CALM), LineRole.KEY) for steps in (0, 1, 2, 3)]
    assert seen == [
        ["hands move: play B"],
        ["hands move: play B"],
        ["hands move: now play D♭"],
        ["hands move: play D♭"],
    ]


@pytest.mark.parametrize(
    ("rig", "keys", "told", "chords"),
    [  # by hand, from chords in C and D of a song that says no key
        (RIG, (KeyUp,), "hands move: a half step up", ["D♭ | G♭", "E♭"]),
        (RIG, (KeyDown, KeyDown), "hands move: 2 half steps down", ["B♭ | E♭", "C"]),
        (TUNED, (KeyUp,), "keyboard tuned: a half step up", ["C | F", "D"]),
    ],
)
def test_a_song_without_a_key_shows_the_shift_and_moves_its_letters(
    rig: Rig, keys: tuple[type[KeyUp | KeyDown], ...], told: str, chords: list[str]
) -> None:
    road_map = (Section("Verse", 2, chords="C | F"), Section("Chorus", 1, key=read_key("D"), chords="D"))
    book, _ = make_book(Show("Pier", sets=(Set("First", songs=(song(*road_map, key=None),)),)), rig)
    assert shown(view(after(book, *keys), CALM), LineRole.KEY) == [told]
    looks = Looks(chords=True)
    seen = [view(after(book, *keys, *[Next] * steps), CALM, looks) for steps in (1, 2)]
    assert shown(seen[0], LineRole.KEY) == [told]
    assert [line for one in seen for line in shown(one, LineRole.CHORDS)] == chords


def test_without_any_keyboard_seen_the_hands_move() -> None:
    """A player who only reads the screen beside a keyboard without MIDI: what it says is where the hands go."""
    road_map = (Section("Verse", 2, chords="C | F"),)
    book, _ = make_book(Show("Pier", sets=(Set("First", songs=(song(*road_map, key=read_key("C")),)),)), TUNED)
    state, looks = after(book, KeyUp, Next), Looks(chords=True)
    alone = Surroundings(dry_run="there is no MIDI output", never_there=True)
    seen = view(state, alone, looks)
    assert (shown(seen, LineRole.KEY), shown(seen, LineRole.CHORDS)) == (["hands move: play D♭"], ["D♭ | G♭"])
    pulled_out = view(state, Surroundings(dry_run="the cable is out"), looks)  # it keeps the tuning that it had
    assert (shown(pulled_out, LineRole.KEY), shown(pulled_out, LineRole.CHORDS)) == (
        ["keyboard tuned: play C"],
        ["C | F"],
    )
