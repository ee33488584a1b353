"""The screen's process on a real display: lines in, pictures out, keys back, and nothing that ends it but its end."""

import json
import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from queue import Empty, Queue
from types import SimpleNamespace
from typing import Any

import pygame
import pytest
from msgspec.structs import replace
from real.program import wait_until
from real.window import Display
from reportlab.pdfgen.canvas import Canvas

from companion.clock import now_ns
from companion.screen import window as window_module
from companion.screen.beat import BeatMark, stroke_at
from companion.screen.chart_shown import BROKE
from companion.screen.legibility import Rgb
from companion.screen.palette import ScreenInk, inks
from companion.screen.window import GONE, LINE_READ, LOOK_AFTER_MS, StageWindow, listen, monitor_of
from companion.view import (
    Beat,
    ChartView,
    Eyes,
    Light,
    LineMark,
    LineRole,
    Picture,
    Ping,
    ScreenMessage,
    View,
    ViewLine,
    as_line,
)

VERSE = View(Picture.PLAYING, (ViewLine(LineRole.SECTION, "Verse"), ViewLine(LineRole.NEXT, "Chorus", "next")))
SOLO = View(
    Picture.PLAYING,
    (ViewLine(LineRole.SECTION, "Solo", mark=LineMark.HIGHLIGHT), ViewLine(LineRole.NEXT, "Outro", "next")),
)
SECONDS = 10


class Screen:
    """A screen as the engine starts it."""

    def __init__(self, display: Display, *options: str) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "companion.screen", *options],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            env={**os.environ, **display.env, "SDL_AUDIODRIVER": "none"},
        )
        self._said: Queue[dict[str, Any]] = Queue()
        self._listener = threading.Thread(target=self._listen, daemon=True)
        self._listener.start()

    def _listen(self) -> None:
        for line in self.process.stdout or ():
            self._said.put(json.loads(line))

    def tell(self, *lines: bytes) -> None:
        assert self.process.stdin
        self.process.stdin.write(b"".join(lines))
        self.process.stdin.flush()

    def says(self) -> dict[str, Any]:
        return self._said.get(timeout=SECONDS)

    def says_nothing(self) -> bool:
        try:
            self._said.get(timeout=0.2)
        except Empty:
            return True
        return False

    def hang_up(self) -> int:
        assert self.process.stdin
        self.process.stdin.close()
        code = self.process.wait(SECONDS)
        self.end()
        return code

    def end(self) -> None:
        self.process.kill()
        self.process.wait()
        self._listener.join(SECONDS)
        for pipe in (self.process.stdin, self.process.stdout):
            if pipe is not None:
                pipe.close()


@pytest.fixture
def screen(display: Display) -> Iterator[Screen]:
    one = Screen(display, "--window")
    one.tell(as_line(Eyes(345, 1.8, now_ns())), as_line(VERSE))
    assert one.says() == {"ready": True}
    display.wait_for_window("companion")
    yield one
    one.end()


def near(colour: Any, wanted: Rgb) -> bool:  # noqa: ANN401 - what the library calls a colour
    """Soft edges are blended, so that a colour may be a shade off."""
    return all(abs(one - other) <= 3 for one, other in zip(colour, wanted, strict=True))


def test_a_view_is_shown_and_another_one_changes_the_picture(display: Display, screen: Screen) -> None:
    before = display.photograph()
    screen.tell(as_line(SOLO))
    after = display.wait_for_change(before)
    wanted = inks(Light.DARK)[ScreenInk.HIGHLIGHTER]
    many = sum(count for count, colour in after.getcolors(1 << 20) or () if near(colour, wanted))
    assert many > 5000


def test_the_window_answers_that_it_still_draws(screen: Screen) -> None:
    screen.tell(as_line(SOLO), as_line(Ping()))
    assert screen.says()["alive"] is True, "though its window may still be opening"


def test_the_window_returns_keys_by_their_rig_file_names(display: Display, screen: Screen) -> None:
    before = now_ns()
    display.key("Next", "Prior", "Return", "question")
    said = [screen.says() for _ in range(8)]
    assert [(one["key"], one["down"]) for one in said] == [
        (key, down) for key in ("page down", "page up", "enter", "?") for down in (True, False)
    ]
    times = [one["at"] for one in said]
    assert times == sorted(times)
    assert before < times[0] < now_ns()


