"""A short encore shares the page of the set before it where both stay readable."""

from pathlib import Path

import pytest
from examples import seldom
from paper.readers_back import missing_in_order, outside, overlapping, pages_of

from companion.paper import PrintJob, Sheet, print_show

LISTS = (Sheet.SET_LIST, Sheet.FLOOR_LIST)


def printed(tmp_path: Path, sheet: Sheet, *sets: tuple[str, int]) -> list[str]:
    """Print a show of sets with so many songs each; return its pages' texts. No letter lies over another."""
    path, lines = tmp_path / "show.yaml", ["show: Pier", "sets:"]
    for name, songs in sets:
        lines += [f"  - set: {name}", "    songs:"]
        lines += [f"      - {{title: {name} song {number}, key: C}}" for number in range(1, songs + 1)]
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    out = path.with_suffix(".pdf")
    print_show(path, PrintJob((sheet,)), out)
    pages = pages_of.__wrapped__(out)
    for page in pages:
        assert outside(page, edge=18) == []
        assert list(overlapping(page)) == []
    return [page.text for page in pages]


@pytest.mark.parametrize("sheet", LISTS)
@pytest.mark.parametrize(
    ("sets", "pages"),
    [
        ((("First", 8), ("Second", 8), ("Encore", 1)), 2),
        seldom((("First", 8), ("Encore", 3)), 1),
        ((("First", 8), ("Last encore", 2), ("Encore two", 1)), 2),  # one encore a page
        ((("First", 8), ("Zugabe", 1)), 1),  # whatever its name, a lone last song
        seldom((("First", 8), ("Second", 1), ("Third", 8)), 3),
        ((("First", 8), ("Encore", 4)), 2),
        seldom((("Encore", 1),), 1),
        seldom((("Soundcheck", 1), ("Encore", 1)), 1),
    ],
)
def test_a_short_encore_shares_the_page_of_the_set_before_it(
    tmp_path: Path, sheet: Sheet, sets: tuple[tuple[str, int], ...], pages: int
) -> None:
    texts = printed(tmp_path, sheet, *sets)
    assert len(texts) == pages
    names = [name for name, _ in sets]
    assert missing_in_order("".join(texts), [word for name in names for word in (name, f"{name} song 1")]) == []


@pytest.mark.parametrize(("sheet", "full"), [(Sheet.SET_LIST, 32), (Sheet.FLOOR_LIST, 13)])
def test_an_encore_that_does_not_fit_has_its_own_page(tmp_path: Path, sheet: Sheet, full: int) -> None:
    first, second = printed(tmp_path, sheet, ("First", full), ("Encore", 2))
    assert missing_in_order(first, [f"First song {full}"]) == []
    assert missing_in_order(second, ["Encore", "Encore song 2"]) == []
