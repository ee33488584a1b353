"""Letters and key that cannot both be right: the chords' own key by a published profile, beside the written one.

The profile is that of Krumhansl and Kessler (see companion.music.key_finding), over the notes of all chords of a song,
each as long as it lasts. It is a doubt and no proof: a song may be written in its relative or parallel key.
"""

from collections.abc import Iterator
from typing import Final

from companion.errors import Fault
from companion.files import Places
from companion.music import Chord, Key, NotMusic, fifths_between
from companion.music.key_finding import find_key, fits_key
from companion.show.chords import chords_on
from companion.show.model import Song

# Chosen by the 50 turns of harmony in tests/show/test_key_doubts.py: a doubt at one of them in its own key (a chain of
# dominants alone), at 35 of 50 where the key is a half step off, at 29 where it is a whole step.
DOUBTFUL: Final = 0.3  # of the correlation, between the best key and the written one
MIN_ROOTS: Final = 3  # two chords that go round are at home in several keys


def key_doubts(song: Song, places: Places) -> Iterator[Fault]:
    """Tell of a song whose letters are probably not in the key that they are taken for."""
    written = song.chords_in or song.key
    if song.key is None or written is None:
        return
    if song.chords_in and song.chords_in.mode is not song.key.mode and fifths_between(song.chords_in, song.key):
        meant = song.chords_in.in_mode(song.key.mode)
        problem = f"chords_in is {song.chords_in} and key is {song.key}: one is minor, the other is not"
        yield places.fault(song, "chords_in", problem=problem, write=f"chords_in: {meant}, or another key")
        return
    sounding = _sounding(song, written)
    found = find_key(sounding)
    if found is None or found.fits - max(fits_key(sounding, one) for one in _near(written)) <= DOUBTFUL:
        return
    meant = Key.signed(found.key.sf, written.mode)
    key = "chords_in" if song.chords_in else "key"
    problem = f"the chords of {song.title} seem to be in {meant}, and are taken to be in {written}"
    yield places.fault(song, key, problem=problem, write=f"chords_in: {meant}, or another key")


def _near(key: Key) -> tuple[Key, ...]:
    return key, key.relative, key.parallel


def _sounding(song: Song, home: Key) -> list[float]:
    """Return how long each of the twelve notes sounds in the song's letters, as if every section were in its key."""
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
