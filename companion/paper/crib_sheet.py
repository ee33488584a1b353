"""The crib sheet: the whole show on a page or two, two lines a song, for the last look before it begins."""

import math
from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from companion.music import NotMusic
from companion.paper.bar_row import pieces
from companion.paper.leaves import Leaf, Paper, PaperInk
from companion.paper.paper_fonts import width_pt, wrapped
from companion.paper.pen import LEADING, LeafPen, StyledWord
from companion.paper.words_of import (
    SongNumbers,
    ending_words,
    feature_words,
    hands_words,
    key_words,
    keys_words,
    note_words,
    song_numbers,
    sound_words,
    tempo_words,
)
from companion.show import Show, Song, chords_on, song_keys
from companion.show.chords import written_elsewhere

SONGS_A_PAGE: Final = 30
SIZES: Final = (12.0, 11.5, 11.0, 10.5, 10.0, 9.5, 9.0)
SMALL_SIZES: Final = (8.5, 8.0, 7.5, 7.0)  # letters on a full page, with one line of each kind
WHOLE: Final = 99  # no limit on lines
HEAD_PT: Final = 18.0
SET_PT: Final = 12.0
FOOT_PT: Final = 8.0
LEAST_KEY_PT: Final = 44.0  # the column of the keys
MAX_KEY_PT: Final = 110.0
TITLE: Final = 1.1  # share of the size
MAX_TITLE_PT: Final = 210.0
PAD: Final = 0.5  # share of the size: the smallest gap between two songs
WIDEST_GAP: Final = 1.2  # same: most spare room added between songs


class _Numbered(NamedTuple):
    """A song with its number in the show; ``opens`` is true for the first song of a set."""

    set_name: str
    number: int
    song: Song
    opens: bool


def crib_leaves(show: Show, paper: Paper, numbers: SongNumbers = ()) -> list[Leaf]:
    """Lay the show out, at most thirty songs a page, spread evenly over the pages.

    ``numbers``: those of these songs in the whole show, if this is only a part of it.
    """
    songs = [
        _Numbered(one.name, number, song, number == numbered[0])
        for one, numbered in zip(show.sets, numbers or song_numbers(show), strict=True)
        for number, song in zip(numbered, one.songs, strict=True)
    ]
    pages = max(1, math.ceil(len(songs) / SONGS_A_PAGE))
    each = math.ceil(len(songs) / pages)
    leaves: list[Leaf] = []
    for page in range(pages):
        here = songs[page * each : (page + 1) * each]
        pen = LeafPen(paper)
        part = f", {page + 1} of {pages}" if pages > 1 else ""
        pen.write(pen.left, pen.top + 9, f"{show.title}{part}", 11, room=pen.right - pen.left)
        y = pen.top + HEAD_PT
        if not here:
            pen.write(pen.left, y + 14, "no songs yet", 11, PaperInk.PENCIL)
        heads = sum(one.opens or place == 0 for place, one in enumerate(here))
        _songs(pen, here, y, pen.bottom - FOOT_PT - y - heads * SET_PT)
        leaves.append(pen.leaf("Crib sheet" if page == 0 else ""))
    return leaves


def _songs(pen: LeafPen, songs: Sequence[_Numbered], y: float, room: float) -> None:
    """Write a page's songs in the largest letters that fit; if the text is too long, only its first lines."""
    size, lines = _fitting(songs, room, pen.paper)
    column = _column(songs, size)
    used = sum(_song(LeafPen(pen.paper), one.song, one.number, 0.0, size, lines, column) for one in songs)
    gap = max(0.0, min(WIDEST_GAP * size, (room - used) / max(1, len(songs))))
    for place, one in enumerate(songs):
        if one.opens or place == 0:
            pen.write(pen.left, y + 9, one.set_name, 9, PaperInk.PENCIL, 200)
            pen.line(pen.left, y + SET_PT - 0.5, pen.right, y + SET_PT - 0.5, 0.8, PaperInk.PENCIL)
            y += SET_PT
        y = _song(pen, one.song, one.number, y, size, lines, column) + gap


def _fitting(songs: Sequence[_Numbered], room: float, paper: Paper) -> tuple[float, int]:
    """Return the letters' size, and the most lines for each of the two kinds of text."""
    tries = [(size, lines) for lines in (WHOLE, 2, 1) for size in SIZES] + [(size, 1) for size in SMALL_SIZES]
    for size, lines in tries:
        column = _column(songs, size)
        if room >= sum(_song(LeafPen(paper), one.song, one.number, 0.0, size, lines, column) for one in songs):
            return size, lines
    return tries[-1]


def _column(songs: Sequence[_Numbered], size: float) -> float:
    widest = max((width_pt(keys_words(one.song), size * TITLE) for one in songs), default=0.0)
    return min(MAX_KEY_PT, max(LEAST_KEY_PT, widest + 12))


def _song(pen: LeafPen, song: Song, number: int, y: float, size: float, lines: int, column: float) -> float:
    """Write a song whose top is ``y``, its keys in a column of this width; return the top of the next song."""
    y += size * 1.15
    x, title = pen.left + 18 + column, size * TITLE
    pen.write_left_of(pen.left + 13, y, str(number), size * 0.85, PaperInk.PENCIL)
    keys = keys_words(song)
    pen.squeezed(pen.left + 18, y, keys, title, min(1.0, (column - 6) / width_pt(keys, title)))
    end = x
    for nth, line in enumerate(wrapped(song.title, title, pen.right - x if lines > 1 else MAX_TITLE_PT, lines)):
        y += title * LEADING if nth else 0.0
        end = pen.write(x, y, line, title)
    first, second = list(_first_line(song)), list(_second_line(song, all_of_it=lines > 1))
    below = pen.say(x, y, pen.right - x, first, size, lines, start=end + 12) if first else y + size * LEADING
    if second or lines == 1:
        below = pen.say(x, below, pen.right - x, second, size, lines) if second else below + size * LEADING
    return below - size * (1.15 - PAD)


def _first_line(song: Song) -> Iterator[StyledWord]:
    if song.tacet:
        yield "", "tacet", False
    if hands_words(song):
        yield "", hands_words(song), False
    if song.starts_with:
        yield "starts:", song.starts_with, False
    if song.count_off:
        yield "count:", song.count_off, False
    chord = first_chord(song)
    if chord:
        written = written_elsewhere(song, song_keys(song).hands)
        yield "first:", f"{chord} (the chords are written in {key_words(written)})" if written else chord, False
    if tempo_words(song):
        yield "", tempo_words(song), False


def _second_line(song: Song, *, all_of_it: bool) -> Iterator[StyledWord]:
    features = feature_words(song)[: None if all_of_it else 2]
    for words in features:
        yield "", words, True
    if ending_words(song):
        yield "ends:", ending_words(song), False
    if sound_words(song) and not song.tacet:
        yield "", sound_words(song), False
    notes = note_words(song, features) if all_of_it else ""
    if notes:
        yield "", notes, False


def first_chord(song: Song) -> str:
    """Return a song's first chord as the hands play it, in letters if its key is known; empty if there is none.

    An unreadable chord line is left out: the check and the chart report it.
    """
    on = next((on for on in chords_on(song) if on.text), None)
    try:
        line = on.line_in(on.hands) if on else None
    except NotMusic:
        return ""
    chord = next((one.chord for bar in line.played for one in bar.chords), None) if line else None
    return "".join(text for text, _part, _up in pieces(chord)) if chord else ""
