"""The crib sheet: the whole show on a page or two, two lines a song, for the last look before it begins."""

import math
from collections.abc import Iterator
from typing import Final

from companion.music import NotMusic
from companion.paper.bars import pieces
from companion.paper.leaves import Ink, Leaf, Paper
from companion.paper.pen import Pen, Said
from companion.paper.words_of import ending_words, feature_words, hands_words, key_words, sound_words, tempo_words
from companion.show import Show, Song
from companion.show.chords import chords_on, song_keys, written_elsewhere

SONGS_A_PAGE: Final = 30
MOST_PITCH: Final = 32.0
HEAD_PT: Final = 18.0
SET_PT: Final = 12.0
FOOT_PT: Final = 8.0
KEY: Final = 52.0  # the column of the keys
FEWEST: Final = 8  # songs that a page is laid out for, so that few do not float


def crib_leaves(show: Show, paper: Paper) -> list[Leaf]:
    """Lay the show out, thirty songs a page, evenly over the pages that it takes."""
    songs = [(one.name, number, song) for one in show.sets for number, song in enumerate(one.songs, start=1)]
    pages = max(1, math.ceil(len(songs) / SONGS_A_PAGE))
    each = math.ceil(len(songs) / pages)
    leaves: list[Leaf] = []
    for page in range(pages):
        here = songs[page * each : (page + 1) * each]
        pen = Pen(paper)
        part = f", {page + 1} of {pages}" if pages > 1 else ""
        pen.write(pen.left, pen.top + 9, f"{show.title}{part}", 11, room=pen.right - pen.left)
        y = pen.top + HEAD_PT
        heads = sum(number == 1 or place == 0 for place, (_name, number, _song) in enumerate(here))
        room = pen.bottom - FOOT_PT - y - heads * SET_PT
        pitch = min(MOST_PITCH, room / max(len(here), FEWEST))
        if not here:
            pen.write(pen.left, y + 14, "no songs yet", 11, Ink.PENCIL)
        for place, (name, number, song) in enumerate(here):
            if number == 1 or place == 0:
                pen.write(pen.left, y + 9, name, 9, Ink.PENCIL, 200)
                pen.line(pen.left, y + SET_PT - 0.5, pen.right, y + SET_PT - 0.5, 0.8, Ink.PENCIL)
                y += SET_PT
            _song(pen, song, number, y, pitch)
            y += pitch
        leaves.append(pen.leaf("Crib sheet" if page == 0 else ""))
    return leaves


def _song(pen: Pen, song: Song, number: int, y: float, pitch: float) -> None:
    size = min(10.5, pitch * 0.4)
    first, second = y + pitch * 0.42, y + pitch * 0.86
    x = pen.left + 18 + KEY
    pen.write_left_of(pen.left + 13, first, str(number), size * 0.85, Ink.PENCIL)
    pen.write(pen.left + 18, first, key_words(song.key), size * 1.1, room=KEY - 2)
    end = pen.write(x, first, song.title, size * 1.1, room=200)
    pen.say(end + 12, first, pen.right - end - 12, list(_first_line(song)), size, lines=1)
    pen.say(x, second, pen.right - x, list(_second_line(song)), size, lines=1)


def _first_line(song: Song) -> Iterator[Said]:
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
        yield "first:", f"{chord}, written in {key_words(written)}" if written else chord, False
    if tempo_words(song):
        yield "", tempo_words(song), False


def _second_line(song: Song) -> Iterator[Said]:
    for words in feature_words(song)[:2]:
        yield "", words, True
    if ending_words(song):
        yield "ends:", ending_words(song), False
    if sound_words(song) and not song.tacet:
        yield "", sound_words(song), False


def first_chord(song: Song) -> str:
    """Return the first chord of a song as the hands play it, in letters where its key is known; empty where none is.

    A chord line that nobody can read is told by the check and by the chart; here it is left out.
    """
    on = next((on for on in chords_on(song) if on.text), None)
    try:
        line = on.line_in(on.hands) if on else None
    except NotMusic:
        return ""
    chord = next((one.chord for bar in line.played for one in bar.chords), None) if line else None
    return "".join(text for text, _part, _up in pieces(chord)) if chord else ""
