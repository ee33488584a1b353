"""Warn if letters and key cannot both be right: compare the chords' key by a published profile with the written one.

The profile is Krumhansl and Kessler's (see companion.music.key_finding), over the notes of all chords of a song, each
weighted by its length. It is a doubt, not a proof: a song may be written in its relative or parallel key.
"""

from collections.abc import Iterator
from typing import Final

from companion.errors import Fault
from companion.files import Places
from companion.music import Chord, Key, NotMusic, fifths_between
from companion.music.key_finding import find_key, fits_key
from companion.show.chords import chords_on
from companion.show.model import Song

# Chosen with the 50 progressions in tests/show/test_key_doubts.py: one false doubt (a pure chain of dominants); 35 of
# 50 found if the key is a half step off, 29 if it is a whole step off.
DOUBTFUL: Final = 0.3  # of correlation, between the best key and the written one
MIN_ROOTS: Final = 3  # two repeated chords fit several keys


def key_doubts(song: Song, places: Places) -> Iterator[Fault]:
    """Warn of a song whose letters are probably not in their assumed key."""
    written = song.chords_in or song.key
    if song.key is None or written is None:
        return
    if song.chords_in and song.chords_in.mode is not song.key.mode and fifths_between(song.chords_in, song.key):
        meant = song.chords_in.in_mode(song.key.mode)
        problem = f"chords_in is {song.chords_in} and key is {song.key}: only one of them is minor"
        yield places.fault(song, "chords_in", problem=problem, write=f"chords_in: {meant}, or another key")
        return
    sounding = _sounding(song, written)
    found = find_key(sounding)
    if found is None or found.fits - max(fits_key(sounding, one) for one in _near(written)) <= DOUBTFUL:
        return
    meant = Key.signed(found.key.sf, written.mode)
    key = "chords_in" if song.chords_in else "key"
    problem = f"the chords of {song.title} seem to be in {meant}, but are read in {written}"
    yield places.fault(song, key, problem=problem, write=f"chords_in: {meant}, or another key")


def _near(key: Key) -> tuple[Key, ...]:
    return key, key.relative, key.parallel


def _sounding(song: Song, home: Key) -> list[float]:
    """Return how long each of the twelve notes sounds in the song's letters, with every section in the song's key."""
    sounding = [0.0] * 12
    roots = set()
    for on in chords_on(song):
        try:
            line = on.line if on.is_own else None
        except NotMusic:
            continue
        if line is None or line.in_numbers or on.written is None:
            continue
        up = fifths_between(on.written, home) * 7
        for struck in (one for bar in line.played for one in bar.chords):
            if isinstance(struck.chord, Chord) and struck.chord.root:
                roots.add((struck.chord.root.semitone + up) % 12)
                for note in struck.chord.pitch_classes:
                    sounding[(note + up) % 12] += float(struck.beats)
    return sounding if len(roots) >= MIN_ROOTS else [0.0] * 12
