"""The account of an import: one row a line, and one row for many lines that are set aside for one reason."""

from companion.setlist.model import AsideLine, LineKind, ListLine, SetList, SourceLine
from companion.setlist.report import in_short, rows
from companion.show import Set, Show, Song

SHOW = Show("Pier Street", sets=(Set("First", songs=(Song("Moth"),)),))


def listed(*reasons: str) -> SetList:
    """Return a list of one song and lines that are set aside for these reasons."""
    places = [SourceLine(at, sheet="Old") for at in range(1, len(reasons) + 1)]
    lines = [ListLine(place, "Owl", LineKind.ASIDE, f"{why}: Owl") for place, why in zip(places, reasons, strict=True)]
    song = ListLine(SourceLine(9), "Moth", LineKind.SONG, "Moth", song=1)
    aside = tuple(AsideLine(place, "Owl", why) for place, why in zip(places, reasons, strict=True))
    return SetList(SHOW, (*lines, song), set_aside=aside)


def test_a_whole_skipped_sheet_takes_one_row() -> None:
    found = rows(listed(*["of another sheet"] * 5))
    assert found == [
        ("Old row 1 to 5", "set aside", "of another sheet: 5 lines", ""),
        ("line 9", "song", "Moth", ""),
    ]


def test_a_few_skipped_lines_keep_a_row_each() -> None:
    found = rows(listed("struck out", "struck out", "hidden in the sheet"))
    assert [row[2] for row in found] == ["struck out: Owl", "struck out: Owl", "hidden in the sheet: Owl", "Moth"]


def test_lines_that_are_not_played_are_counted_once() -> None:
    assert in_short(listed("struck out", "struck out")).endswith("2 lines set aside as not played")
