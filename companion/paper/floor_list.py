"""The floor list: title and key in letters that are read from standing, taped down before the feet."""

from typing import Final

from companion.paper.leaves import FLOOR_M, LEAST_ARCMIN, READ_ARCMIN, Ink, Leaf, Paper, letter_height_pt
from companion.paper.pen import Pen
from companion.paper.typeface import CAP_HEIGHT, width_pt, wrapped
from companion.paper.words_of import hands_words, key_words
from companion.prep.features import keys_start
from companion.show import Set, Show, Song

LARGEST_ARCMIN: Final = 32.0  # larger brings nothing: 24' is read by practically all (Smith 1979, Human Factors 21(6))
STEP_ARCMIN: Final = 0.5
GOOD_ARCMIN: Final = 22.0  # the upper end of what ISO 9241-3 prefers
PITCH: Final = 1.28  # of the letters' size, from song to song
WITHIN: Final = 1.0  # from line to line of one title, so that nobody takes it for two songs
INDENT: Final = 0.7  # of the size: a title's second line, for the same reason
NARROWEST: Final = 0.82  # as narrow as letters may get before a title takes a second line
HEAD_PT: Final = 24.0
BRACE: Final = 14.0  # at the left, where songs are joined

Row = tuple[Song, list[str]]


def floor_list_leaves(show: Show, paper: Paper) -> list[Leaf]:
    """Lay out each set on one page if its letters can be read so, else on as many as it takes."""
    leaves: list[Leaf] = []
    for one in show.sets:
        pages = _pages(one, Pen(paper))
        for number, (size, rows) in enumerate(pages):
            pen = Pen(paper)
            _head(pen, one, number, len(pages))
            y = pen.top + HEAD_PT
            for song, lines in rows:
                y = _song(pen, song, lines, y, size, last=song is rows[-1][0])
            leaves.append(pen.leaf(f"Floor list: {one.name}" if number == 0 else ""))
    return leaves


def size_pt(arcmin: float) -> float:
    """Size of letters whose capitals are seen under this angle, from standing."""
    return letter_height_pt(arcmin, FLOOR_M) / CAP_HEIGHT


def _pages(one: Set, pen: Pen) -> list[tuple[float, list[Row]]]:
    """Choose letters that one page has room for; where the least are too large for it, more pages of good ones.

    Among good sizes the one that breaks the fewest titles is taken, and of those the largest.
    """
    room = pen.bottom - pen.top - HEAD_PT
    for largest, least in ((LARGEST_ARCMIN, GOOD_ARCMIN), (GOOD_ARCMIN, READ_ARCMIN), (READ_ARCMIN, LEAST_ARCMIN)):
        fitting: list[tuple[int, float, list[Row]]] = []
        for step in range(int((largest - least) / STEP_ARCMIN) + 1):
            size = size_pt(largest - step * STEP_ARCMIN)
            rows = [(song, _lines(song, size, pen)) for song in one.songs]
            if sum(_height(lines, size) for _song, lines in rows) <= room:
                fitting.append((sum(len(lines) for _song, lines in rows), size, rows))
        if fitting:
            _fewest, size, rows = min(fitting, key=lambda one: (one[0], -one[1]))
            return [(size, rows)]
    size = size_pt(READ_ARCMIN)
    pages: list[tuple[float, list[Row]]] = []
    page: list[Row] = []
    left = room
    for song in one.songs:
        lines = _lines(song, size, pen)
        if page and _height(lines, size) > left:
            pages.append((size, page))
            page, left = [], room
        page.append((song, lines))
        left -= _height(lines, size)
    return [*pages, (size, page)]


def _height(lines: list[str], size: float) -> float:
    return (PITCH + (len(lines) - 1) * WITHIN) * size


def _room(song: Song, size: float, pen: Pen) -> float:
    return pen.right - pen.left - BRACE - width_pt(_key(song), size) - size * 0.5


def _key(song: Song) -> str:
    """Give what the hands need: the key they play in, a mode by its first letters."""
    if song.tacet:
        return "tacet"
    if hands_words(song):
        return hands_words(song)
    tonic, _space, mode = key_words(song.key).partition(" ")
    return f"{tonic} {mode[:3]}" if mode else tonic


def _lines(song: Song, size: float, pen: Pen) -> list[str]:
    """Break a title in two where even narrow letters have no room."""
    room = _room(song, size, pen)
    title = " ".join(song.title.split())
    if width_pt(title, size) * NARROWEST <= room:
        return [title]
    return wrapped(title, size, room / NARROWEST - INDENT * size, 2) or [title]


def _head(pen: Pen, one: Set, number: int, pages: int) -> None:
    part = f", {number + 1} of {pages}" if pages > 1 else ""
    end = pen.write(pen.left, pen.top + 11, f"{one.name}{part}", 15, room=220)
    if any(keys_start(song) for song in one.songs):
        pen.write_left_of(pen.right, pen.top + 11, "highlighter: you start", 10, Ink.PENCIL)
    if not one.songs:
        pen.write(end + 20, pen.top + 11, "no songs yet", 15, Ink.PENCIL)


def _song(pen: Pen, song: Song, lines: list[str], y: float, size: float, *, last: bool) -> float:
    """Write one song, its first line's top at ``y``; give where the next begins."""
    x = pen.left + BRACE
    room = _room(song, size, pen)
    first = y + size * (CAP_HEIGHT + 0.2)
    for number, line in enumerate(lines):
        baseline = first + number * size * WITHIN
        begin = x + (INDENT * size if number else 0.0)
        width = width_pt(line, size)
        squeeze = min(1.0, (x + room - begin) / width) if width else 1.0
        if keys_start(song) and not song.tacet:
            pen.highlight(begin, baseline, width * squeeze, size)
        pen.squeezed(begin, baseline, line, size, squeeze)
    pen.write_left_of(pen.right, first, _key(song), size)
    end = y + _height(lines, size)
    if song.segue and not last:
        down = end + size * 0.35
        pen.line(pen.left + 3, first - size * 0.3, pen.left + 3, down, 2.2)
        for side in (-3.5, 3.5):
            pen.line(pen.left + 3 + side, down - 5, pen.left + 3, down, 2.2)
    return end
