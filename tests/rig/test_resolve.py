"""Which keyboard and which sound a name means."""

from typing import NamedTuple

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.rig import Keyboard, Rig, Sound, SoundMissing, find_sound, find_sounds, keyboard_number, sounds_offered
from companion.rig.general_midi import USUAL, program_named


class Asked(NamedTuple):
    sound: str
    keyboard: str | None = None


PIANO, ORGAN, LEAD, STRINGS = (
    Sound("grand piano", program=0),
    Sound("Tonewheel Organ", program=16),
    Sound("synth lead", program=81),
    Sound("strings", program=5),
)
TWO_TIERS = Rig(
    "Home, two tiers",
    keyboards=(
        Keyboard("lower", sounds=(PIANO, STRINGS)),
        Keyboard("upper", sounds=(ORGAN, LEAD, Sound("strings", program=48))),
    ),
)
ONE_BOARD = Rig(
    "Hired", keyboards=(Keyboard("board", stands_for=("Upper", "lower"), sounds=(PIANO, ORGAN, LEAD, STRINGS)),)
)


@pytest.mark.parametrize(
    ("name", "keyboard", "expected"),
    [
        ("grand piano", None, (0, PIANO)),
        ("GRAND  piano ", None, (0, PIANO)),
        ("tonewheel organ", None, (1, ORGAN)),
        ("strings", None, (0, STRINGS)),  # "a bare name goes to the first keyboard in the rig that has it"
        ("strings", "upper", (1, Sound("strings", program=48))),
        ("strings", " LOWER", (0, STRINGS)),
    ],
)
def test_a_sound_goes_to_the_named_keyboard_or_else_the_first_that_has_it(
    name: str, keyboard: str | None, expected: tuple[int, Sound]
) -> None:
    assert find_sound(TWO_TIERS, name, keyboard) == expected


@pytest.mark.parametrize("keyboard", ["upper", "lower", "board", None])
def test_one_keyboard_stands_in_for_missing_ones(keyboard: str | None) -> None:
    assert find_sound(ONE_BOARD, "synth lead", keyboard) == (0, LEAD)


@pytest.mark.parametrize(
    ("name", "keyboard", "problem", "write", "nearest"),
    [
        (
            "lead",
            None,
            'the rig "Home, two tiers" has no sound "lead"',
            "synth lead, or add lead to the sounds of lower",
            "synth lead",
        ),
        (
            "grand pinao",
            "lower",
            'the rig "Home, two tiers" has no sound "grand pinao" on "lower"',
            "grand piano, or add grand pinao to the sounds of lower",
            "grand piano",
        ),
        ("kazoo", None, 'the rig "Home, two tiers" has no sound "kazoo"', "add kazoo to the sounds of lower", ""),
        (
            "grand piano",
            "uper",
            'the rig "Home, two tiers" has no keyboard "uper"',
            "upper, or stands_for: [uper] under the keyboard that replaces it",
            "upper",
        ),
    ],
)
def test_a_missing_sound_is_reported_with_the_nearest_one(
    name: str, keyboard: str | None, problem: str, write: str, nearest: str
) -> None:
    assert find_sound(TWO_TIERS, name, keyboard) == SoundMissing(problem, write, nearest)


GENERAL = Rig("General", keyboards=(Keyboard("board", general_midi=True),))


@pytest.mark.parametrize(
    ("rig", "name", "nearest"),
    [
        (TWO_TIERS, "arp", "synth lead"),  # by what it is, not by its letters: a harp is another sound
        (TWO_TIERS, "pluck", "synth lead"),
        (TWO_TIERS, "organ", "Tonewheel Organ"),
        (TWO_TIERS, "violins", "strings"),
        (TWO_TIERS, "upright", "grand piano"),
        (TWO_TIERS, "tuba", ""),
        (GENERAL, "arp", "synth lead"),
        (GENERAL, "marimbo", "Marimba"),
        (GENERAL, "obe", ""),
    ],
)
def test_a_missing_sound_is_reported_with_one_of_its_kind(rig: Rig, name: str, nearest: str) -> None:
    found = find_sound(rig, name)
    assert isinstance(found, SoundMissing)
    assert found.nearest == nearest


def test_sounds_are_offered_where_one_is_first_written() -> None:
    assert sounds_offered(TWO_TIERS) == "grand piano, strings, Tonewheel Organ or synth lead"
    assert sounds_offered(GENERAL).startswith("grand piano, electric piano, tonewheel organ, strings, ")
    many = Rig("many", (Keyboard("board", sounds=tuple(Sound(f"pad {one}", one) for one in range(12))),))
    assert sounds_offered(many) == "pad 0, pad 1, pad 2, pad 3, pad 4, pad 5, pad 6, pad 7, pad 8 or pad 9"
    assert all(find_sound(GENERAL, name) == (0, Sound(name, program=program_named(name))) for name in USUAL)
    found = find_sound(GENERAL, "zither")
    assert isinstance(found, SoundMissing)
    assert found.write == f"{sounds_offered(GENERAL)}, or add zither to the sounds of board"


