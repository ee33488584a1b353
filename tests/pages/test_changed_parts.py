"""Only what differs is sent: put in place, it makes the whole page; and a tab that is behind gets everything."""

import re
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from pages.visiting import Answer, Site

from companion.edits import spans
from companion.pages import problems
from companion.show.sense import warnings_of

SHOW = """\
show: Night at the Mill
sets:
  - set: First
    songs:
      - {title: Tram Home, key: D, tempo: 96, road_map: "Intro 4*, Verse 16, Chorus 8 @strings, Outro 8 open"}
      - Herring Waltz
      - {title: Nine Wet Umbrellas, key: Gm}
  - set: Second
    songs:
      - Lamplighter
      - {title: Herring Waltz, key: A}
"""
VOID = ("input", "meta", "link", "br")
PARTIAL = re.compile(r'<hx-partial hx-target="#([^"]+)" hx-swap="outerMorph">(.*?)</hx-partial>', re.DOTALL)


class Elements(HTMLParser):
    """Where each element with an id begins and ends in a page."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.starts = [0]
        for line in page.splitlines(keepends=True):
            self.starts.append(self.starts[-1] + len(line))
        self.open: list[tuple[str, str | None, int]] = []
        self.spans: dict[str, tuple[int, int]] = {}
        self.feed(page)

    @property
    def at(self) -> int:
        line, column = self.getpos()
        return self.starts[line - 1] + column

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        name = dict(attrs).get("id")
        if tag in VOID and name:
            self.spans[name] = (self.at, self.at + len(self.get_starttag_text() or ""))
        elif tag not in VOID:
            self.open.append((tag, name, self.at))

    def handle_endtag(self, tag: str) -> None:
        opened, name, start = self.open.pop()
        assert opened == tag
        if name:
            self.spans[name] = (start, self.at + len(f"</{tag}>"))


def with_parts(page: str, answer: Answer) -> str:
    """Put the parts of an answer in the place of the elements with their ids, as the browser does."""
    for name, part in PARTIAL.findall(answer.text):
        start, end = Elements(page).spans[unescape(name)]
        page = page[:start] + part + page[end:]
    return page


def without_door(page: str) -> str:
    start, end = Elements(page).spans["door"]
    return page[:start] + page[end:]


def mark(site: Site, title: str, occurrence: int = 1) -> str:
    assert site.workplace.desk is not None
    songs = [one for one in site.workplace.desk.look().songs if one.song.title == title]
    return songs[occurrence - 1].mark


def version(page: str) -> str:
    found = re.search(r'data-version="(\w+)"', page)
    assert found
    return found[1]


@pytest.fixture
def site(tmp_path: Path) -> Site:
    return Site(tmp_path, SHOW)


TRAM = {"title": "Tram Home", "occurrence": 1}
ON_STACK = [
    ("/edit", {**TRAM, "field": "tempo", "value": "97", "was": "96", "column": "tempo"}, {"folder", "tape", "song"}),
    ("/edit", {"title": "Herring Waltz", "occurrence": 2, "field": "key", "value": "Bb", "was": "A"}, None),
    ("/edit", {"about": "show", "field": "band", "value": "The Tidewater Nine", "was": ""}, {"folder"}),
    ("/move", {"song": "Nine Wet Umbrellas", "by": -1}, {"folder", "set"}),
    ("/add", {"into": "Second", "title": "Moth"}, {"folder", "set"}),
    ("/out", {"song": "Lamplighter"}, {"folder", "set"}),
    ("/encore", {"song": "Lamplighter"}, None),
]


@pytest.mark.parametrize(("path", "change", "parts"), ON_STACK)
def test_what_a_change_of_the_stack_leaves_as_it_was_is_not_sent(
    site: Site, path: str, change: dict[str, object], parts: set[str] | None
) -> None:
    assert site.workplace.desk is not None
    column = str(change.get("column", "key"))
    before = site.ask("GET", f"/view?column={column}").text
    sets = {one.one.name: one.mark for one in site.workplace.desk.look().sets}
    body = {**change, "column": column, "shown": version(before)}
    if "song" in body:
        body["song"] = mark(site, str(body["song"]))
    if "into" in body:
        body["into"] = sets[str(body["into"])]
    answer = site.ask("POST", path, body)
    assert answer.status_code == 200
    after = site.ask("GET", f"/view?column={column}").text
    if "x-whole" in answer.headers:
        assert path == "/encore"  # another set
        assert answer.text == after
        return
    assert without_door(with_parts(before, answer)) == without_door(after)
    kinds = {name[0]: kind for name, kind in (("s", "song"), ("t", "tape"), ("folder", "folder"))}
    found = {"set" if name.endswith("-set") else kinds[name[0]] for name, _ in PARTIAL.findall(answer.text)}
    assert parts is None or found == parts


ON_SHEET = [
    ("/edit", {**TRAM, "field": "tempo", "value": "97", "was": "96"}, {"group-0", "map-line"}),
    ("/edit", {**TRAM, "field": "notes", "value": "organ solo\nwatch Osbert", "was": ""}, {"group-2"}),
    ("/edit", {**TRAM, "section": 1, "field": "bars", "value": "12", "was": "16"}, {"map-line", "row-1"}),
    ("/edit", {**TRAM, "section": 2, "field": "cue", "value": "drum fill", "was": ""}, {"map-line", "row-2"}),
    ("/row", {"song": "Tram Home", "does": "row-up", "at": 3}, {"map-line", "row-2", "row-3"}),
    ("/row", {"song": "Tram Home", "does": "add-row", "at": 1}, {"map-line", "rows"}),
    ("/edit", {**TRAM, "field": "road_map", "value": "Intro 4", "was": ""}, {"map-line", "rows"}),
]
ALWAYS = {"folder", "songs-beside", "sheet-head", "pictures"}


@pytest.mark.parametrize(("path", "change", "parts"), ON_SHEET)
def test_what_a_change_of_a_sheet_leaves_as_it_was_is_not_sent(
    site: Site, path: str, change: dict[str, object], parts: set[str]
) -> None:
    one = mark(site, "Tram Home")
    before = site.ask("GET", f"/view?song={one}").text
    body = {**change, "open": one, "shown": version(before)}
    if "song" in body:
        body["song"] = one
    if body.get("field") == "road_map":
        body["was"] = "Intro 4*, Verse 16, Chorus 8 @strings, Outro 8 open"
    answer = site.ask("POST", path, body)
    assert answer.status_code == 200
    assert "x-whole" not in answer.headers
    after = site.ask("GET", f"/view?song={one}").text
    assert without_door(with_parts(before, answer)) == without_door(after)
    found = {name.removesuffix(f"-{one}") for name, _ in PARTIAL.findall(answer.text)}
    assert found == ALWAYS | parts


def test_undo_and_redo_send_what_differs_too(site: Site) -> None:
    site.type("Tram Home", "key", "E", "D")
    for path in ("/undo", "/redo"):
        before = site.ask("GET", "/view").text
        answer = site.ask("POST", path, {"shown": version(before)})
        assert "x-whole" not in answer.headers
        assert without_door(with_parts(before, answer)) == without_door(site.ask("GET", "/view").text)


def test_a_tab_gets_what_another_hand_changed_with_the_answer_to_its_own_edit(site: Site) -> None:
    before = site.ask("GET", "/view").text
    site.path.write_text(SHOW.replace("  - Lamplighter", "  - {title: Lamplighter, key: F#}"), encoding="utf-8")
    edit = {**TRAM, "field": "key", "value": "E", "was": "D", "shown": version(before)}
    answer = site.ask("POST", "/edit", edit)
    assert "F♯" in answer.text
    assert without_door(with_parts(before, answer)) == without_door(site.ask("GET", "/view").text)


def test_what_was_changed_outside_comes_alone(site: Site) -> None:
    before = site.ask("GET", "/view").text
    site.path.write_text(SHOW.replace("  - Lamplighter", "  - {title: Lamplighter, key: F#}"), encoding="utf-8")
    answer = site.ask("GET", f"/view?shown={version(before)}")
    assert "x-whole" not in answer.headers
    assert "Tram Home" not in answer.text
    assert without_door(with_parts(before, answer)) == without_door(site.ask("GET", "/view").text)


@pytest.mark.parametrize("shown", ["", "0123456789ab"])
def test_a_tab_that_shows_something_unknown_gets_everything(site: Site, shown: str) -> None:
    edit = {**TRAM, "field": "key", "value": "E", "was": "D", "shown": shown}
    answer = site.ask("POST", "/edit", edit)
    assert answer.headers["x-whole"] == "yes"
    assert answer.text == site.ask("GET", "/view").text


def test_faults_from_outside_and_their_end_are_shown_with_everything(site: Site) -> None:
    good = site.ask("GET", "/view").text
    site.path.write_text(SHOW + "  - set: Third\n    sogns: []\n", encoding="utf-8")
    torn = site.ask("GET", f"/view?shown={version(good)}")
    assert torn.headers["x-whole"] == "yes"
    assert 'id="faults"' in torn.text
    site.path.write_text(SHOW, encoding="utf-8")
    whole = site.ask("GET", f"/view?shown={version(torn.text)}")
    assert whole.headers["x-whole"] == "yes"
    assert 'id="faults"' not in whole.text


def test_a_row_that_is_open_in_the_tab_keeps_its_fields(site: Site) -> None:
    one = mark(site, "Tram Home")
    look = {"more": "1 9 x 99999"}
    page = site.ask("GET", f"/view?song={one}&more=1").text
    assert f'id="cue-1-{one}"' in page
    assert f'id="cue-3-{one}"' not in page
    edit = {**TRAM, "section": 1, "field": "bars", "value": "12", "was": "16", "look": look, "open": one}
    answer = site.ask("POST", "/edit", {**edit, "shown": version(page)})
    assert "x-whole" not in answer.headers
    assert f'id="cue-1-{one}"' in answer.text


def test_an_edit_of_a_long_show_reads_its_places_twice_and_looks_for_no_problem(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    songs = "".join(f"  - {{title: Song {number}, key: D}}\n" for number in range(200))
    site = Site(tmp_path, f"show: Mill\nsongs:\n{songs}")
    shown = version(site.ask("GET", "/view").text)
    done: list[str] = []
    read, look = spans._read, warnings_of  # noqa: SLF001

    def counted(text: str, depth: int) -> object:
        done.extend(["read"] if len(text) > 2_000 else [])
        return read(text, depth)

    def noted(*told: Any) -> object:  # noqa: ANN401  as it was
        done.append("look")
        return look(*told)

    monkeypatch.setattr(spans, "_read", counted)
    monkeypatch.setattr(problems, "warnings_of", noted)
    edit = {"title": "Song 150", "field": "tempo", "value": "97", "was": "", "shown": shown}
    assert site.ask("POST", "/edit", edit).status_code == 200
    assert done == ["read", "read"]  # to find the song's lines before it, and the songs' names after it
    assert site.ask("GET", "/door").status_code == 200
    assert done.count("look") == 1
