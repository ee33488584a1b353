"""The stage is started from a page as a separate process, and continues when the pages end."""

import asyncio
import os
import time
from pathlib import Path

import msgspec
import psutil
import pytest
from pages.visiting import Site
from starlette.requests import Request
from starlette.responses import StreamingResponse

from companion.pages import answering
from companion.pages.answering import Pages
from companion.pages.desk import ShowDesk, Stack
from companion.pages.earlier_stage import KeptStage, earlier_stage, note_stage
from companion.pages.stage_door import StageDoor
from companion.pages.visitor import keep, kept_path
from companion.ports import read_journal
from companion.stopping import Stopping

MILL = "show: Night at the Mill\nsongs:\n  - title: Tram Home\n    sound: grand piano\n    road_map: Intro 4, Verse 8\n"


@pytest.fixture
def site(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Site:
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "SDL_VIDEODRIVER"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    return Site(tmp_path, MILL)


def test_the_stage_starts_once_and_says_why_it_ended(site: Site) -> None:
    door = site.workplace.door
    page = site.ask("GET", "/view").text
    assert "These would stop the show" not in page
    assert 'data-stage="tonight">' in page
    answer = site.ask("POST", "/stage", {"how": "tonight"})
    assert answer.status_code == 200, answer.text
    assert "The stage is starting" in answer.headers["x-notice"]
    process = door.process
    assert process is not None
    if door.is_open:
        assert site.ask("POST", "/stage", {"how": "tonight"}).status_code == 422
    try:
        command = psutil.Process(process).cmdline()
        assert command[-4:] == ["play", str(site.path), "--screen", "full"]
    except psutil.NoSuchProcess:
        pass  # it has ended already: this computer has no stage
    if door.is_open:
        psutil.Process(process).terminate()
    while door.is_open:
        time.sleep(0.05)
    assert "The stage is running" not in site.ask("GET", "/view").text


def test_what_would_stop_the_show_in_several_songs_is_said_once(tmp_path: Path) -> None:
    songs = "".join(f"  - {{title: {title}, sound: kazoo choir}}\n" for title in ("Tram Home", "Moth", "Owl"))
    page = Site(tmp_path, f"show: Night at the Mill\nsongs:\n{songs}").ask("GET", "/view").text
    told = page.partition("These would stop the show")[2].partition("</details>")[0]
    assert told.count("<li>") == 1
    assert [title for title in ("Tram Home", "Moth", "Owl") if f">{title}</a>" in told] == ["Tram Home", "Moth", "Owl"]


@pytest.mark.parametrize("how", ["", "now", "--screen"])
def test_an_unknown_way_to_start_the_stage_is_refused(site: Site, how: str) -> None:
    assert site.ask("POST", "/stage", {"how": how}).status_code == 422
    assert site.workplace.door.process is None


def test_a_stage_that_cannot_start_says_so(tmp_path: Path) -> None:
    (tmp_path / "pages").mkdir()
    door = StageDoor(tmp_path)
    door.start(tmp_path / "none.yaml", "rehearsal")
    while door.is_open:
        time.sleep(0.05)
    assert any("none.yaml" in line for line in door.failed), door.failed
    assert os.getpid() != door.process


def test_the_shows_file_is_not_polled_while_the_stage_is_on(site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    looks: list[bool] = []
    is_on = iter([True, True, True, False])
    look = ShowDesk.look

    def counted(desk: ShowDesk) -> Stack:
        looks.append(True)
        return look(desk)

    monkeypatch.setattr(ShowDesk, "look", counted)
    monkeypatch.setattr(StageDoor, "is_open", property(lambda _: next(is_on)))
    monkeypatch.setattr(answering, "LOOK_S", 0)

    async def told() -> object:
        answer = await Pages(site.workplace, site.visitors, Stopping()).changes(Request({"type": "http"}))
        assert isinstance(answer, StreamingResponse)
        return await anext(aiter(answer.body_iterator))

    assert asyncio.run(told()) == "event: show-changed\ndata: stage\n\n"  # the page looks again when the stage ends
    assert looks == [True]


@pytest.mark.parametrize(
    ("how", "words", "is_over"),
    [
        ("rehearsal", "The stage has ended", True),
        ("tonight", "The stage has ended; the next start continues there", False),
    ],
)
def test_a_stage_without_a_window_says_so_and_can_be_ended_from_the_page(
    site: Site, tmp_path: Path, how: str, words: str, *, is_over: bool
) -> None:
    door = site.workplace.door
    site.ask("POST", "/stage", {"how": how})
    until = time.monotonic() + 60
    while door.is_open and not door.no_window and time.monotonic() < until:
        time.sleep(0.1)
    assert door.no_window == "there is no display", (tmp_path / "kept" / "pages" / "stage.log").read_text()
    page = site.ask("GET", "/door").text
    assert "The stage is running, but no window could be opened: there is no display." in page
    assert 'data-stage="end"' in page
    answer = site.ask("POST", "/stage", {"how": "end"})
    assert answer.headers["x-notice"] == words
    assert read_journal(max((tmp_path / "data").rglob("*.journal"))).ended is is_over
    assert not door.is_open
    assert door.failed == ()
    page = site.ask("GET", "/door").text
    assert "The stage is running" not in page
    assert "The stage ended:" not in page
    assert site.ask("POST", "/stage", {"how": "end"}).status_code == 422


def test_a_stage_that_outlived_the_pages_is_found_and_can_be_ended_from_the_next_ones(
    site: Site, tmp_path: Path
) -> None:
    site.ask("POST", "/stage", {"how": "rehearsal"})
    process = psutil.Process(site.workplace.door.process)
    until = time.monotonic() + 60
    while not site.workplace.door.no_window and time.monotonic() < until:
        time.sleep(0.1)  # it handles the end once it is this far
    site.workplace.close()
    again = Site(tmp_path, None)
    again.workplace.open(site.path)
    page = again.ask("GET", "/view").text
    assert "The stage is running, but no window could be opened: there is no display." in page
    assert 'data-stage="end"' in page
    assert again.ask("POST", "/stage", {"how": "tonight"}).status_code == 422
    assert again.ask("POST", "/stage", {"how": "end"}).status_code == 200
    assert not process.is_running() or process.status() == psutil.STATUS_ZOMBIE
    assert "The stage is running" not in again.ask("GET", "/door").text


def test_another_process_that_was_given_the_same_number_is_no_stage(tmp_path: Path) -> None:
    show = tmp_path / "mill.yaml"
    (tmp_path / "pages").mkdir()
    note_stage(tmp_path, show, os.getpid(), "rehearsal")
    assert earlier_stage(tmp_path, show) == (psutil.Process(), "rehearsal")
    kept = kept_path(tmp_path, show).with_suffix(".stage")
    was = msgspec.json.decode(kept.read_bytes(), type=KeptStage)
    keep(kept, msgspec.structs.replace(was, started=was.started - 60))
    assert earlier_stage(tmp_path, show) is None
    for broken in (b"", b"{}", b'{"process": -1, "started": 1}', b'{"process": 1e30, "started": 1}', b"[" * 5000):
        kept.write_bytes(broken)
        assert earlier_stage(tmp_path, show) is None
