"""Keys, tempos, sounds and features as they are worded on every sheet."""

import itertools
import re
from collections.abc import Sequence
from typing import Final

from companion.music import Key, Meter, shown_length
from companion.paper.pen import SHARPS
from companion.show import Set, Show, Song, chords_on, song_keys
from companion.show.date_words import time_of_day
from companion.show.features import features_of

_ENDED: Final = re.compile(r"([.,:!?…]); ")  # such a note is parted from the next one already
_SIGNS: Final = re.compile(r"[^\w#]+")
MAX_KEYS: Final = 4  # most that fit on a list
SongNumbers = tuple[tuple[int, ...], ...]
"""The numbers of a show's songs, set by set."""


def song_numbers(show: Show) -> SongNumbers:
    """Return the numbers by which the message to the leader and the paper name the songs: from 1, over all sets."""
    counted = itertools.count(1)
    return tuple(tuple(next(counted) for _ in one.songs) for one in show.sets)


def key_words(key: Key | None) -> str:
    """Return a key with printed accidentals: B♭, F♯m, D dorian; a blank line to write on where it is not known."""
    if key is None:
        return "__"
    tonic, rest = str(key.tonic).translate(SHARPS), str(key)[len(str(key.tonic)) :]
    return tonic + rest


def keys_words(song: Song) -> str:
    """Return a song's keys in playing order: E♭→F; a blank line to write on where none is known."""
    return _in_sequence([on.sounds for on in chords_on(song)])


def hands_words(song: Song) -> str:
    """Return the keys that the hands play in, if they differ from those that sound."""
    hands = song_keys(song).hands or song.fingered_in
    if not song.fingered_in or hands == song.key:
        return ""
    keys = [on.hands for on in chords_on(song)] if song.key else [hands]
    return f"play {_in_sequence(keys)}"


def _in_sequence(keys: Sequence[Key | None]) -> str:
    names = [key_words(key) for key, _same in itertools.groupby(keys)]
    return "→".join(names if len(names) <= MAX_KEYS else [*names[: MAX_KEYS - 1], "…", names[-1]])


def tempo_words(song: Song) -> str:
    """Return tempo, and the meter if it is not 4/4: ♩ = 112."""
    meter = song.meter or Meter(4, 4)
    note = "♩." if meter.is_compound else "♩" if meter.unit >= 4 else "half"
    tempo = f"{note} = {song.tempo_bpm:g}" if song.tempo_bpm else ""
    return ", ".join(word for word in (tempo, str(meter) if song.meter and meter != Meter(4, 4) else "") if word)


def sound_words(song: Song) -> str:
    """Return the distinct sounds of a song, in order of first use."""
    calls = [call.sound for call in song.sounds]
    parts = [call.sound for section in song.road_map for call in section.sounds]
    first = next((section for section in song.road_map if not section.tacet), None)
    begins = [call.sound for call in first.sounds] if first else []
    return ", ".join(dict.fromkeys([*begins, *calls, *parts]))


def feature_words(song: Song) -> list[str]:
    """Return the features of a song, each with its section, and each once."""
    return _each_once([str(feature) for feature in features_of(song)])


def note_words(song: Song, shown: Sequence[str] = ()) -> str:
    r"""Return the notes in one line, each parted from the next, without what is shown already.

    A song without a road map has its features in its notes.

    >>> note_words(Song("Moth", notes="ending: long one\nwatch Tams; no solo\nNot too fast!\nsmile"))
    'ending: long one; watch Tams; no solo; Not too fast! smile'
    """
    clauses = [
        clause for clause in re.split(r"[;\n]", song.notes or "") if clause.strip() and not _is_shown(clause, shown)
    ]
    joined = "; ".join(clause.strip() for clause in clauses)
    return " ".join(_ENDED.sub(r"\1", joined).split())


def _each_once(features: Sequence[str]) -> list[str]:
    """Return the features without those that another one says more of.

    >>> _each_once(["piano solo!!", "piano solo 16", "the keys start"])
    ['piano solo 16', 'the keys start']
    """
    return [
        words
        for at, words in enumerate(features)
        if not _is_shown(words, features[:at])
        and not any(_bare(words) != _bare(other) and _is_shown(words, [other]) for other in features[at + 1 :])
    ]


def _is_shown(words: str, shown: Sequence[str]) -> bool:
    return any(f" {_bare(words)} " in f" {_bare(one)} " for one in shown)


def _bare(words: str) -> str:
    return " ".join(_SIGNS.sub(" ", words.casefold()).split())


def ending_words(song: Song) -> str:
    """Return how the song ends, and what follows without a break."""
    if song.segue:
        return f"→ {song.segue}"
    return song.ending.value if song.ending else ""


def set_words(one: Set) -> str:
    """Return a set's start time and planned length."""
    starts = time_of_day(one.starts_min) if one.starts_min is not None else ""
    minutes = f"{one.minutes} min" if one.minutes else ""
    return " · ".join(word for word in (starts, minutes) if word)


def length_words(song: Song) -> str:
    """Return a song's length as printed."""
    return shown_length(song.length_s) if song.length_s else ""
