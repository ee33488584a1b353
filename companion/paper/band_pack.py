"""The band pack: all charts in set order for each player, with contents, bookmarks and page numbers."""

from collections.abc import Callable, Iterator, Sequence
from typing import Final

import msgspec

from companion.paper.chart import chart_of
from companion.paper.chart_sheets import chart_sheets
from companion.paper.leaves import Leaf, Paper, PaperInk
from companion.paper.paper_fonts import width_pt
from companion.paper.pen import LeafPen, with_foot
from companion.paper.readers import ChartReader
from companion.paper.words_of import key_words
from companion.show import Show, Song
from companion.show.date_words import day_words

LINE_PT: Final = 16.0
LETTERS_PT: Final = 11.0
HEAD_PT: Final = 52.0
FOOT_PT: Final = 14.0


def pack_leaves(
    show: Show,
    reader: ChartReader,
    paper: Paper,
    charts: Callable[[Song], bool] = lambda song: bool(song.road_map),
    charted: Callable[[], None] = lambda: None,
    *,
    copy: int = 1,
    share: bool = False,
) -> Iterator[Leaf]:
    """Lay out one player's pack. Songs that ``charts`` refuses are listed in the contents without a page.

    ``charted`` is called after each chart; ``copy`` distinguishes two players of one part;
    with ``share`` short songs share a page.
    """
    name = f"{copy} {reader.name}"
    pages: list[Leaf] = []
    rows: list[ContentsRow] = []
    for number, one in enumerate(show.sets):
        rows.append(ContentsRow(one.name, is_set=True))
        made = [(chart_of(song, reader), f"{name} {number} {place}") for place, song in enumerate(one.songs)]
        charted_ones = [(chart, key) for (chart, key), song in zip(made, one.songs, strict=True) if charts(song)]
        leads: dict[str, int] = {}
        for sheets in chart_sheets(charted_ones, paper, level=1, share=share):
            leads |= {bookmark.name: len(pages) + 1 for bookmark in sheets.leaves[0].bookmarks}
            pages += sheets.leaves
            for _title in sheets.titles:
                charted()
        for chart, key in made:
            written = key_words(chart.written) if chart.written else ""
            rows.append(ContentsRow(chart.song.title, False, written, key if key in leads else "", leads.get(key, 0)))
    a_page = int((paper.height - 2 * LeafPen(paper).top - HEAD_PT - FOOT_PT) / LINE_PT)
    front = max(1, -(-len(rows) // a_page))
    leaves = [
        *(
            _contents(
                show, reader, paper, rows[n * a_page : (n + 1) * a_page], front, f"{name} contents" if n == 0 else ""
            )
            for n in range(front)
        ),
        *pages,
    ]
    left = f"{show.title} · {_shown(reader)}"
    for number, leaf in enumerate(leaves, start=1):
        yield with_foot(leaf, paper, left, f"{number} / {len(leaves)}")


def _shown(reader: ChartReader) -> str:
    return reader.shown.replace("Bb", "B♭").replace("Eb", "E♭")


class ContentsRow(msgspec.Struct, frozen=True):
    """A line of the contents: a set's name, or a song with its page, counted from 1 after the contents; 0: no page."""

    title: str
    is_set: bool = False
    key: str = ""
    leads_to: str = ""
    page: int = 0


def _contents(
    show: Show, reader: ChartReader, paper: Paper, rows: Sequence[ContentsRow], front: int, name: str
) -> Leaf:
    pen = LeafPen(paper)
    y = pen.top + 20
    begin = pen.write_left_of(pen.right, y, _shown(reader), 20)
    pen.write(pen.left, y, show.title, 20, room=begin - pen.left - 18)
    about = "  ·  ".join(word for word in (show.band, day_words(show.date) if show.date else "", show.venue) if word)
    pen.write(pen.left, y + 15, about, 9, PaperInk.PENCIL, pen.right - pen.left)
    y = pen.top + HEAD_PT
    for row in rows:
        y += LINE_PT
        if row.is_set:
            pen.write(pen.left, y, row.title, LETTERS_PT, PaperInk.PENCIL, pen.right - pen.left)
            continue
        page = str(row.page + front) if row.page else "no chart"
        begin = pen.write_left_of(pen.right, y, page, LETTERS_PT, PaperInk.PEN if row.page else PaperInk.PENCIL)
        pen.write(pen.right - 130, y, row.key, LETTERS_PT)
        end = pen.write(pen.left + 16, y, row.title, LETTERS_PT, room=pen.right - pen.left - 170)
        pen.line(end + 4, y - 2, pen.right - 134, y - 2, 0.3, PaperInk.PENCIL)
        pen.line(pen.right - 126 + width_pt(row.key, LETTERS_PT), y - 2, begin - 4, y - 2, 0.3, PaperInk.PENCIL)
        if row.leads_to:
            pen.jump(y + 4, LINE_PT, row.leads_to)
    return pen.leaf(_shown(reader) if name else "", 0, name)
