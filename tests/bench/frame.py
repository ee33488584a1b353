"""Bench: what a picture costs. Frames in a real window, layout, from a press to the changed picture, the beat mark.

    .venv/bin/python tests/bench/frame.py [--runs 3] [--presses 1000] [--seconds 60]

Frames are 1920 by 1080 in a window on an X server in memory. From press to picture goes through both processes: step,
view and the line to the pipe here; layout, paint and the window's update there. Linux only, since it reads /proc.
"""

import argparse
import json
import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bench.stopwatch import ROOT, Row, percentile, show
from real.window import Display

SIZE = (1920, 1080)
FRAMES = 200
PAUSE_S = 0.01  # between presses; a foot is slower

# The real screen, which also says when the window's update has returned.
TELLING_SCREEN = """
import os, sys, time
import companion.screen.window as window
update = window.pygame.display.update
def told(changed):
    update(changed)
    os.write(1, b'{"problem":"shown %d"}\\n' % time.monotonic_ns())
window.pygame.display.update = told
window.main_window(full=True, monitor=0, light=window.Light.DARK)
os._exit(0)
"""


def timed_ms(work: Callable[[], object], times: int = FRAMES) -> float:
    """Return the median time of one call."""
    took = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        took.append((time.perf_counter() - start) * 1000)
    return statistics.median(took)


def in_window() -> dict[str, float]:
    """Measure frames in this process, which must have a display; ms each."""
    import pygame  # noqa: PLC0415 - the other half of this file needs none of it

    from companion.night.preflight import make_ready  # noqa: PLC0415
    from companion.screen.beat import beat_mark  # noqa: PLC0415
    from companion.screen.layout import lay_out  # noqa: PLC0415
    from companion.screen.page import page_of, sizes_of  # noqa: PLC0415
    from companion.screen.painter import Painter, Ticked  # noqa: PLC0415
    from companion.screen.scenes import every_state  # noqa: PLC0415
    from companion.screen.screen_fonts import typeface  # noqa: PLC0415
    from companion.stage import Surroundings  # noqa: PLC0415
    from companion.view import Beat, Light, Looks, view  # noqa: PLC0415

    os.environ.setdefault("SDL_FRAMEBUFFER_ACCELERATION", "0")
    pygame.display.init()
    pygame.font.init()
    surface = pygame.display.set_mode(SIZE, pygame.FULLSCREEN)
    night = every_state(make_ready(ROOT / "shows" / "pier-street.yaml").book)
    around, page, face = Surroundings(), page_of(SIZE, SIZE, 345, 1.8), typeface()
    views = [view(state, around, Looks(beat=True)) for state in night]
    pages = [lay_out(seen, page, face) for seen in views]
    painter = Painter(face)
    turn = iter(range(10**9))

    def whole(*, afresh: bool) -> None:
        number = next(turn) % len(pages)
        if afresh:
            painter.__init__(face)  # type: ignore[misc]  # as if nothing had ever been painted
        painter.forget()
        pygame.display.update(painter.paint(surface, pages[number], Light.DARK))

    def change() -> None:
        pygame.display.update(painter.paint(surface, pages[next(turn) % len(pages)], Light.DARK))

    figures = {"afresh": timed_ms(lambda: whole(afresh=True), 60), "whole": timed_ms(lambda: whole(afresh=False))}
    figures["change"] = timed_ms(change)
    here = pages[next(turn) % len(pages)]
    painter.paint(surface, here, Light.DARK)
    figures["same"] = timed_ms(lambda: painter.paint(surface, here, Light.DARK), 2000)
    beating = next(seen for seen in views if isinstance(seen.beat, Beat))
    mark = beat_mark(beating, page, sizes_of(page))
    assert mark is not None

    def tick() -> None:
        ticked = Ticked(mark, next(turn) % mark.places)
        pygame.display.update(painter.paint(surface, here, Light.DARK, ticked))

    figures["beat"] = timed_ms(tick)
    figures["layout"] = timed_ms(lambda: lay_out(views[next(turn) % len(views)], page, face), 2 * len(views))
    figures["view"] = timed_ms(lambda: view(night[next(turn) % len(night)], around, Looks()), 2 * len(night))
    return figures


