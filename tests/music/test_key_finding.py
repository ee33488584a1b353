"""The key by what sounds: the published profiles as music21 has them, its method on the same notes, and its corpus."""

import random
from typing import Any

import pytest
from music21 import analysis, corpus, note, stream

from companion.music import Mode
from companion.music.key_finding import PROFILES, FoundKey, find_key

CHORALES = 120
THEIRS: Any = analysis.discrete.KrumhanslKessler
CHORALES_OF_THEIRS: Any = corpus.chorales.Iterator


@pytest.mark.parametrize(("mode", "theirs"), [(Mode.MAJOR, "major"), (Mode.MINOR, "minor")])
def test_the_profiles_are_the_published_ones(mode: Mode, theirs: str) -> None:
    """Krumhansl and Kessler 1982, as music21 prints them."""
    assert list(PROFILES[mode]) == list(THEIRS().getWeights(theirs))


@pytest.mark.parametrize("mode", list(PROFILES))
@pytest.mark.parametrize("tonic", range(12))
def test_each_profile_is_closest_to_its_own_key(mode: Mode, tonic: int) -> None:
    found = find_key([PROFILES[mode][(pitch - tonic) % 12] for pitch in range(12)])
    assert found is not None
    assert (found.key.tonic.semitone, found.key.mode) == (tonic, mode)
    assert found.fits == pytest.approx(1)
    assert found.is_sure


def test_silence_and_an_even_spread_of_notes_have_no_key() -> None:
    assert find_key([0.0] * 12) is None
    assert find_key([3.0] * 12) is None


def test_a_close_result_names_both_keys() -> None:
    found = find_key([1, 0, 1, 0, 1, 0, 0, 1, 0, 1, 0, 0])  # C D E G A: C or Am
    assert found is not None
    assert not found.is_sure
    assert " or " in str(found)


def alike(found: FoundKey | None, theirs: Any) -> bool:  # noqa: ANN401 - a key of music21
    assert found is not None
    return (found.key.tonic.semitone, found.key.mode.value) == (theirs.tonic.pitchClass, theirs.mode)


def test_the_method_agrees_with_music21_on_the_same_notes() -> None:
    chance = random.Random(7)  # noqa: S311 - some music
    for _tune in range(40):
        heard: Any = stream.Stream()
        sounding = [0.0] * 12
        for _note in range(20):
            pitch, quarters = chance.randint(55, 79), chance.choice((0.5, 1.0, 2.0))
            heard.append(note.Note(pitch, quarterLength=quarters))
            sounding[pitch % 12] += quarters
        assert alike(find_key(sounding), THEIRS().getSolution(heard))


@pytest.mark.long
def test_on_chorales_the_key_is_found_as_often_as_by_music21(capsys: pytest.CaptureFixture[str]) -> None:
    ours = theirs = agreed = heard = 0
    for chorale in CHORALES_OF_THEIRS():
        signed = chorale.recurse().getElementsByClass("KeySignature").first()
        if signed is None:
            continue
        sounding = [0.0] * 12
        for one in chorale.recurse().notes:
            for pitch in one.pitches:
                sounding[pitch.pitchClass] += float(one.quarterLength)
        found = find_key(sounding)
        other = THEIRS().getSolution(chorale)
        assert found is not None
        signature = signed.sharps % 12  # F# and Gb are one key of the keyboard
        ours += found.key.sf % 12 == signature
        theirs += other.sharps % 12 == signature
        agreed += alike(found, other)
        heard += 1
        if heard == CHORALES:
            break
    with capsys.disabled():
        print(f"\n{heard} chorales: signature found {ours}, by music21 {theirs}; the same key as music21 {agreed}")  # noqa: T201 - the figures are asked for
    assert heard >= 100
    assert ours >= theirs
