"""The marked set list: one page a set, keys, sounds, notes, and the highlighter over what people listen for."""

from typing import Final

from companion.paper.leaves import Ink, Leaf, Paper
from companion.paper.pen import Pen, Said
from companion.paper.typeface import width_pt, wrapped
from companion.paper.words_of import (
    ending_words,
    feature_words,
    hands_words,
    key_words,
    length_words,
    set_words,
    sound_words,
    tempo_words,
)
from companion.show import Set, Show, Song

MOST_PITCH: Final = 60.0  # from song to song, in points
LEAST_PITCH: Final = 10.5  # below it a set takes a second page
TWO_LINES_FROM: Final = 23.0
TITLE_PT: Final = 19.0
LEAST_PT: Final = 7.0
NUMBER: Final = 26.0
FOOT_PT: Final = 10.0


def set_list_leaves(show: Show, paper: Paper) -> list[Leaf]:
    """Lay out each set."""
    leaves: list[Leaf] = []
    for number, one in enumerate(show.sets):
        first = 0
        while first < len(one.songs) or first == 0:
            pen = Pen(paper)
            y = _head(pen, show, one, with_notes=number == 0 and first == 0, goes_on=first > 0)
            room = pen.bottom - FOOT_PT - y
            left = len(one.songs) - first
            songs = one.songs[first : first + max(1, min(left, int(room / LEAST_PITCH)))]
            pitch = min(MOST_PITCH, room / max(1, len(songs)))
            for place, song in enumerate(songs):
                _song(pen, song, first + place + 1, y + place * pitch, pitch)
            leaves.append(pen.leaf(f"Set list: {one.name}" if first == 0 else ""))
            first += max(1, len(songs))
    return leaves


def _head(pen: Pen, show: Show, one: Set, *, with_notes: bool, goes_on: bool) -> float:
    y = pen.top + 20
    begin = pen.write_left_of(pen.right, y, set_words(one), 14)
    name = f"{one.name}, going on" if goes_on else one.name
    pen.write(pen.left, y, name, 24, room=begin - pen.left - 12)
    y += 15
    day = show.date.isoformat() if show.date else ""
    about = "  ·  ".join(word for word in (show.title, show.band, day, show.venue) if word)
    pen.write(pen.left, y, about, 9, Ink.PENCIL, pen.right - pen.left)
    if with_notes and show.notes:
        for line in wrapped(" ".join(show.notes.split()), 9, pen.right - pen.left, 3):
            y += 12
            pen.write(pen.left, y, line, 9)
    y += 8
    pen.line(pen.left, y, pen.right, y, 1.2)
    if not one.songs:
        pen.write(pen.left, y + 24, "no songs yet", 14, Ink.PENCIL)
    return y + 4


def _song(pen: Pen, song: Song, number: int, y: float, pitch: float) -> None:
    two = pitch >= TWO_LINES_FROM
    size = min(TITLE_PT, pitch * 0.5) if two else max(LEAST_PT, pitch * 0.66)
    baseline = y + size * 1.05
    small = max(LEAST_PT, size * 0.6)
    pen.write_left_of(pen.left + NUMBER - 8, baseline, str(number), size * 0.7, Ink.PENCIL)
    begin = pen.write_left_of(pen.right, baseline, key_words(song.key), size * 1.1)
    lesser = "   ".join(word for word in (tempo_words(song), length_words(song)) if word)
    begin = pen.write_left_of(min(begin - 10, pen.right - size * 3.2), baseline, lesser, small, Ink.PENCIL)
    x = pen.left + NUMBER
    room = begin - x - 10
    if song.segue and two:
        arrow = pen.left + NUMBER / 2 - 2
        pen.line(arrow, baseline + size * 0.4, arrow, y + pitch - 2, 1.2)
        for side in (-3, 3):
            pen.line(arrow + side, y + pitch - 6, arrow, y + pitch - 2, 1.2)
    if not two:
        title_room = min(room * 0.55, max(room * 0.3, width_pt(song.title, size) + 1))
        pen.write(x, baseline, song.title, size, room=title_room)
        pen.say(x + title_room + 8, baseline, room - title_room - 8, _said(song)[:2], small, lines=1)
        return
    pen.write(x, baseline, song.title, size, room=room)
    lines = int((pitch - size * 1.4) / (small * 1.3) + 0.35)
    if lines:
        pen.say(x, baseline + small * 1.45, pen.right - x - size * 2, _said(song), small, lines=min(lines, 3))


def _said(song: Song) -> list[Said]:
    """Give what is said under a title: what people listen for first, then sounds, start, ending, notes."""
    if song.tacet:
        return [("", "tacet", False), *_notes(song)]
    said: list[Said] = [("", words, True) for words in feature_words(song)]
    for label, words in (
        ("", hands_words(song)),
        ("", sound_words(song)),
        ("starts:", song.starts_with or ""),
        ("ends:", ending_words(song)),
    ):
        if words:
            said.append((label, words, False))
    return [*said, *_notes(song)]


def _notes(song: Song) -> list[Said]:
    return [("", " ".join(song.notes.split()), False)] if song.notes else []
