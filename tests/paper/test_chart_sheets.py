"""Charts on their pages: the page is used, no phrase is broken for it, and short songs share one where asked."""

from pathlib import Path

import pytest
from paper.readers_back import bars_of, bookmarks, missing_in_order, outside, overlapping, pages_of

from companion.paper import Paper, PrintJob, Sheet, print_show
from companion.paper.chart_sheets import FOOT_PT
from companion.paper.pen import EDGE_PT

DEMO = Path(__file__).resolve().parents[2] / "shows/pier-street.yaml"
CAPITAL = 0.714  # of the size, by the font's own table
FOUR = "C | Am7 | F | G7"


def printed(tmp_path: Path, songs: list[list[str]], **wanted: object) -> Path:
    """Print songs whose sections have these chord lines."""
    text = "show: Pier\nsongs:\n"
    for number, lines in enumerate(songs):
        text += f"  - title: Song {number} of the pier\n    key: C\n    road_map:\n"
        text += "".join(f"      - {{section: Part {n}, chords: '{line}'}}\n" for n, line in enumerate(lines))
    (tmp_path / "show.yaml").write_text(text, encoding="utf-8")
    asked = PrintJob(**({"sheets": (Sheet.CHARTS,)} | wanted))  # type: ignore[arg-type]  # whatever is asked for
    print_show(tmp_path / "show.yaml", asked, tmp_path / "charts.pdf")
    for page in pages_of.__wrapped__(tmp_path / "charts.pdf"):
        assert outside(page, edge=18) == []
        assert list(overlapping(page)) == []
    return tmp_path / "charts.pdf"


def capitals(path: Path, page: int = 0) -> float:
    """Return how high the capitals of the chords are, in points."""
    first = bars_of(path)[page][0]
    one = pages_of.__wrapped__(path)[page]
    return max(
        top - bottom
        for letter, (left, bottom, _right, top) in zip(one.letters, one.boxes, strict=True)
        if letter == "C" and left > first.left and one.height - top > first.top - 2
    )


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("lines", [2, 4, 8, 12, 18])
def test_a_chart_uses_its_page(tmp_path: Path, lines: int, paper: Paper) -> None:
    """Its capitals are 21 pt high, readable standing, or its last row ends in the last fifth of the page."""
    path = printed(tmp_path, [[FOUR] * lines], paper=paper)
    lowest = max(bar.bottom for bar in bars_of(path)[0])
    assert capitals(path) > 21 * 0.98 or lowest > paper.height * 0.8
    assert capitals(path) >= 9.2  # 16 minutes of arc at 0.7 m: ISO 9241-3


@pytest.mark.parametrize("rows", [(1,) * 40, (1, 3) * 15, (2, 3) * 15, (5,) * 12, (1, 4) * 12])  # of each section
def test_no_row_of_a_long_chart_reaches_the_line_at_the_foot(tmp_path: Path, rows: tuple[int, ...]) -> None:
    pages = bars_of(printed(tmp_path, [[" | ".join([FOUR] * each) for each in rows]]))
    assert len(pages) > 1
    lowest = [max(bar.bottom for bar in page) for page in pages]
    assert max(lowest) <= Paper.A4.height - EDGE_PT - FOOT_PT


def test_no_phrase_is_broken_to_enlarge_letters(tmp_path: Path) -> None:
    path = printed(tmp_path, [["Cmaj7 Am7 | Dm7 G7 | Em7 A7 | Dm7 G7 | C | C | C | C"]])
    rows = {bar.top for bar in bars_of(path)[0]}
    assert len(rows) == 2  # four bars each, as at the usual size


def test_on_an_empty_page_a_crowded_row_breaks_before_its_letters_shrink(tmp_path: Path) -> None:
    crowded = "Dm7... G7. | Ebmaj7... Ab7. | Em7.. Fmaj7. G. | Am7.. Bm7b5. Cmaj7."
    path = printed(tmp_path, [[crowded] * 2])
    assert len({bar.top for bar in bars_of(path)[0]}) == 4
    assert capitals(path) >= 20 * CAPITAL * 0.85


def test_a_long_section_name_is_printed_in_full(tmp_path: Path) -> None:
    (tmp_path / "show.yaml").write_text(
        "show: Pier\nsongs:\n  - title: Moth\n    road_map:\n"
        "      - {section: Instrumental after the second chorus, bars: 8}\n      - {section: Verse, bars: 8}\n",
        encoding="utf-8",
    )
    print_show(tmp_path / "show.yaml", PrintJob((Sheet.CHARTS,)), tmp_path / "charts.pdf")
    (page,) = pages_of.__wrapped__(tmp_path / "charts.pdf")
    assert "…" not in page.text
    assert list(overlapping(page)) == []


def test_short_songs_share_a_page_only_on_request(tmp_path: Path) -> None:
    songs = [[FOUR] * 2, [FOUR] * 3, [FOUR] * 30, [FOUR] * 2, [FOUR] * 2]
    assert [level for level, _title, _page in bookmarks(printed(tmp_path, songs))] == [0] * 5
    assert [page for _level, _title, page in bookmarks(printed(tmp_path, songs))] == [0, 1, 2, 4, 5]
    path = printed(tmp_path, songs, share=True)
    assert [(title, page) for _level, title, page in bookmarks(path)] == [
        ("Song 0 of the pier", 0),
        ("Song 1 of the pier", 0),
        ("Song 2 of the pier", 1),
        ("Song 3 of the pier", 3),
        ("Song 4 of the pier", 3),
    ]
    pages = pages_of.__wrapped__(path)
    assert missing_in_order(pages[0].text, ["Song 0", "Part 0", "Part 1", "Song 1", "Part 2"]) == []
    assert capitals(path) >= 15 * CAPITAL * 0.98
    assert [" ".join(bar.words) for bar in bars_of(path)[0]] == FOUR.split(" | ") * 5


def test_the_contents_of_a_pack_find_songs_that_share_pages(tmp_path: Path) -> None:
    path = printed(tmp_path, [[FOUR] * 2] * 3, sheets=(Sheet.BAND_PACK,), share=True, players=("keys", "Bb"))
    marks = bookmarks(path)
    assert [page for _level, _title, page in marks] == [0, 1, 1, 1, 2, 3, 3, 3]
    assert missing_in_order(pages_of.__wrapped__(path)[0].text, ["Song 0 of the pier", "C", "2", "Song 1", "2"]) == []


def test_the_demos_charts_fill_most_of_their_pages(tmp_path: Path) -> None:
    """Measured on the rendered page: between the first and the last ink below the head there is most of it."""
    out = tmp_path / "charts.pdf"
    print_show(DEMO, PrintJob((Sheet.CHARTS,)), out)
    used = []
    for page in pages_of(out):
        lowest = min(bottom for _left, bottom, _right, _top in page.boxes if bottom > 60)
        used.append(1 - (lowest - 36) / (page.height - 72))
    assert min(used) > 0.7
    assert sum(used) / len(used) > 0.85