def test_the_window_returns_the_sign_that_shift_types(display: Display, screen: Screen) -> None:
    display.key("numbersign")  # the sharp of a key in the call box
    said = next(one for one in iter(screen.says, None) if one["down"] and one.get("text") == "#")
    assert said["key"] in ("3", "#")


def test_malformed_lines_are_reported_and_skipped(display: Display, screen: Screen) -> None:
    before = display.photograph()
    screen.tell(b"rubbish\n", b'{"line":"view","picture":"no such"}\n', b"\n", b"\xff\xfe\n", as_line(SOLO))
    assert [list(screen.says()) for _ in range(3)] == [["problem"]] * 3
    display.wait_for_change(before)


def test_of_many_views_only_the_newest_must_be_shown(display: Display, screen: Screen) -> None:
    before = display.photograph()
    screen.tell(*(as_line(one) for one in (SOLO, VERSE) * 200), as_line(SOLO))
    display.wait_for_change(before)
    assert screen.says_nothing()


def test_the_beat_continues_by_itself(display: Display, screen: Screen) -> None:
    screen.tell(as_line(View(Picture.PLAYING, VERSE.lines, Beat(300, (1.0,) * 4, 0))))
    first = display.photograph().tobytes()
    until = time.monotonic() + SECONDS
    seen = {first}
    while len(seen) < 3 and time.monotonic() < until:
        seen.add(display.photograph().tobytes())
    assert len(seen) >= 3


def test_the_window_can_be_resized(display: Display, screen: Screen) -> None:
    before = display.photograph()
    window = display.wait_for_window("companion")
    env = {**os.environ, **display.env}
    subprocess.run(["xdotool", "windowsize", str(window), "700", "420"], env=env, check=True)
    display.wait_for_change(before)
    screen.tell(as_line(SOLO))
    display.key("Next")
    assert screen.says()["key"] == "page down"


def test_the_window_ends_with_the_engine(screen: Screen) -> None:
    assert screen.hang_up() == 0


def test_a_closed_window_is_reported(display: Display, screen: Screen) -> None:
    display.close_window(display.wait_for_window("companion"))
    assert screen.says() == {"closed": True}
    assert screen.process.wait(SECONDS) == 0


def test_a_shutdown_is_no_closed_window(screen: Screen) -> None:
    """The system ends every process of a session at once; only the engine decides what that means for the night."""
    screen.process.send_signal(signal.SIGTERM)
    screen.tell(as_line(Ping()))
    assert "alive" in screen.says()
    assert screen.says_nothing()


def test_a_killed_screen_started_again_shows_the_same(display: Display, screen: Screen) -> None:
    before = display.photograph()
    screen.process.kill()
    screen.process.wait()
    again = Screen(display, "--window")
    again.tell(as_line(Eyes(345, 1.8)), as_line(VERSE))
    assert again.says() == {"ready": True}
    display.wait_for_window("companion")
    assert display.photograph().tobytes() == before.tobytes()
    assert again.hang_up() == 0


def test_full_screen_fills_the_monitor_and_hides_the_pointer(display: Display) -> None:
    full = Screen(display, "--full", "--monitor", "7", "--light", "day")
    full.tell(as_line(View(Picture.PLAYING, VERSE.lines, None, Light.DAY)))
    assert full.says() == {"ready": True}
    display.wait_for_window("companion")
    picture = display.photograph()
    corners = [(0, 0), (picture.width - 1, 0), (0, picture.height - 1), (picture.width - 1, picture.height - 1)]
    assert {picture.getpixel(corner) for corner in corners} == {inks(Light.DAY)[ScreenInk.PAPER]}
    assert full.hang_up() == 0


def test_without_a_display_the_window_says_so_and_ends() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "companion.screen"],
        input=as_line(VERSE),
        capture_output=True,
        env={**os.environ, "SDL_VIDEODRIVER": "x11", "DISPLAY": ":987"},
        timeout=SECONDS,
        check=False,
    )
    assert done.returncode == 1
    assert json.loads(done.stdout)["problem"].startswith("no window: ")


