"""The band pack: for each player all charts in set order, with contents, bookmarks and page numbers."""

from collections.abc import Callable, Iterator, Sequence
from typing import Final

from companion.paper.chart import Chart, chart_of
from companion.paper.chart_page import chart_leaves
from companion.paper.leaves import Ink, Leaf, Paper
from companion.paper.pen import Pen, with_foot
from companion.paper.readers import Reader
from companion.paper.typeface import width_pt
from companion.paper.words_of import key_words
from companion.show import Show, Song

LINE_PT: Final = 16.0
LETTERS_PT: Final = 11.0
HEAD_PT: Final = 52.0
FOOT_PT: Final = 14.0


def pack_leaves(
    show: Show, reader: Reader, paper: Paper, charted: Callable[[], None] = lambda: None, copy: int = 1
) -> Iterator[Leaf]:
    """Lay out one player's pack. ``charted`` is called after each song; ``copy`` tells two players of one part apart.

    Raises NoChart.
    """
    name = f"{copy} {reader.name}"
    charts: list[tuple[Song, list[Leaf], Chart]] = []
    for number, song in enumerate(song for one in show.sets for song in one.songs):
        chart = chart_of(song, reader)
        charts.append((song, chart_leaves(chart, paper, f"{name} {number + 1}", level=1), chart))
        charted()
    rows = list(_rows(show, charts))
    a_page = int((paper.height - 2 * Pen(paper).top - HEAD_PT - FOOT_PT) / LINE_PT)
    front = max(1, -(-len(rows) // a_page))
    leaves = [
        *(
            _contents(
                show, reader, paper, rows[n * a_page : (n + 1) * a_page], front, f"{name} contents" if n == 0 else ""
            )
            for n in range(front)
        ),
        *(leaf for _song, pages, _chart in charts for leaf in pages),
    ]
    left = f"{show.title} · {_shown(reader)}"
    for number, leaf in enumerate(leaves, start=1):
        yield with_foot(leaf, paper, left, f"{number} / {len(leaves)}")


def _shown(reader: Reader) -> str:
    return reader.shown.replace("Bb", "B♭").replace("Eb", "E♭")


Row = tuple[str, str, str, int]  # title, key, where it leads, page after the contents; a set's name leads nowhere


def _rows(show: Show, charts: Sequence[tuple[Song, list[Leaf], Chart]]) -> Iterator[Row]:
    number, page = 0, 1
    for one in show.sets:
        yield one.name, "", "", 0
        for song in one.songs:
            _song, leaves, chart = charts[number]
            key = key_words(chart.written) if chart.written else ""
            yield song.title, key, leaves[0].name, page
            page += len(leaves)
            number += 1


def _contents(show: Show, reader: Reader, paper: Paper, rows: Sequence[Row], front: int, name: str) -> Leaf:
    pen = Pen(paper)
    y = pen.top + 20
    begin = pen.write_left_of(pen.right, y, _shown(reader), 20)
    pen.write(pen.left, y, show.title, 20, room=begin - pen.left - 18)
    about = "  ·  ".join(word for word in (show.band, show.date.isoformat() if show.date else "", show.venue) if word)
    pen.write(pen.left, y + 15, about, 9, Ink.PENCIL, pen.right - pen.left)
    y = pen.top + HEAD_PT
    for title, key, leads_to, page in rows:
        y += LINE_PT
        if not leads_to:
            pen.write(pen.left, y, title, LETTERS_PT, Ink.PENCIL, pen.right - pen.left)
            continue
        begin = pen.write_left_of(pen.right, y, str(page + front), LETTERS_PT)
        pen.write(pen.right - 110, y, key, LETTERS_PT)
        end = pen.write(pen.left + 16, y, title, LETTERS_PT, room=pen.right - pen.left - 150)
        pen.line(end + 4, y - 2, pen.right - 114, y - 2, 0.3, Ink.PENCIL)
        pen.line(pen.right - 106 + width_pt(key, LETTERS_PT), y - 2, begin - 4, y - 2, 0.3, Ink.PENCIL)
        pen.jump(y + 4, LINE_PT, leads_to)
    return pen.leaf(_shown(reader) if name else "", 0, name)
