"""The floor list: title and key in letters to be read standing, taped to the floor in front of the feet."""

from collections.abc import Iterator
from typing import Final

import msgspec

from companion.paper.encores import sets_with_encores
from companion.paper.leaves import FLOOR_M, LEAST_ARCMIN, READ_ARCMIN, Leaf, Paper, PaperInk, letter_height_pt
from companion.paper.paper_fonts import CAP_HEIGHT, ELLIPSIS, width_pt, wrapped
from companion.paper.pen import LeafPen
from companion.paper.words_of import hands_words, keys_words
from companion.show import Set, Show, Song
from companion.show.features import keys_start

LARGEST_ARCMIN: Final = 32.0  # no larger: nearly everyone can read 24' (Smith 1979, Human Factors 21(6))
STEP_ARCMIN: Final = 0.5
GOOD_ARCMIN: Final = 22.0  # the upper end of ISO 9241-3's preferred range
INDENT: Final = 0.7  # share of the size: a title's second line, smaller so that it is not taken for another song
MAX_LINES: Final = 3  # most lines of one title
HEAD_PT: Final = 22.0
ENCORE_PT: Final = 30.0
WIDEST_GAP: Final = 0.4  # share of the size: most spare room added between songs
BRACE: Final = 14.0  # margin at the left for the segue brackets

FloorRow = tuple[Song, list[str]]


class FloorSetting(msgspec.Struct, frozen=True):
    """Spacing from song to song and line to line, as shares of the size, and how narrow letters may get.

    ``second`` is the size of a title's second line, as a share of the first.
    """

    pitch: float
    within: float
    narrowest: float
    second: float = 1.0

    def height(self, lines: list[str], size: float) -> float:
        """Return the height of a song, with the gap after it."""
        return (self.pitch + (len(lines) - 1) * self.within) * size


WIDE: Final = FloorSetting(1.28, 1.0, 0.82)
TIGHT: Final = FloorSetting(1.1, 0.95, 0.72)
TIGHTEST: Final = FloorSetting(1.08, 0.6, 0.66, second=0.6)


class _Page(msgspec.Struct, frozen=True):
    """One page: the size of its letters, its spacing, its songs; ``encore`` is the name above its last songs."""

    size: float
    setting: FloorSetting
    rows: list[FloorRow]
    encore: str = ""
    encore_songs: int = 0


def floor_list_leaves(show: Show, paper: Paper) -> list[Leaf]:
    """Lay out each set on one page where its letters stay readable, else on as many as needed.

    A short encore goes on the page of the set before it, if the letters stay comfortable.
    """
    leaves: list[Leaf] = []
    for at, encore in sets_with_encores(show):
        one = show.sets[at]
        both = encore and _with_encore(one, encore, LeafPen(paper))
        leaves += _leaves(one, [both] if both else _pages(one, LeafPen(paper)), paper)
        if encore and not both:
            leaves += _leaves(encore, _pages(encore, LeafPen(paper)), paper)
    return leaves


def _leaves(one: Set, pages: list[_Page], paper: Paper) -> Iterator[Leaf]:
    for number, page in enumerate(pages):
        pen = LeafPen(paper)
        _head(pen, one.name, page, number, len(pages))
        y = pen.top + HEAD_PT
        left = pen.bottom - y - sum(page.setting.height(lines, page.size) for _song, lines in page.rows)
        left -= ENCORE_PT if page.encore else 0
        gap = max(0.0, min(WIDEST_GAP * page.size, left / max(1, len(page.rows))))
        for to_come, (song, lines) in zip(range(len(page.rows), 0, -1), page.rows, strict=True):
            if to_come == page.encore_songs:
                pen.line(pen.left, y, pen.right, y, 1.0)
                pen.write(pen.left, y + 20, page.encore, 15, room=pen.right - pen.left)
                y += ENCORE_PT
            y = _song(pen, song, lines, y, page, gap, last=to_come in (1, page.encore_songs + 1))
        names = ", ".join(filter(None, (one.name, page.encore)))
        yield pen.leaf(f"Floor list: {names}" if number == 0 else "")


def _with_encore(one: Set, encore: Set, pen: LeafPen) -> _Page | None:
    """Return the page of a set and its encore; None if its letters would be small or narrow, or cut a title."""
    songs = (*one.songs, *encore.songs)
    page, *more = _pages(msgspec.structs.replace(one, songs=songs), pen, taken=ENCORE_PT)
    is_cut = any(lines[-1].endswith(ELLIPSIS) for _song, lines in page.rows)
    if more or is_cut or page.setting != WIDE or page.size < size_pt(READ_ARCMIN):
        return None
    return msgspec.structs.replace(page, encore=encore.name, encore_songs=len(encore.songs))


def size_pt(arcmin: float) -> float:
    """Return the size of letters whose capitals subtend this angle, read standing."""
    return letter_height_pt(arcmin, FLOOR_M) / CAP_HEIGHT