def test_wrong_arguments_are_refused() -> None:
    command = [sys.executable, "-m", "companion.screen", "--light", "candle"]
    assert subprocess.run(command, capture_output=True, check=False).returncode == 2


def test_the_window_reopens_when_a_monitor_comes_or_goes(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SDL_VIDEODRIVER", "dummy")
    said = BytesIO()
    window = StageWindow(said, full=True)
    try:
        monkeypatch.setattr(pygame.display, "get_desktop_sizes", lambda: [(640, 360)])
        pygame.event.post(pygame.event.Event(LINE_READ, line=as_line(VERSE)))
        ended = threading.Timer(0.6, pygame.event.post, [pygame.event.Event(GONE)])
        ended.start()
        window.run()
        assert b"the monitors have changed" in said.getvalue()
        assert b'{"ready":true}' in said.getvalue()
    finally:
        pygame.display.quit()


@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere there is always a display")
def test_without_a_display_nothing_is_drawn() -> None:
    """SDL would open a window on a surface in memory, and the engine would think that somebody sees it."""
    hidden = ("DISPLAY", "WAYLAND_DISPLAY", "SDL_VIDEODRIVER")
    done = subprocess.run(
        (sys.executable, "-m", "companion.screen", "--window"),
        env={name: value for name, value in os.environ.items() if name not in hidden},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        timeout=30,
        check=False,
    )
    assert [json.loads(line)["problem"] for line in done.stdout.splitlines()] == ["no window: there is no display"]


def chart_pdf(folder: Path) -> Path:
    """Write a chart of one page: black at its head, blank below, black at its foot."""
    path = folder / "kettle.pdf"
    canvas = Canvas(str(path), pagesize=(600, 800))
    canvas.rect(0, 700, 600, 100, fill=1)
    canvas.rect(0, 0, 600, 100, fill=1)
    canvas.showPage()
    canvas.save()
    return path


def test_a_chart_replaces_the_view_turns_and_closes(display: Display, screen: Screen, tmp_path: Path) -> None:
    seen = display.photograph()
    path = str(chart_pdf(tmp_path))
    screen.tell(as_line(replace(VERSE, chart=ChartView(path))))
    said = screen.says()
    assert said == {"chart": {"path": path, "turns": said["chart"]["turns"]}}
    assert said["chart"]["turns"] > 1
    ink, paper = inks(Light.DARK)[ScreenInk.INK], inks(Light.DARK)[ScreenInk.PAPER]
    middle = seen.width * 6 // 20, seen.height * 3 // 10

    def shown(at: tuple[int, int], colour: Rgb) -> bool:
        return near(display.photograph().getpixel(at), colour)

    wait_until(lambda: shown(middle, ink), "the head of the chart", SECONDS)
    screen.tell(as_line(replace(VERSE, chart=ChartView(path, said["chart"]["turns"] - 1))))
    wait_until(lambda: shown(middle, paper), "its last screenful", SECONDS)
    screen.tell(as_line(replace(SOLO, chart=ChartView(path, said["chart"]["turns"] - 1))))
    screen.tell(as_line(VERSE))
    wait_until(lambda: display.photograph().tobytes() == seen.tobytes(), "the view as it was", SECONDS)


def test_a_missing_chart_is_reported_and_the_view_stays(display: Display, screen: Screen, tmp_path: Path) -> None:
    before = display.photograph()
    path = str(tmp_path / "nowhere.pdf")
    screen.tell(as_line(replace(VERSE, chart=ChartView(path))))
    assert screen.says() == {"chart": {"path": path, "problem": "the chart's file is not there"}}
    assert display.photograph().tobytes() == before.tobytes()
    screen.tell(as_line(replace(SOLO, chart=ChartView(path))))
    display.wait_for_change(before)


def test_the_view_survives_a_crash_of_the_chart_process(display: Display, screen: Screen, tmp_path: Path) -> None:
    """It is asked to draw a pipe that nobody writes to, and is ended as a hanging one."""
    before = display.photograph()
    path = tmp_path / "hangs.pdf"
    os.mkfifo(path)
    screen.tell(as_line(replace(VERSE, chart=ChartView(str(path)))))
    child = wait_until(lambda: children_of(screen.process.pid), "the process that draws", SECONDS)
    os.kill(child[0], 9)
    assert screen.says() == {"chart": {"path": str(path), "problem": BROKE}}
    screen.tell(as_line(SOLO))
    display.wait_for_change(before)


def children_of(pid: int) -> list[int]:
    return [int(one) for one in Path(f"/proc/{pid}/task/{pid}/children").read_text(encoding="ascii").split()]


@pytest.mark.parametrize(
    ("first", "monitor"), [(as_line(Eyes(monitor=2)), 2), (as_line(Eyes()), 0), (as_line(VERSE), 0), (b"rubbish", 0)]
)
def test_the_first_line_names_the_monitor(first: bytes, monitor: int) -> None:
    assert monitor_of(first) == monitor


def test_the_beat_follows_the_nights_one_clock(monkeypatch: pytest.MonkeyPatch) -> None:
    one = StageWindow.__new__(StageWindow)
    one._eyes = Eyes(zero_ns=7_000_000)  # noqa: SLF001 - a window without a display
    monkeypatch.setattr(window_module, "now_ns", lambda: 12_000_000)
    assert one._now_ms() == 5.0  # noqa: SLF001 - as above


def test_the_windows_answers_say_how_late_its_drawing_is(monkeypatch: pytest.MonkeyPatch) -> None:
    said: list[ScreenMessage] = []
    drawing = SimpleNamespace(pinged=0, opening=False, say=said.append)
    monkeypatch.setattr("pygame.event.post", lambda _: None)  # nobody takes it

    def lines() -> Iterator[bytes]:
        yield from [as_line(Ping())] * 3
        drawing.pinged = 3  # it draws again
        yield as_line(Ping())

    listen(drawing, as_line(SOLO), lines())  # type: ignore[arg-type]  # what listening needs of a window
    assert [(one.alive, one.behind) for one in said] == [(True, 0), (True, 1), (True, 2), (True, 0)]


def test_after_a_count_off_the_window_waits_for_the_next_event(monkeypatch: pytest.MonkeyPatch) -> None:
    """The counted bars are over, and the mark never changes again."""
    waited: list[int] = []
    one = StageWindow.__new__(StageWindow)
    one._eyes, one._mark = Eyes(zero_ns=0), BeatMark(0, 0, 10, 10, 1, counts_off=True)  # noqa: SLF001 - as above
    one._until_ms = stroke_at(Beat(120, (1.0,) * 4, from_ms=0, count_off_bars=2), 60_000).until_ms  # noqa: SLF001
    monkeypatch.setattr("pygame.event.wait", waited.append)
    monkeypatch.setattr("pygame.event.get", list)
    one._came()  # noqa: SLF001
    assert waited == [LOOK_AFTER_MS]


def test_a_window_whose_engine_died_while_asking_closes(monkeypatch: pytest.MonkeyPatch) -> None:
    posted: list[int] = []

    def engine_is_gone(_: ScreenMessage) -> None:
        raise BrokenPipeError

    drawing = SimpleNamespace(pinged=0, opening=False, say=engine_is_gone)
    monkeypatch.setattr("pygame.event.post", lambda event: posted.append(event.type))
    listen(drawing, as_line(SOLO), [as_line(Ping())])  # type: ignore[arg-type]  # what listening needs of a window
    assert posted == [LINE_READ, GONE]


def test_a_window_whose_only_monitor_is_unplugged_waits_for_it(monkeypatch: pytest.MonkeyPatch) -> None:
    one = StageWindow.__new__(StageWindow)
    one._monitor, one._sizes = 0, [(1920, 1080)]  # noqa: SLF001 - as above
    monkeypatch.setattr(one, "_monitors", list)
    monkeypatch.setattr(one, "say", lambda _: None)
    monkeypatch.setattr("time.sleep", lambda _: None)
    one._recover("the monitors have changed")  # noqa: SLF001
    assert (one._sizes, one.opening) == ([], False)  # noqa: SLF001
