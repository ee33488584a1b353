"""What the page hands out: sheets as PDF, as the command prints them, and the plan in the command's words."""

import datetime as dt
import html
import re
from pathlib import Path
from urllib.parse import unquote

import pypdfium2
import pytest
from examples import seldom
from pages.visiting import Answer, Site

from companion.cli import main
from companion.pages.handed_out import PAPERS, SHEETS
from companion.paper import Paper, Sheet

SHOW = """\
show: Night at the Mill
date: 2099-06-19
practice: {minutes: 45, days_off: sun}
sets:
  - set: First
    songs:
      - {title: Tram Home, key: D, length: "3:40", known: 1, road_map: "Intro 4*, Verse 8 | 1 | 4"}
      - {title: Herring Waltz, key: Bb, known: 2}
"""


@pytest.fixture
def site(tmp_path: Path) -> Site:
    return Site(tmp_path, SHOW)


def text_of(pdf: bytes) -> list[str]:
    """Return the text of each page."""
    return [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf)]


def printed(site: Site, sheet: str, paper: str = "a4") -> Answer:
    return site.ask("GET", f"/print?sheet={sheet}&paper={paper}")


@pytest.mark.parametrize("sheet", ["setlist", seldom("floor"), seldom("crib"), seldom("charts")])
def test_a_sheet_is_the_one_that_the_command_prints(site: Site, sheet: str, tmp_path: Path) -> None:
    answer = printed(site, sheet, "letter")
    assert (answer.status_code, answer.headers["content-type"]) == (200, "application/pdf")
    assert unquote(answer.headers["x-file"]) == f"mill-{sheet}.pdf"
    out = tmp_path / "by command.pdf"
    assert main(["print", str(site.path), "--sheet", sheet, "--paper", "letter", "--out", str(out)]) == 0
    assert text_of(answer.body) == text_of(out.read_bytes())
    assert "Tram Home" in text_of(answer.body)[0]
    assert unquote(answer.headers["x-notice"]).startswith(f"{SHEETS[sheet]}: 1 page")
    assert sorted(one.name for one in tmp_path.iterdir()) == ["by command.pdf", "kept", "mill.yaml"], "nothing is left"


def test_the_page_knows_the_commands_sheets_and_papers() -> None:
    assert set(SHEETS) == {sheet.value for sheet in Sheet} - {Sheet.BAND_PACK.value}
    assert list(PAPERS) == [paper.value for paper in Paper]


@pytest.mark.parametrize(
    ("sheet", "says"), [("charts", "no song has a road map yet"), ("../etc", "no such sheet"), ("", "no such sheet")]
)
def test_what_cannot_be_printed_is_said(site: Site, sheet: str, says: str) -> None:
    site.path.write_text("show: Night at the Mill\nsongs: [Tram Home]\n", encoding="utf-8")
    answer = printed(site, sheet)
    assert answer.status_code == 422
    assert says in answer.text


def test_the_plan_has_the_words_of_the_command(site: Site, capsys: pytest.CaptureFixture[str]) -> None:
    day = dt.datetime.now().astimezone().date() + dt.timedelta(days=5)
    site.path.write_text(SHOW.replace("2099-06-19", day.isoformat()), encoding="utf-8")
    assert main(["plan", str(site.path)]) == 0
    by_command = {re.sub(r"[█░]+| {2,}", " ", line).strip() for line in capsys.readouterr().out.splitlines()}
    page = site.ask("GET", "/days").text
    lines = [html.unescape(one) for one in re.findall(r"<(?:li|p|summary|h3)[^>]*>([^<]+)<", page)]
    assert len(lines) > 8
    spaced = {re.sub(r" +", " ", line) for line in by_command}
    for line in lines:
        assert line.replace(": ", " ", 1) in spaced or line in spaced or line == "a day off", line


def test_a_show_without_a_day_says_what_the_plan_needs(site: Site) -> None:
    site.path.write_text("show: Night at the Mill\nsongs: [Tram Home]\n", encoding="utf-8")
    answer = site.ask("GET", "/days")
    assert answer.status_code == 200
    assert "date" in answer.text
