"""Keys, meters and parts beside music21: signatures, scales, moves; each disagreement is settled by a named rule."""

import functools
import random
from collections import Counter

import pytest
from music.strategies import EVERY_KEY
from music21 import instrument, key, meter, pitch, tempo

from companion.music import PART_OF_INSTRUMENT, Key, Mode, PartPitch, Pitch, bar_seconds, read_meter, written_key

DRAWS = pytest.mark.parametrize("draws", [250, pytest.param(10_000, marks=pytest.mark.long)])
"""A part of them in the default run; music21 takes some milliseconds for each."""
THIRTY_KEYS = [one for one in EVERY_KEY if one.mode in (Mode.MAJOR, Mode.MINOR)]


def in_music21(one: Pitch) -> str:
    return str(one).replace("b", "-")


@functools.cache
def their_key(one: Key) -> key.Key:
    return key.Key(in_music21(one.tonic), one.mode.value)


@pytest.mark.parametrize("ours", EVERY_KEY, ids=str)
def test_every_keys_signature_and_scale_agree_with_music21(ours: Key) -> None:
    theirs = their_key(ours)
    assert ours.sf == theirs.sharps
    assert [in_music21(pitch) for pitch in ours.scale] == [pitch.name for pitch in theirs.pitches[:7]]
    if ours.mode in (Mode.MAJOR, Mode.MINOR):
        assert their_key(ours.relative) == theirs.relative


# Where music21 writes another name of the same sound, and the rule that settles it.
FEWEST = "at most six signs: told an interval by name, music21 keeps its letters and writes seven and more"
SIDE = "six flats against six sharps: the side of the song, where it has one, else flats"


def rule_for(ours: Key, theirs: key.Key, old: Key) -> str:
    """Name the rule by which ours differs from theirs; fail if there is none."""
    if ours.sf == theirs.sharps:
        return "the same key"
    assert (ours.sf - theirs.sharps) % 12 == 0
    if abs(theirs.sharps) > 6:
        return FEWEST
    assert (abs(ours.sf), abs(theirs.sharps)) == (6, 6)
    assert ours.sf * old.sf > 0 or (old.sf == 0 and ours.sf < 0)
    return SIDE


@DRAWS
def test_random_moves_agree_with_music21_except_in_ties(draws: int) -> None:
    chance = random.Random(5)  # noqa: S311 - the same moves each time
    told: Counter[str] = Counter()
    for _ in range(draws):
        old, semitones = chance.choice(THIRTY_KEYS), chance.choice([*range(-11, 0), *range(1, 12)])
        new = old.transposed(semitones)
        theirs = their_move(old, semitones)
        assert theirs.tonic.pitchClass == new.tonic.semitone
        told[rule_for(new, theirs, old)] += 1
    assert set(told) == {"the same key", SIDE}
    assert told["the same key"] > 0.9 * draws


@functools.cache
def their_move(old: Key, semitones: int) -> key.Key:
    return their_key(old).transpose(semitones)


@pytest.mark.parametrize(
    ("name", "theirs"),
    [
        ("trumpet", instrument.Trumpet),
        ("clarinet", instrument.Clarinet),
        ("soprano sax", instrument.SopranoSaxophone),
        ("tenor sax", instrument.TenorSaxophone),
        ("alto sax", instrument.AltoSaxophone),
        ("baritone sax", instrument.BaritoneSaxophone),
        ("horn", instrument.Horn),
        ("English horn", instrument.EnglishHorn),
        ("guitar", instrument.Guitar),
        ("bass guitar", instrument.ElectricBass),
        ("trombone", instrument.Trombone),
        ("tuba", instrument.Tuba),
        ("flute", instrument.Flute),
        ("violin", instrument.Violin),
        ("cello", instrument.Violoncello),
    ],
)
def test_an_instruments_part_sounds_in_concert_key_by_music21s_transposition(
    name: str, theirs: type[instrument.Instrument]
) -> None:
    sounding = theirs().transposition  # from written to concert; octaves do not matter for a key
    for concert in THIRTY_KEYS:
        written = pitch.Pitch(in_music21(written_key(concert, PART_OF_INSTRUMENT[name]).tonic))
        sounds = written.transpose(sounding) if sounding else written
        assert sounds is not None
        assert sounds.pitchClass == concert.tonic.semitone


@pytest.mark.parametrize("part", [PartPitch.BB, PartPitch.EB, PartPitch.F])
def test_the_key_of_a_part_agrees_with_music21_or_has_fewer_signs(part: PartPitch) -> None:
    up = {PartPitch.BB: "M2", PartPitch.EB: "M6", PartPitch.F: "P5"}[part]
    for concert in EVERY_KEY:
        theirs = their_key(concert).transpose(up)
        rule_for(written_key(concert, part), theirs, concert)


METERS = "4/4 3/4 2/4 5/4 6/4 2/2 3/2 6/8 9/8 12/8 5/8 7/8 12/16"


@pytest.mark.parametrize("text", METERS.split())
def test_a_bar_is_as_long_as_in_music21(text: str) -> None:
    ours, theirs = read_meter(text), meter.TimeSignature(text)
    assert float(ours.whole_notes) * 4 == theirs.barDuration.quarterLength
    counted = tempo.MetronomeMark(number=112, referent=float(ours.felt_beat) * 4)
    seconds = counted.durationToSeconds(theirs.barDuration)
    assert bar_seconds(ours, 112) == pytest.approx(seconds)
    if text not in FELT_OTHERWISE:
        assert float(ours.felt_beat) * 4 == theirs.beatDuration.quarterLength


# music21 feels 6/4 in two dotted halves and 5/8, 7/8 in unequal beats. Rule: a tempo counts quarters there (common
# practice in popular music), as the published table of song lengths does for 7/8.
FELT_OTHERWISE = ("6/4", "5/8", "7/8")
