"""Which chords are on: the rule for sections that come again, and letters that follow the key."""

import itertools

import pytest
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from music21 import interval, key, pitch

from companion.music import Key, Mode, read_chord, read_key
from companion.show import Section, Song
from companion.show.chords import SectionChords, chords_on, has_letters, in_key, song_keys, with_bars, written_while_in

LETTERS = "A | D | E | A"


def song(*sections: Section, key: str | None = "A", **keys: str) -> Song:
    named = {name: read_key(written) for name, written in keys.items()}
    return Song("Moth", key=read_key(key) if key else None, road_map=sections, **named)  # type: ignore[arg-type]  # keys


def sounding(one: Song) -> list[str]:
    return [on.shown_in(on.sounds) or "" for on in chords_on(one)]


def in_hands(one: Song) -> list[str]:
    return [on.shown_in(on.hands) or "" for on in chords_on(one)]


def sections(*written: str) -> tuple[Section, ...]:
    """Read "Chorus 8 in E: A | D" as a section: its name, bars (- for none), key and chords."""
    found = []
    for one in written:
        head, _, chords = one.partition(":")
        words = head.split()
        bars = int(words[1]) if words[1] != "-" else None
        own = read_key(words[3]) if len(words) > 2 else None
        found.append(Section(words[0], bars, key=own, chords=chords.strip() or None))
    return tuple(found)


@pytest.mark.parametrize(
    ("written", "on"),
    [  # the rule as the design says it, by hand
        (("Verse 2: A | D", "Verse 2"), ["A | D", "A | D"]),
        (("Verse 2: A | D", "verse 2"), ["A | D", "A | D"]),
        (("Verse 2: A | D", "Chorus 1: E", "Verse 2"), ["A | D", "E", "A | D"]),
        (("Chorus 2: A | D", "Chorus 4: A | D | E | A", "Chorus 2"), ["A | D", LETTERS, "A | D"]),
        (("Chorus 2: A | D", "Chorus 4"), ["A | D", ""]),  # longer: nobody knows what the other two bars are
        (("Chorus 2", "Chorus 2: A | D"), ["", "A | D"]),  # what is written later is not yet known to be the same
        (("Chorus 2: A | D", "Chorus 2: E | A", "Chorus 2"), ["A | D", "E | A", "E | A"]),
        (("Chorus -: A | D", "Chorus 2"), ["A | D", "A | D"]),  # as many as its chords have
        (("Chorus 2: A | D", "Chorus -"), ["A | D", "A | D"]),  # nothing says that it is of another length
        (("Chorus 2: A | D", "Chorus 2 in B"), ["A | D", "B | E"]),
        (("Chorus 2 in B: B | E", "Chorus 2 in A"), ["B | E", "A | D"]),
        (("Chorus 2: 1 | 4", "Chorus 2 in B"), ["1 | 4", "1 | 4"]),
        (("Verse 2: A | D", "Bridge 1 in C: C", "Verse 2"), ["A | D", "C", "C | F"]),  # a key holds until the next
    ],
)
def test_a_section_has_its_own_chords_else_those_of_the_last_of_its_name_and_length(
    written: tuple[str, ...], on: list[str]
) -> None:
    assert sounding(song(*sections(*written))) == on


@pytest.mark.parametrize(
    ("keys", "sounds", "hands"),
    [  # by hand: a last chorus a tone higher than the first
        ({"key": "A"}, ["A | E", "B | F#"], ["A | E", "B | F#"]),
        ({"key": "G", "chords_in": "A"}, ["G | D", "A | E"], ["G | D", "A | E"]),
        ({"key": "Bb", "chords_in": "A"}, ["Bb | F", "C | G"], ["Bb | F", "C | G"]),
        ({"key": "A", "fingered_in": "C"}, ["A | E", "B | F#"], ["C | G", "D | A"]),
        ({"key": "G", "chords_in": "A", "fingered_in": "A"}, ["G | D", "A | E"], ["A | E", "B | F#"]),
        ({"key": "G", "chords_in": "A", "fingered_in": "E"}, ["G | D", "A | E"], ["E | B", "F# | C#"]),
        ({"key": "Gb", "chords_in": "A"}, ["Gb | Db", "Ab | Eb"], ["Gb | Db", "Ab | Eb"]),
    ],
)
def test_letters_belong_to_the_key_they_were_written_in(
    keys: dict[str, str], sounds: list[str], hands: list[str]
) -> None:
    higher = read_key(keys["key"]).transposed(2)
    one = song(Section("Chorus", 2, chords="A | E"), Section("Chorus", 2, key=higher), **keys)
    assert (sounding(one), in_hands(one)) == (sounds, hands)


