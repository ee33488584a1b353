"""The marked set list: one page a set with keys, sounds and notes, features highlighted."""

from collections.abc import Iterator, Sequence
from typing import Final

import msgspec
from msgspec.structs import replace

from companion.paper.encores import HEAD_PT, sets_with_encores
from companion.paper.leaves import Leaf, Paper, PaperInk
from companion.paper.paper_fonts import wrapped
from companion.paper.pen import LeafPen, StyledWord
from companion.paper.words_of import (
    SongNumbers,
    ending_words,
    feature_words,
    hands_words,
    keys_words,
    length_words,
    note_words,
    set_words,
    song_numbers,
    sound_words,
    tempo_words,
)
from companion.show import Set, Show, Song
from companion.show.date_words import day_words

TITLE_PT: Final = 20.0
LEAST_PT: Final = 13.0  # capitals of 16' from a music stand: take a second page rather than go smaller
STEP_PT: Final = 0.5
SIZES: Final = tuple(TITLE_PT - step * STEP_PT for step in range(int((TITLE_PT - LEAST_PT) / STEP_PT) + 1))
REMARK: Final = 0.62  # share of the titles' size: the remarks under them
LEAST_REMARK_PT: Final = 8.5
LEADING: Final = 1.25  # share of its size: a line of a title
PAD: Final = 0.45  # share of the titles' size: the smallest gap between two songs
WIDEST_GAP: Final = 1.5  # same: most spare room added between songs
NUMBER: Final = 28.0
FOOT_PT: Final = 10.0
WHOLE: Final = 99  # no limit on lines


class _Entry(msgspec.Struct, frozen=True):
    """A song on the list: its title's lines, the number of lines of remarks, and its height.

    ``encore`` is the set that begins with this song on the page of another; its name is above the song.
    """

    song: Song
    number: int
    title: tuple[str, ...]
    lines: int
    height: float
    encore: Set | None = None


def set_list_leaves(show: Show, paper: Paper, numbers: SongNumbers = ()) -> list[Leaf]:
    """Lay out each set on one page where it is readable from a music stand, else on as many as needed.

    A short encore goes on the page of the set before it, if both fit there. ``numbers``: those of these songs in the
    whole show, if this is only a part of it.
    """
    leaves: list[Leaf] = []
    numbers = numbers or song_numbers(show)
    whole = LeafPen(paper)
    room = whole.bottom - FOOT_PT - _head(whole, show, Set(""), goes_on=False)
    for at, encore in sets_with_encores(show):
        one = show.sets[at]
        both = encore and _with_encore(one, encore, (*numbers[at], *numbers[at + 1]), room, paper)
        leaves += _leaves(show, one, *(both or _pages(one, numbers[at], room, paper)), room, paper)
        if encore and not both:
            leaves += _leaves(show, encore, *_pages(encore, numbers[at + 1], room, paper), room, paper)
    return leaves


def _leaves(show: Show, one: Set, size: float, pages: list[list[_Entry]], room: float, paper: Paper) -> Iterator[Leaf]:
    for number, entries in enumerate(pages):
        pen = LeafPen(paper)
        y = _head(pen, show, one, goes_on=number > 0)
        left = room - sum(entry.height for entry in entries)
        gap = max(0.0, min(left / max(1, len(entries)), WIDEST_GAP * size))
        for entry in entries:
            if entry.encore:
                _encore_head(pen, entry.encore, y + gap / 2)
                y += HEAD_PT
            _song(pen, entry, y + gap / 2, size, gap)
            y += entry.height - (HEAD_PT if entry.encore else 0) + gap
        names = ", ".join([one.name, *(entry.encore.name for entry in entries if entry.encore)])
        yield pen.leaf(f"Set list: {names}" if number == 0 else "")


def _with_encore(
    one: Set, encore: Set, numbers: Sequence[int], room: float, paper: Paper
) -> tuple[float, list[list[_Entry]]] | None:
    """Choose the size at which a set and its encore fit one page with all their remarks; None if they do not."""
    both = replace(one, songs=(*one.songs, *encore.songs))
    for size in SIZES:
        entries = _entries(both, numbers, size, WHOLE, paper)
        first = entries[len(one.songs)]
        entries[len(one.songs)] = replace(first, height=first.height + HEAD_PT, encore=encore)
        if sum(entry.height for entry in entries) <= room:
            return size, [entries]
    return None


def _encore_head(pen: LeafPen, encore: Set, y: float) -> None:
    pen.line(pen.left, y, pen.right, y, 0.6, PaperInk.PENCIL)
    begin = pen.write_left_of(pen.right, y + 20, set_words(encore), 11)
    pen.write(pen.left, y + 20, encore.name, 16, room=begin - pen.left - 12)