@pytest.mark.parametrize(
    ("name", "write"),
    [
        ("tonewheel organ watch drummer", 'watch drummer before "@Tonewheel Organ"'),
        ("synth lead (two fingers)", '(two fingers) before "@synth lead"'),
        ("synth lead in E", 'in E before "@synth lead"'),
        ("synth lead soft", "synth lead, or add synth lead soft to the sounds of lower"),
    ],
)
def test_a_phrase_after_a_sound_is_reported_with_its_proper_place(name: str, write: str) -> None:
    found = find_sound(TWO_TIERS, name)
    assert isinstance(found, SoundMissing)
    assert found.write == write


@pytest.mark.parametrize(
    ("name", "write"),
    [
        ("brass (all sing along)", '(all sing along) before "@brass"'),  # of the list
        ("organ watch drummer", 'watch drummer before "@organ"'),
        ("synth led (two fingers)", '(two fingers) before "@synth lead"'),  # with a slip besides
        ("Electric Guitar (jaz)", "Electric Guitar (jazz), or add Electric Guitar (jaz) to the sounds of board"),
        ("zither (quiet)", "add zither (quiet) to the sounds of board"),
    ],
)
def test_a_cue_after_a_sound_of_general_midi_is_reported_with_its_proper_place(name: str, write: str) -> None:
    found = find_sound(GENERAL, name)
    assert isinstance(found, SoundMissing)
    assert found.write.endswith(write)


def test_a_rig_without_keyboards_has_no_sounds() -> None:
    assert isinstance(find_sound(Rig("Empty"), "piano"), SoundMissing)
    assert isinstance(find_sound(Rig("Empty"), "piano", "upper"), SoundMissing)


def test_only_a_keyboard_marked_general_midi_uses_the_list() -> None:
    plain, marked = Keyboard("a", port="A"), Keyboard("b", port="B", general_midi=True)
    assert isinstance(find_sound(Rig("R", keyboards=(plain,)), "Church Organ"), SoundMissing)
    # General MIDI System Level 1, sound set: church organ is 20 counted from 1
    assert find_sound(Rig("R", keyboards=(plain, marked)), "church organ") == (1, Sound("church organ", program=19))
    assert isinstance(find_sound(Rig("R", keyboards=(plain, marked)), "church organ", "a"), SoundMissing)


def test_a_keyboards_own_sound_beats_the_general_midi_list() -> None:
    marked = Keyboard("a", port="A", general_midi=True)
    own = Keyboard("b", port="B", sounds=(Sound("strings", program=3),))
    assert find_sound(Rig("R", keyboards=(marked, own)), "strings") == (1, Sound("strings", program=3))
    assert find_sound(Rig("R", keyboards=(marked, own)), "strings", "a") == (0, Sound("strings", program=48))


def test_a_missing_general_midi_sound_is_reported_with_the_nearest_published_one() -> None:
    missing = find_sound(Rig("R", keyboards=(Keyboard("a", general_midi=True),)), "vibrafone")
    assert isinstance(missing, SoundMissing)
    assert missing.nearest == "Vibraphone"


def test_a_keyboards_own_name_beats_a_stand_in() -> None:
    rig = Rig("R", keyboards=(Keyboard("a", stands_for=("b",)), Keyboard("B", port="B")))
    assert keyboard_number(rig, "b") == 1
    assert keyboard_number(rig, "c") is None


@pytest.mark.parametrize(
    ("asked", "expected"),
    [
        ([Asked("grand piano", "lower"), Asked("synth lead", "upper")], LEAD),  # stands_for: upper first
        ([Asked("synth lead", "upper"), Asked("grand piano", "lower")], LEAD),
        ([Asked("synth lead", "upper"), Asked("grand piano", "board")], PIANO),  # its own name before all
        ([Asked("strings"), Asked("grand piano", "lower")], PIANO),  # a bare name comes last
        ([Asked("strings"), Asked("grand piano")], STRINGS),  # of equals, the first written
    ],
)
def test_two_tiers_fold_onto_one_keyboard_by_rule(asked: list[Asked], expected: Sound) -> None:
    assert find_sounds(ONE_BOARD, asked) == ((expected,), ())


def test_each_keyboard_gets_its_own_sound_and_missing_ones_are_reported() -> None:
    sounds, missing = find_sounds(
        TWO_TIERS, [Asked("synth lead", "upper"), Asked("kazoo"), Asked("grand piano", "lower")]
    )
    assert sounds == (PIANO, LEAD)
    assert [one.problem for one in missing] == ['the rig "Home, two tiers" has no sound "kazoo"']


@given(name=st.text(max_size=30), keyboard=st.none() | st.text(max_size=10), general_midi=st.booleans())
def test_any_name_is_a_sound_or_reported(name: str, keyboard: str | None, general_midi: bool) -> None:  # noqa: FBT001
    rig = Rig("R", keyboards=(Keyboard("lower", general_midi=general_midi, sounds=(PIANO, STRINGS)),))
    found = find_sound(rig, name, keyboard)
    if isinstance(found, SoundMissing):
        assert found.problem
        assert found.write
    else:
        assert found[0] == 0
