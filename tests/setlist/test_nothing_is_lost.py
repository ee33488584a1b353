"""Every line of a list is accounted for, whatever it holds; lines not understood are in the show's notes."""

from examples import examples
from hypothesis import example, given, settings
from hypothesis import strategies as st

from companion.errors import FaultyFile
from companion.files import SourceFile
from companion.setlist import LineKind, Notation
from companion.setlist.model import ListPage, ListRow, SourceLine
from companion.setlist.parsing.understand import take_in
from companion.setlist.readers.text import pages_of_text
from companion.show.show_file import show_in
from companion.show.show_text import write_show

PIECES = st.sampled_from(
    [
        "Set 1",
        "1. ",
        "2) ",
        "- ",
        "Gasworks Corner",
        "Moth",
        " - Bb",
        " (Gm)",
        " | ",
        "; ",
        ", ",
        "\t",
        "  ",
        "3:40",
        " 112 bpm",
        "*",
        " segue",
        "Break",
        "Title",
        "Key",
        "Total 3",
        "Hi all,",
        "Cheers",
        "6/8",
        " in A",
        "?",
        "→",
        "(",
        ")",
        "[",
        "|",
        "* = solo",
        "Date: 19 June 2027",
        "H",
        "…",
        "🎹",
        "\u202e",
        '"',
        "'",
        "#",
        "##",
        "**",
        "_",
        "---",
    ]
)
LINES = st.lists(st.one_of(st.lists(PIECES, max_size=6).map("".join), st.text(max_size=30)), max_size=25)


@settings(max_examples=examples(60), deadline=None)
@given(lines=LINES, notation=st.sampled_from(Notation))
@example(lines=["Gasworks Corner - Moth", "Old Moth |  - Bb | "], notation=Notation.LETTERS)  # no artist beside a dash
@example(lines=["Moth - Bb", "(", "2) "], notation=Notation.LETTERS)  # a line that closes the bracket above it
def test_every_line_is_accounted_for(lines: list[str], *, notation: Notation) -> None:
    pages = pages_of_text("\n".join(lines), "list.txt")
    rows = [row for page in pages for row in page.rows]
    try:
        found = take_in(pages, notation=notation)
    except FaultyFile as fault:
        assert "no song" in str(fault)  # noqa: PT017  every other fault would be a loss
        return
    assert {str(row.place) for row in rows} <= {str(line.place) for line in found.lines}
    for line in found.left:
        assert line.text in (found.show.notes or "")
    assert show_in(SourceFile("show.yaml", write_show(found.show))).show == found.show
    songs = sum(len(one.songs) for one in found.show.sets)
    assert songs == sum(line.took is LineKind.SONG for line in found.lines)


@settings(max_examples=examples(60), deadline=None)
@given(st.lists(st.lists(st.text(max_size=8), min_size=1, max_size=5), min_size=1, max_size=12))
@example([["\xad"]])  # a soft hyphen alone: nothing that is seen
def test_any_grid_is_read_or_refused(cells: list[list[str]]) -> None:
    rows = tuple(
        ListRow(SourceLine(at), tuple(row), " ".join(row).strip())
        for at, row in enumerate(cells, 1)
        if any(cell.strip() for cell in row)
    )
    try:
        found = take_in((ListPage(rows, is_grid=True),))
    except FaultyFile:
        return
    assert len({str(row.place) for row in rows}) == len({str(line.place) for line in found.lines})