def _pages(one: Set, pen: LeafPen, taken: float = 0.0) -> list[_Page]:
    """Choose letters that fit one page; where even the smallest do not, use more pages with comfortable letters.

    Among comfortable sizes, take the one that cuts the fewest titles, then breaks the fewest, then the largest.
    ``taken`` is the height that the songs do not have.
    """
    room = pen.bottom - pen.top - HEAD_PT - taken
    fewest_cut: _Page | None = None
    for largest, least, setting in (
        (LARGEST_ARCMIN, GOOD_ARCMIN, WIDE),
        (GOOD_ARCMIN, READ_ARCMIN, WIDE),
        (READ_ARCMIN, LEAST_ARCMIN, WIDE),
        (READ_ARCMIN, LEAST_ARCMIN, TIGHT),
        (READ_ARCMIN, LEAST_ARCMIN, TIGHTEST),
    ):
        fitting: list[tuple[int, int, _Page]] = []
        for step in range(int((largest - least) / STEP_ARCMIN) + 1):
            size = size_pt(largest - step * STEP_ARCMIN)
            rows = [(song, _lines(song, size, pen, setting)) for song in one.songs]
            if sum(setting.height(lines, size) for _song, lines in rows) <= room:
                cut = sum(lines[-1].endswith(ELLIPSIS) for _song, lines in rows)
                fitting.append((cut, sum(len(lines) for _song, lines in rows), _Page(size, setting, rows)))
        if fitting:
            cut, _fewest, page = min(fitting, key=lambda one: (one[0], one[1], -one[2].size))
            fewest_cut = page if fewest_cut is None or cut == 0 else fewest_cut
            if cut == 0:
                break
    if fewest_cut is not None:
        return [fewest_cut]
    size = size_pt(READ_ARCMIN)
    pages: list[_Page] = []
    here: list[FloorRow] = []
    left = room
    for song in one.songs:
        lines = _lines(song, size, pen, WIDE)
        if here and WIDE.height(lines, size) > left:
            pages.append(_Page(size, WIDE, here))
            here, left = [], room
        here.append((song, lines))
        left -= WIDE.height(lines, size)
    return [*pages, _Page(size, WIDE, here)]


def _room(song: Song, size: float, pen: LeafPen) -> float:
    return pen.right - pen.left - BRACE - width_pt(_key(song), size) - size * 0.5


def _key(song: Song) -> str:
    """Return the key that the hands play in, with a mode abbreviated to three letters."""
    if song.tacet:
        return "tacet"
    if hands_words(song):
        return hands_words(song)
    tonic, _space, mode = keys_words(song).partition(" ")
    return f"{tonic} {mode[:3]}" if mode else tonic


def _lines(song: Song, size: float, pen: LeafPen, setting: FloorSetting) -> list[str]:
    """Break a title that does not fit even in narrow letters; the key takes room beside its first line only."""
    room = _room(song, size, pen)
    title = " ".join(song.title.split())
    if width_pt(title, size) * setting.narrowest <= room:
        return [title]
    below = (pen.right - pen.left - BRACE - INDENT * size) / setting.narrowest
    return wrapped(title, size, below, MAX_LINES, first=room / setting.narrowest) or [title]


def _head(pen: LeafPen, name: str, page: _Page, number: int, pages: int) -> None:
    part = f", {number + 1} of {pages}" if pages > 1 else ""
    end = pen.write(pen.left, pen.top + 11, f"{name}{part}", 15, room=220)
    if any(keys_start(song) for song, _lines in page.rows):
        pen.write_left_of(pen.right, pen.top + 11, "highlighter: you start", 10, PaperInk.PENCIL)
    if not page.rows:
        pen.write(end + 20, pen.top + 11, "no songs yet", 15, PaperInk.PENCIL)


def _song(pen: LeafPen, song: Song, lines: list[str], y: float, page: _Page, gap: float, *, last: bool) -> float:
    """Write one song, its first line's top at ``y``; return the top of the next song."""
    size, setting = page.size, page.setting
    x = pen.left + BRACE
    room = _room(song, size, pen)
    first = y + size * (CAP_HEIGHT + 0.2)
    for number, line in enumerate(lines):
        baseline = first + number * size * setting.within
        begin = x + (INDENT * size if number else 0.0)
        letters = size * setting.second if number else size
        width = width_pt(line, letters)
        squeeze = min(1.0, ((x + room if number == 0 else pen.right) - begin) / width) if width else 1.0
        if keys_start(song) and not song.tacet:
            pen.highlight(begin, baseline, width * squeeze, letters)
        pen.squeezed(begin, baseline, line, letters, squeeze)
    pen.write_left_of(pen.right, first, _key(song), size)
    end = y + setting.height(lines, size) + gap
    if song.segue and not last:
        down = end + size * 0.35
        pen.line(pen.left + 3, first - size * 0.3, pen.left + 3, down, 2.2)
        for side in (-3.5, 3.5):
            pen.line(pen.left + 3 + side, down - 5, pen.left + 3, down, 2.2)
    return end
