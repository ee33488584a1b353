"""What a page must take without harm: shows of every size, fields full of a novel, folders and files that are gone."""

import io
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pages.visiting import SHOW, Answer, Site

from companion.errors import NotWritten
from companion.files.file_writing import write_whole
from companion.pages import web_server
from companion.pages.gate import MAX_JSON
from companion.show import read_show

NOVEL = "It was a wet night at the mill, and nobody had tuned the piano. " * 80
BOOK = "kiln-hill:\n  title: Kiln Hill\n  key: C\n"


@pytest.fixture
def site(tmp_path: Path) -> Site:
    return Site(tmp_path)


def mark(site: Site, number: int = 0) -> str:
    assert site.workplace.desk is not None
    return site.workplace.desk.look().songs[number].mark


def test_without_a_browser_the_address_is_printed(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "BROWSER"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr("sys.platform", "linux")
    out = io.StringIO()
    web_server._show("http://127.0.0.1:4711/?key=abc", out)  # noqa: SLF001  what the thread of the start does
    assert "http://127.0.0.1:4711/?key=abc" in out.getvalue()
    assert "within a minute" in out.getvalue()


@pytest.fixture
def read_only(site: Site, monkeypatch: pytest.MonkeyPatch) -> Site:
    """The site after its folder has become read-only; these tests may run as root, whom no mode stops."""
    may = os.access
    monkeypatch.setattr(os, "access", lambda path, mode, **more: not mode & os.W_OK and may(path, mode, **more))
    return site


def test_in_an_unwritable_folder_the_page_says_so_and_offers_nothing_to_type(read_only: Site) -> None:
    stack = read_only.ask("GET", "/view").text
    sheet = read_only.ask("GET", f"/view?song={mark(read_only)}").text
    assert "Type down the list" not in stack
    assert "goes on to the next song" not in stack
    assert "Tap the tempo" not in sheet
    for page in (stack, sheet):
        assert "read-only folder" in page
        assert page.count("<input") <= page.count("readonly") + page.count("disabled") + page.count('type="radio"') + 1
        assert 'data-row-do="' not in page
    assert 'id="list"' not in stack


BIG = "show: Long\nsongs:\n" + "".join(f"  - title: Study {one}\n    notes: {'slow ' * 90}\n" for one in range(2_400))
LONG_MAP = "show: Long\nsongs:\n  - title: Study\n    tempo: 120\n    road_map:\n" + "".join(
    f"      - {{section: Verse {one}, bars: 4, chords: 1 | 4 | 5 | 1}}\n" for one in range(400)
)


@pytest.mark.long
def test_a_show_of_one_mebibyte_opens_and_takes_a_key(tmp_path: Path) -> None:
    text = BIG[: (1 << 20) - 200].rsplit("  - title", 1)[0]
    assert len(text) > 1_000_000
    site = Site(tmp_path, text)
    assert site.ask("GET", "/view").text.count('class="song"') == text.count("title:")
    assert site.type("Study 7", "key", "Bb").status_code == 200
    assert "key: Bb" in site.text


def test_a_song_of_400_sections_opens_and_takes_another_name_and_no_401st(tmp_path: Path) -> None:
    site = Site(tmp_path, LONG_MAP)
    page = site.ask("GET", f"/view?song={mark(site)}").text
    assert page.count('class="row fields"') == 400
    song = {"title": "Study", "occurrence": 1, "section": 399, "field": "section"}
    assert site.ask("POST", "/edit", {**song, "value": "Coda", "was": "Verse 399"}).status_code == 200
    assert read_show(site.path).show.sets[0].songs[0].road_map[-1].name == "Coda"
    before = site.text
    answer = site.ask("POST", "/row", {"song": mark(site), "does": "add-row", "at": 399})
    assert answer.status_code == 422
    assert "400" in answer.text
    assert site.text == before


def test_two_songs_with_one_title_have_sheets_and_rows_of_their_own(site: Site) -> None:
    first, second = mark(site, 1), mark(site, 3)
    assert first != second
    page = site.ask("GET", f"/view?song={second}").text
    assert f'data-song="{second}"' in page
    assert f'href="#{first}">First' in page  # the way to the other one
    assert site.ask("POST", "/row", {"song": second, "does": "add-row", "at": -1}).status_code == 200
    one, other = read_show(site.path).show.sets[0].songs[1], read_show(site.path).show.sets[1].songs[0]
    assert (len(one.road_map), len(other.road_map)) == (0, 1)


def test_a_songbook_that_cannot_be_written_is_reported_and_nothing_changes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = tmp_path / "songbook.yaml"
    book.write_text(BOOK, encoding="utf-8")
    site = Site(tmp_path, "show: Night at the Mill\nsongs:\n  - use: songbook.yaml#kiln-hill\n")
    before = site.text

    def refuses(path: Path, *more: Any, **others: Any) -> None:  # noqa: ANN401  whatever it takes
        if Path(path).name == book.name:
            raise NotWritten(f"{path} cannot be written (Read-only file system)")
        write_whole(path, *more, **others)

    monkeypatch.setattr("companion.edits.saving.write_whole", refuses)
    typed = {"title": "songbook.yaml#kiln-hill", "occurrence": 1, "field": "tempo", "value": "96", "was": ""}
    assert site.ask("POST", "/edit", typed).status_code == 409  # only tonight, or in the songbook?
    answer = site.ask("POST", "/where", {"show": f"{mark(site)} book"})
    assert answer.status_code == 422
    assert "cannot be written" in answer.text
    assert (site.text, book.read_text(encoding="utf-8")) == (before, BOOK)
    assert site.ask("POST", "/where", {"show": f"{mark(site)} tonight"}).status_code == 200
    assert site.ask("POST", "/edit", typed).status_code == 200
    assert "tempo: 96" in site.text


def edit(site: Site, value: str, **more: object) -> Answer:
    return site.ask("POST", "/edit", {"title": "Tram Home", "occurrence": 1, "value": value, "was": "", **more})


def test_a_novel_pasted_into_any_field_is_refused_with_a_reason(site: Site) -> None:
    assert site.type("Tram Home", "road_map", "Intro 4, Verse 8").status_code == 200
    before = site.text
    for field in ("title", "artist", "key", "tempo", "sound", "chart", "recording", "count_off", "notes"):
        answer = edit(site, NOVEL * 2, field=field, was="Tram Home" if field == "title" else "")
        assert answer.status_code == 422, field
        assert "slip" in answer.text, field
    for field in ("bars", "sound", "cue", "watch", "chords", "hits"):
        was = "4" if field == "bars" else ""
        assert edit(site, NOVEL, field=field, section=0, was=was).status_code == 422, field
    assert edit(site, NOVEL * 20, field="road_map", was="Intro 4, Verse 8").status_code == 422
    for path, body in (
        ("/add", {"into": "t0", "title": NOVEL}),
        ("/add-set", {"title": NOVEL}),
        ("/begin", {"title": NOVEL}),
    ):
        assert site.ask("POST", path, body).status_code == 422, path
    assert edit(site, "x" * MAX_JSON, field="notes").status_code == 413
    assert site.text == before


@pytest.mark.parametrize("does", [lambda path: path.unlink(), lambda path: path.rename(path.with_name("other.yaml"))])
def test_a_show_deleted_or_renamed_meanwhile_is_reported_and_taken_up_again(
    site: Site, does: Callable[[Path], object]
) -> None:
    site.ask("GET", "/view")
    does(site.path)
    for answer in (
        site.type("Tram Home", "key", "Bb"),
        site.ask("POST", "/undo", {}),
        site.ask("POST", "/add-set", {"title": "Third"}),
        site.ask("POST", "/stage", {"how": "tonight"}),
    ):
        assert answer.status_code == 422
    assert not site.path.exists()
    page = site.ask("GET", "/view").text
    assert 'id="faults"' in page
    assert "Tram Home" in page  # the last good reading
    site.path.write_text(SHOW, encoding="utf-8")
    assert 'id="faults"' not in site.ask("GET", "/view").text
    assert site.type("Tram Home", "key", "Bb").status_code == 200


@pytest.mark.parametrize(
    ("path", "body"),
    [
        ("/edit", {"title": "Tram Home", "field": "chords", "value": "C", "was": "", "section": -1}),
        ("/edit", {"title": "Tram Home", "field": "chords", "value": "C", "was": "", "section": 10**15}),
        ("/try", {"title": "Tram Home", "field": "chords", "value": "C", "was": "", "section": -1}),
        ("/choose", {"show": "1" * 5_000}),
        ("/choose", {"show": "-1"}),
    ],
)
def test_a_number_that_names_nothing_is_refused_in_words(site: Site, path: str, body: dict[str, object]) -> None:
    before = site.text
    assert site.ask("POST", path, body).status_code == 422
    assert site.text == before