@pytest.mark.parametrize(
    ("old", "new", "moved"),
    [  # by hand: the mode of a list is often left out, or the relative key is meant
        ("Am", "C", "Am | F | C | G"),
        ("Am", "A", "Am | F | C | G"),
        ("C", "Am", "Am | F | C | G"),
        ("Am", "Gm", "Gm | Eb | Bb | F"),
        ("Am", "F#m", "F#m | D | A | E"),
        ("D dorian", "C", "Am | F | C | G"),
    ],
)
def test_a_key_of_another_mode_moves_by_what_was_meant(old: str, new: str, moved: str) -> None:
    one = song(Section("Verse", 4, chords="Am | F | C | G"), key=old)
    assert sounding(in_key(one, read_key(new))) == [moved]


def test_hands_in_another_key_are_in_the_mode_of_each_section() -> None:
    """By hand: a song in Am whose chorus is in C, with the keyboard tuned a tone up."""
    one = song(*sections("Verse 1: Am", "Chorus 1 in C: C"), key="Am", fingered_in="Gm")
    assert [str(on.hands) for on in chords_on(one)] == ["Gm", "Bb"]
    assert in_hands(one) == ["Gm", "Bb"]


def test_a_section_s_key_moves_with_its_song() -> None:
    one = in_key(song(*sections("Verse 4: A | D | E | A", "Verse 4 in B")), read_key("G"))
    assert [str(section.key) for section in one.road_map] == ["None", "A"]
    assert sounding(one) == ["G | C | D | G", "A | D | E | A"]
    assert str(one.chords_in) == "A"


def test_numbers_need_no_key_that_they_were_written_in() -> None:
    assert in_key(song(Section("Verse", 2, chords="1 | N.C.")), read_key("G")).chords_in is None


def test_letters_without_a_key_stay_and_are_in_the_key_that_comes_first() -> None:
    one = song(Section("Verse", 4, chords=LETTERS), key=None)
    assert sounding(one) == [LETTERS]
    assert sounding(in_key(one, read_key("G"))) == [LETTERS]


@pytest.mark.parametrize(
    ("written", "bars"),
    [
        (("Verse -: A | D", "Verse -"), [2, 2]),
        (("Verse -: (A | D) x3",), [6]),
        (("Verse 8: A | D", "Verse -"), [8, 8]),  # what is written wins over what is counted
        (("Verse -", "Chorus -: xyz"), [None, None]),
    ],
)
def test_bars_that_are_not_written_are_counted_in_the_chords(written: tuple[str, ...], bars: list[int | None]) -> None:
    one = song(*sections(*written))
    assert [on.bars for on in chords_on(one)] == bars
    assert [section.bars for section in with_bars(one).road_map] == bars


def test_an_unreadable_line_is_not_reported_as_moved() -> None:
    (on,) = chords_on(song(Section("Verse", 1, chords="Hx"), key="G", chords_in="A"))
    assert (on.shown_in(on.sounds), on.shown_in(on.written)) == (None, "Hx")


KINDS = ("", "m", "7", "maj7", "m7b5", "dim7", "sus4", "/3")
EVERY_KEY = [Key.signed(sf, mode) for mode in (Mode.MAJOR, Mode.MINOR) for sf in range(-6, 7)]


@st.composite
def songs(draw: st.DrawFn) -> Song:
    """Make a song of diatonic chords, with sections in keys of their own."""
    home = draw(st.sampled_from(EVERY_KEY))
    road_map: list[Section] = []
    for name in draw(st.lists(st.sampled_from(("Verse", "Chorus", "Bridge")), min_size=1, max_size=6)):
        own = draw(st.none() | st.sampled_from([one for one in EVERY_KEY if one.mode is home.mode]))
        here = own or next((one.key for one in reversed(road_map) if one.key), home)
        roots = draw(st.lists(st.sampled_from(here.scale), min_size=2, max_size=3))
        chords = " | ".join(f"{root.plain}{draw(st.sampled_from(KINDS[:-1]))}" for root in roots)
        road_map.append(
            Section(name, draw(st.sampled_from((2, 3, None))), key=own, chords=draw(st.none() | st.just(chords)))
        )
    return Song("Moth", key=home, road_map=tuple(road_map))


