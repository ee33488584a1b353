"""Tonight's changes to songs that are not current: key, tapped tempo, left-out sections."""

import msgspec


class SongTonight(msgspec.Struct, frozen=True, gc=False):
    """One song, by its number in the book, as it was left: the fields of the state that belong to a song."""

    song: int
    shift: int = 0
    left_out: frozenset[int] = frozenset()
    taps_ms: tuple[int, ...] = ()


Tonight = tuple[SongTonight, ...]


def song_tonight(tonight: Tonight, song: int) -> SongTonight:
    """Return how this song was left; unchanged from the written song if nothing was changed in it."""
    return next((one for one in tonight if one.song == song), SongTonight(song))


def with_song_left(tonight: Tonight, left: SongTonight) -> Tonight:
    """Return these with this song as it is left now; the same object if nothing differs."""
    if song_tonight(tonight, left.song) == left:
        return tonight
    others = tuple(one for one in tonight if one.song != left.song)
    return others if left == SongTonight(left.song) else (*others, left)
