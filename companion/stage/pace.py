"""The pace of the set: when it will end, how far over time, and which songs to drop to end on time. Pure.

A song's planned length is its own, else its bars at its tempo, else four minutes; half a minute separates two songs.
(Common practice, no source.)
"""

import itertools
from collections.abc import Callable, Sequence

import msgspec

from companion.music import Meter, song_seconds
from companion.show import Song
from companion.stage.place import PositionKind
from companion.stage.state import State

UNKNOWN_LENGTH_S = 240
GAP_S = 30
MAX_TRIED = 4  # largest set of songs for which every choice is tried; beyond it, only the longest songs
DAY_S = 24 * 3600


class Pace(msgspec.Struct, frozen=True):
    """When the set will end, in seconds since midnight (past 24:00 after midnight), and by how much that is late.

    ``over_s`` is negative if there is time left, None if the set has no planned end.
    """

    ends_s: int
    over_s: int | None


def length_s(song: Song) -> int:
    """Return a song's planned length, in seconds."""
    if song.length_s is not None:
        return song.length_s
    bars = [section.bars for section in song.road_map]
    if song.tempo_bpm is None or not bars or None in bars:
        return UNKNOWN_LENGTH_S
    played = sum((section.bars or 0) * section.passes for section in song.road_map)
    return round(song_seconds(played, song.meter or Meter(4, 4), song.tempo_bpm))


def pace(state: State, now_s: int, set_began_s: int | None, length_of: Callable[[Song], int] = length_s) -> Pace | None:
    """Return when this set will end; None outside a set. Times in seconds since midnight.

    The planned end is the written start plus the written minutes; without a written start, the minutes count from the
    real start. ``length_of`` may cache the results of ``length_s``.
    """
    if state.song is None:
        return None
    left_s = _left_of_song(state, length_of) + sum(GAP_S + length_of(song) for song in _later(state))
    ends_s = now_s + left_s
    one = state.book.show.sets[state.place.set]
    began_s = one.starts_min * 60 if one.starts_min is not None else set_began_s
    if one.minutes is None or began_s is None:
        return Pace(ends_s, None)
    over_s = (ends_s - began_s - one.minutes * 60 + DAY_S // 2) % DAY_S - DAY_S // 2
    return Pace(ends_s, over_s)


class SongsToDrop(msgspec.Struct, frozen=True):
    """The songs to drop, the best cut first. ``over_s``: how far over time the set still is without them."""

    songs: tuple[str, ...] = ()
    over_s: int = 0


def to_drop(state: State, over_s: int) -> SongsToDrop:
    """Return the songs to drop so that the set ends on time: as few as possible, the best cut first.

    The closer and the song playing or up next always stay. Songs with a feature go only if the others are not enough.
    Among choices of equally many songs, one without a feature wins, then the one that loses the least music. The best
    cut has no feature and saves the most time. If dropping all of them is not enough, it is all of them.
    """
    candidates = _later(state)[:-1]
    plain = [song for song in candidates if not _has_feature(song)]
    chosen = next((found for pool in (plain, candidates) if (found := _fewest(pool, over_s)) is not None), candidates)
    best_first = sorted(chosen, key=lambda song: (_has_feature(song), -length_s(song)))
    return SongsToDrop(tuple(song.title for song in best_first), max(0, over_s - _saved(chosen)))


def is_last(state: State) -> bool:
    """Return whether no song of this set follows the one that is playing or up next."""
    return not _later(state)


def _fewest(pool: Sequence[Song], over_s: int) -> Sequence[Song] | None:
    """Return the fewest songs that save this many seconds; among equals, those that save the least beyond it."""
    saves = sorted((GAP_S + length_s(song) for song in pool), reverse=True)
    count = next((n for n in range(1, len(saves) + 1) if sum(saves[:n]) >= over_s), None)
    if count is None:
        return None
    if count > MAX_TRIED:
        longest = sorted(pool, key=length_s, reverse=True)[:count]
        return [song for song in pool if song in longest]
    enough = (choice for choice in itertools.combinations(pool, count) if _saved(choice) >= over_s)
    return min(enough, key=_saved)


def _saved(songs: Sequence[Song]) -> int:
    return sum(GAP_S + length_s(song) for song in songs)


def _has_feature(song: Song) -> bool:
    return any(section.feature for section in song.road_map)


def _later(state: State) -> tuple[Song, ...]:
    """Return the songs of this set after the one that is playing or up next."""
    return tuple(state.book.songs[number].song for number in state.order[state.place.set][state.place.at + 1 :])


def _left_of_song(state: State, length_of: Callable[[Song], int]) -> int:
    """Return the seconds left of the song, by its written sections; its whole length while it is up next."""
    song = state.song
    if song is None:
        return 0
    whole = length_of(song.song)
    if state.place.where is not PositionKind.PLAYING:
        return whole
    bars = [(one.section.bars or 1) * one.section.passes for one in song.sections]
    return round(whole * sum(bars[state.place.section :]) / sum(bars))