class Screen:
    """The real screen's process, full screen on a display."""

    def __init__(self, display: Display) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-c", TELLING_SCREEN],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            env={**os.environ, **display.env},
            cwd=ROOT,
        )

    def tell(self, line: bytes) -> None:
        """Write a line to it."""
        assert self.process.stdin
        self.process.stdin.write(line)
        self.process.stdin.flush()

    def shown_ns(self) -> int:
        """Wait for the next picture; when it was there."""
        assert self.process.stdout
        for line in self.process.stdout:
            problem = json.loads(line).get("problem", "")
            if problem.startswith("shown "):
                return int(problem.split()[1])
        raise RuntimeError("the screen ended")

    def cpu_s(self) -> float:
        """Return the processor time that it has taken."""
        after_name = Path(f"/proc/{self.process.pid}/stat").read_text(encoding="ascii").rpartition(")")[2].split()
        return (int(after_name[11]) + int(after_name[12])) / os.sysconf("SC_CLK_TCK")

    def end(self) -> None:
        """End it."""
        assert self.process.stdin
        self.process.stdin.close()
        self.process.wait(5)


def from_press(display: Display, presses: int, seconds: float) -> tuple[list[float], float]:
    """Return the ms from a press to its picture, and the share of a core that the beat mark takes at 120 bpm."""
    from companion.night.preflight import make_ready  # noqa: PLC0415
    from companion.stage import Next, PositionKind, Surroundings, at_start, step  # noqa: PLC0415
    from companion.view import Eyes, Looks, as_line, view  # noqa: PLC0415
    from companion.view.view_lines import Beat  # noqa: PLC0415

    book = make_ready(ROOT / "shows" / "pier-street.yaml").book
    state, around = at_start(book), Surroundings()
    screen = Screen(display)
    screen.tell(as_line(Eyes(345, 1.8, time.monotonic_ns())))
    screen.tell(as_line(view(state, around)))
    screen.shown_ns()
    took = []
    for press in range(presses):
        time.sleep(PAUSE_S)
        start = time.monotonic_ns()
        before = view(state, around)
        state, _ = step(state, Next(press))
        if state.place.where is PositionKind.END:
            state = at_start(book)
        seen = view(state, around)
        if seen == before:
            continue  # one pass of the same section more, in a song without another word for it
        screen.tell(as_line(seen))
        took.append((screen.shown_ns() - start) / 1_000_000)
    beating = view(state, around, Looks())
    beat = Beat(120, (1.0,) * 4, from_ms=0)
    screen.tell(as_line(type(beating)(beating.picture, beating.lines, beat, beating.light)))
    started, cpu = time.monotonic(), screen.cpu_s()
    while time.monotonic() - started < seconds:
        screen.shown_ns()
    share = (screen.cpu_s() - cpu) / (time.monotonic() - started)
    screen.end()
    return took, share


def main(argv: Sequence[str] | None = None) -> int:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=3)
    parser.add_argument("--presses", type=int, default=1000)
    parser.add_argument("--seconds", type=float, default=60)
    parser.add_argument("--in-window", action="store_true", help=argparse.SUPPRESS)
    args = parser.parse_args(argv)
    if args.in_window:
        sys.stdout.write(json.dumps(in_window()) + "\n")
        return 0
    runs: list[dict[str, float]] = []
    with Display(*SIZE) as display:
        for _ in range(args.runs):
            command = [sys.executable, __file__, "--in-window"]
            env = {**os.environ, **display.env}
            done = subprocess.run(command, env=env, capture_output=True, text=True, check=True)
            figures = json.loads(done.stdout.splitlines()[-1])
            took, share = from_press(display, args.presses, args.seconds)
            figures |= {"p50": percentile(took, 0.5), "p99": percentile(took, 0.99), "core": share * 100}
            runs.append(figures)

    def of(name: str) -> list[float]:
        return [figures[name] for figures in runs]

    show(
        "What a picture costs",
        [
            Row("whole page, words painted before", "ms", of("whole"), goal=16),
            Row("whole page, nothing painted before", "ms", of("afresh")),
            Row("next section, only what changed", "ms", of("change")),
            Row("the same view again, against a whole page", "ms", of("same"), of("whole"), goal=0.02),
            Row("beat mark alone", "ms", of("beat"), goal=1),
            Row("layout of a state", "ms", of("layout"), goal=2),
            Row("view of a state", "ms", of("view"), goal=0.2),
            Row("press to changed picture, p50", "ms", of("p50")),
            Row("press to changed picture, p99", "ms", of("p99"), goal=20),
            Row("screen with beat mark at 120 bpm", "%", of("core"), goal=5),
        ],
    )
    return 0


if __name__ == "__main__":
    sys.exit(main())
