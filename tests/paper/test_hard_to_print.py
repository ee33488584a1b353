"""A show that is hard to print, on every sheet and both papers, read back by programs that did not write it."""

from pathlib import Path

import pytest
from paper.readers_back import bare, cut_letters, missing_in_order, outside, overlapping, pages_of

from companion.paper import Paper, PrintJob, Sheet, print_show
from companion.show import read_show

HARD = Path(__file__).parent / "hard_to_print.yaml"
SONGS = [song for one in read_show(HARD).show.sets for song in one.songs]


@pytest.mark.parametrize("paper", [Paper.A4, pytest.param(Paper.LETTER, marks=pytest.mark.long)])
@pytest.mark.parametrize(
    "wanted",
    [
        *(PrintJob((sheet,), blank=True) for sheet in Sheet),
        PrintJob((Sheet.CHARTS,), share=True),
        PrintJob((Sheet.CHARTS,), in_numbers=True),
        PrintJob((Sheet.CHARTS,), players=("guitar", "Bb"), capo=5),
    ],
)
def test_no_printed_text_overlaps(tmp_path: Path, wanted: PrintJob, paper: Paper) -> None:
    out = tmp_path / "hard.pdf"
    asked = PrintJob(**{name: getattr(wanted, name) for name in wanted.__struct_fields__} | {"paper": paper})
    print_show(HARD, asked, out)
    for number, page in enumerate(pages_of(out), start=1):
        assert outside(page, edge=18) == [], f"page {number}"
        assert list(overlapping(page)) == [], f"page {number}"
    if Sheet.CHARTS in wanted.sheets:
        assert cut_letters(out) == []


def test_no_title_is_cut_while_the_page_has_room(tmp_path: Path) -> None:
    for sheet in (Sheet.SET_LIST, Sheet.FLOOR_LIST, Sheet.CHARTS):
        print_show(HARD, PrintJob((sheet,), blank=True), tmp_path / f"{sheet.value}.pdf")
        text = "".join(page.text for page in pages_of(tmp_path / f"{sheet.value}.pdf"))
        latin = [song.title for song in SONGS if song.title.isascii()]
        words = [word for title in latin for word in title.split()]
        assert missing_in_order(text, words) == [], sheet
        assert "Feesameaslasttime" not in bare(text)