def semitones(text: str | None) -> list[frozenset[int]]:
    return [read_chord(chord).pitch_classes for chord in text.split(" | ")] if text else []


@settings(deadline=None, max_examples=examples(150))
@given(songs(), st.integers(-11, 11))
def test_a_song_that_moves_by_some_semitones_moves_every_letter_by_them(one: Song, up: int) -> None:
    assert one.key
    there = in_key(one, one.key.transposed(up))
    for before, after in zip(sounding(one), sounding(there), strict=True):
        moved = [frozenset((note + up) % 12 for note in chord) for chord in semitones(before)]
        assert semitones(after) == moved
    for before_on, after_on in zip(chords_on(one), chords_on(there), strict=True):
        assert before_on.sounds
        assert after_on.sounds
        assert (after_on.sounds.tonic.semitone - before_on.sounds.tonic.semitone - up) % 12 == 0
    assert has_letters(one) is (there.chords_in is not None) or up % 12 == 0


@settings(deadline=None, max_examples=examples(100))
@given(songs(), st.integers(-11, 11), st.sampled_from((0, 1)))
def test_the_band_s_shift_is_the_same_as_the_song_in_that_key(one: Song, up: int, hands: int) -> None:
    assert one.key
    shifted = chords_on(one, song_keys(one, up, up * hands))
    there = chords_on(in_key(one, one.key.transposed(up)))
    assert all(itertools.starmap(are_the_same, zip(shifted, there, strict=True)))
    stays = chords_on(one)
    assert [semitones(on.shown_in(on.hands)) for on in shifted] == [
        semitones(on.shown_in(on.hands)) for on in (there if hands else stays)
    ]


def are_the_same(one: SectionChords, other: SectionChords) -> bool:
    """Whether both show one text; in a key of six flats or six sharps, either of its two names will do."""
    shown, expected = one.shown_in(one.sounds), other.shown_in(other.sounds)
    either = one.sounds is not None and abs(one.sounds.sf) == 6
    return shown == expected or (either and semitones(shown) == semitones(expected))


@settings(deadline=None, max_examples=examples(100))
@given(songs(), st.sampled_from(EVERY_KEY))
def test_moved_and_moved_back_is_as_it_was(one: Song, new: Key) -> None:
    assert one.key
    there = in_key(one, in_mode(new, one.key))
    again = written_while_in(replace(there, key=one.key), there.key or one.key)
    assert [semitones(text) for text in sounding(again)] == [semitones(text) for text in sounding(one)]


def in_mode(one: Key, other: Key) -> Key:
    return Key.signed(one.sf, other.mode)


def as_music21(one: str) -> str:
    return one.replace("b", "-")


MOVES = list(itertools.permutations([Key.signed(sf) for sf in range(-6, 6)], 2))


@pytest.mark.parametrize(("old", "new"), MOVES, ids=str)
def test_every_triad_of_the_scale_is_spelled_as_music21_spells_it_in_the_new_key(old: Key, new: Key) -> None:
    """music21 10: a scale's triads, moved by the interval between the tonics, keep the letters of the new scale."""
    theirs = key.Key(as_music21(str(new.tonic)))
    roots = [theirs.pitchFromDegree(degree).name for degree in range(1, 8)]
    ours = " | ".join(f"{root}{kind}" for root, kind in zip(old.scale, ("", "m", "m", "", "", "m", "dim"), strict=True))
    one = song(Section("Verse", 7, chords=ours), key=str(new), chords_in=str(old))
    (shown,) = sounding(one)
    assert [as_music21(str(read_chord(chord).root)) for chord in shown.split(" | ")] == roots
    up = interval.Interval(pitch.Pitch(as_music21(str(old.tonic))), pitch.Pitch(as_music21(str(new.tonic))))
    moved = [up.transposePitch(pitch.Pitch(as_music21(str(root)))).pitchClass for root in old.scale]
    assert [read_chord(chord).root.semitone for chord in shown.split(" | ")] == moved  # type: ignore[union-attr]