def _pages(one: Set, numbers: Sequence[int], room: float, paper: Paper) -> tuple[float, list[list[_Entry]]]:
    """Choose the size: everything on one readable page, else fewer remarks, else more pages."""
    for lines in (WHOLE, 3, 2):
        for size in SIZES:
            entries = _entries(one, numbers, size, lines, paper)
            if sum(entry.height for entry in entries) <= room:
                return size, [entries]
    entries = _entries(one, numbers, LEAST_PT, WHOLE, paper)
    pages: list[list[_Entry]] = [[]]
    each = sum(entry.height for entry in entries) / -(-sum(entry.height for entry in entries) // room)
    used = 0.0
    for entry in entries:
        if pages[-1] and (used + entry.height > room or used >= each):
            pages.append([])
            used = 0.0
        pages[-1].append(entry)
        used += entry.height
    return LEAST_PT, pages


def _entries(one: Set, numbers: Sequence[int], size: float, most: int, paper: Paper) -> list[_Entry]:
    entries = []
    for number, song in zip(numbers, one.songs, strict=True):
        pen = LeafPen(paper)
        first = _right_of_title(pen, song, size, 0.0) - pen.left - NUMBER
        title = tuple(wrapped(song.title, size, _remark_room(pen), 3, first=first))
        small = _remark_pt(size)
        pieces = _remarks(song)
        below = pen.say(pen.left + NUMBER, 0.0, _remark_room(pen), pieces, small) if pieces else 0.0
        lines = min(round(below / (small * 1.3)), most)
        height = len(title) * size * LEADING + lines * small * 1.3 + size * PAD
        entries.append(_Entry(song, number, title, lines, height))
    return entries


def _remark_pt(size: float) -> float:
    return max(LEAST_REMARK_PT, size * REMARK)


def _remark_room(pen: LeafPen) -> float:
    return pen.right - pen.left - NUMBER


def _head(pen: LeafPen, show: Show, one: Set, *, goes_on: bool) -> float:
    """Write the set's name. The show's notes are not printed: the leader's message is private."""
    y = pen.top + 20
    begin = pen.write_left_of(pen.right, y, set_words(one), 14)
    name = f"{one.name}, continued" if goes_on else one.name
    pen.write(pen.left, y, name, 24, room=begin - pen.left - 12)
    y += 15
    day = day_words(show.date) if show.date else ""
    about = "  ·  ".join(word for word in dict.fromkeys((show.title, show.band, day, show.venue)) if word)
    pen.write(pen.left, y, about, 9, PaperInk.PENCIL, pen.right - pen.left)
    y += 8
    pen.line(pen.left, y, pen.right, y, 1.2)
    if one.name and not one.songs:
        pen.write(pen.left, y + 24, "no songs yet", 14, PaperInk.PENCIL)
    return y + 4


def _right_of_title(pen: LeafPen, song: Song, size: float, baseline: float) -> float:
    """Write key, tempo and length at the right; return the x where the title must end."""
    begin = pen.write_left_of(pen.right, baseline, keys_words(song), size * 1.1)
    lesser = "   ".join(word for word in (tempo_words(song), length_words(song)) if word)
    return (
        pen.write_left_of(min(begin - 10, pen.right - size * 3.2), baseline, lesser, _remark_pt(size), PaperInk.PENCIL)
        - 10
    )


def _song(pen: LeafPen, entry: _Entry, y: float, size: float, gap: float) -> None:
    baseline = y + size * 1.05
    small = _remark_pt(size)
    song = entry.song
    pen.write_left_of(pen.left + NUMBER - 8, baseline, str(entry.number), size * 0.7, PaperInk.PENCIL)
    _right_of_title(pen, song, size, baseline)
    if song.segue:
        arrow, down = pen.left + NUMBER / 2 - 2, y + entry.height + gap * 0.9
        pen.line(arrow, baseline + size * 0.4, arrow, down, 1.2)
        for side in (-3, 3):
            pen.line(arrow + side, down - 4, arrow, down, 1.2)
    x = pen.left + NUMBER
    for number, line in enumerate(entry.title):
        pen.write(x, baseline + number * size * LEADING, line, size)
    if entry.lines:
        below = baseline + (len(entry.title) - 1) * size * LEADING + small * 1.5
        pen.say(x, below, _remark_room(pen), _remarks(song), small, lines=entry.lines)


def _remarks(song: Song) -> list[StyledWord]:
    """Return the remarks under a title: features first, then sounds, start, ending, notes."""
    if song.tacet:
        return [("", "tacet", False), *_notes(song)]
    features = feature_words(song)
    is_start_shown = any("start" in words.split() for words in features)  # among the features
    pieces: list[StyledWord] = [("", words, True) for words in features]
    for label, words in (
        ("", hands_words(song)),
        ("", sound_words(song)),
        ("starts:", "" if is_start_shown else song.starts_with or ""),
        ("ends:", ending_words(song)),
    ):
        if words:
            pieces.append((label, words, False))
    return [*pieces, *_notes(song, features)]


def _notes(song: Song, shown: Sequence[str] = ()) -> list[StyledWord]:
    words = note_words(song, shown)
    return [("", words, False)] if words else []
