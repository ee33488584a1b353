"""The program that needs no Python, built here and played in a root that holds nothing but it and the C library."""

import os
import platform
import re
import signal
from collections.abc import Iterator
from contextlib import closing
from http.client import HTTPConnection
from pathlib import Path

import pytest
from frozen.build import build
from real.jack import JackServer, JackTap
from real.program import NotThere, Program, needs, wait_until
from real.stage import Stage, children
from real.window import Display

from companion.child import OWN_MODULE

LIBRARIES = Path("/lib") / f"{platform.machine()}-linux-gnu"
SHARED = "/dev/shm"  # noqa: S108 - where JACK's server and its clients meet
X_NAMES = "/usr/share/X11"  # without its locales no window gets a title
C_LIBRARY = ("libc.so.6", "libm.so.6", "libdl.so.2", "libpthread.so.0", "librt.so.1", "libutil.so.1", "libresolv.so.2")
OF_A_DESKTOP = (
    *("libz.so.1", "libX11.so.6", "libX11-xcb.so.1", "libXext.so.6", "libXcursor.so.1", "libXi.so.6", "libXfixes.so.3"),
    *("libXrandr.so.2", "libXss.so.1", "libXrender.so.1", "libxcb.so.1", "libXau.so.6", "libXdmcp.so.6"),
    *("libbsd.so.0", "libmd.so.0"),
)


def in_an_empty_root(built: Path, folder: Path, env: dict[str, str]) -> tuple[str, ...]:
    """Return the command that runs the program with this folder as all it may write, and without Python."""
    loader = next(Path("/lib64").glob("ld-linux*"), Path("/lib/ld-linux-aarch64.so.1"))
    there = [loader, *(LIBRARIES / name for name in (*C_LIBRARY, *OF_A_DESKTOP))]
    return (
        *("bwrap", "--die-with-parent", "--tmpfs", "/", "--proc", "/proc", "--dev", "/dev"),
        *("--bind", SHARED, SHARED, "--ro-bind", str(built), "/opt/companion"),
        *("--bind", str(folder), str(folder), "--ro-bind-try", X_NAMES, X_NAMES),
        *(word for path in there if path.exists() for word in ("--ro-bind", str(path.resolve()), str(path))),
        *("--clearenv", *(word for name, value in env.items() for word in ("--setenv", name, value))),
        "/opt/companion/companion",
    )


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    try:
        needs("bwrap")
    except NotThere as missing:
        pytest.skip(str(missing))
    ready = os.environ.get("COMPANION_FROZEN")
    return Path(ready) if ready else build(tmp_path_factory.mktemp("frozen"))


@pytest.fixture
def stage(tmp_path: Path, jack: JackServer) -> Iterator[Stage]:
    with JackTap(jack, "Foot Box") as box, JackTap(jack, "Board") as board:
        yield Stage(tmp_path, jack, box, board)


def window_of(program: Program) -> int:
    """Wait for the window's process, which is the same program again; its number."""

    def found() -> int | None:
        inside = [one for child in children(program.process.pid) for one in (child, *children(child))]
        for one in (*inside, *(grand for child in inside for grand in children(child))):
            try:
                words = Path(f"/proc/{one}/cmdline").read_bytes().split(b"\0")
            except OSError:  # it has just ended
                continue
            if words[1:3] == [OWN_MODULE.encode(), b"companion.screen"] and words[0].startswith(b"/opt/companion"):
                return one
        return None

    return wait_until(found, "the window's process", 30)


@pytest.mark.long
@pytest.mark.real
def test_the_frozen_program_plays_on_real_ports_and_restarts_its_window(
    stage: Stage, display: Display, built: Path
) -> None:
    env = {"HOME": str(stage.folder), "LANG": "C.UTF-8", **stage.jack.env, **display.env}
    words = ("play", str(stage.show), "--rig", str(stage.rig), "--screen", "window")
    with Program((*in_an_empty_root(built, stage.folder, env), *words)) as program:
        stage.program = program
        wait_until(stage.programs, "the first sound", 60)
        display.wait_for_window("companion", 30)
        stage.wait_for_the_foot()
        before = display.photograph()
        for _ in range(4):  # the first begins the song, whose sound is on already
            stage.press(64)
        wait_until(lambda: stage.programs()[-3:] == [1, 2, 3], "a sound for each step", 10)
        display.wait_for_change(before, 10)
        screen = window_of(program)
        os.kill(screen, signal.SIGKILL)
        wait_until(lambda: window_of(program) not in (screen, 0), "another window's process", 20)
        display.wait_for_window("companion", 20)
        again = display.photograph()
        stage.press(64)
        display.wait_for_change(again, 20)


@pytest.mark.long
@pytest.mark.real
def test_the_frozen_program_serves_the_pages_with_all_their_files(stage: Stage, built: Path) -> None:
    env = {"HOME": str(stage.folder), "LANG": "C.UTF-8"}
    words = (*in_an_empty_root(built, stage.folder, env), "prepare", "--no-browser", str(stage.show))
    with Program(words) as program:
        line = program.lines[program.wait_for(lambda one: "/?key=" in one, 60)]
        address = re.search(r"http://(127\.0\.0\.1:\d+)(/\?key=\S+)", line)
        assert address is not None, line
        with closing(HTTPConnection(address[1], timeout=60)) as line_to_it:
            headers: dict[str, str] = {}

            def page(path: str) -> str:
                line_to_it.request("GET", path, headers=headers)
                answer = line_to_it.getresponse()
                headers.setdefault("Cookie", (answer.headers["set-cookie"] or "").partition(";")[0])
                text = answer.read().decode(errors="replace")
                assert answer.status == 200, (path, text)
                return text

            shell = page(address[2])
            token = re.search('name="companion-token" content="([^"]+)"', shell)
            assert token is not None
            headers["X-Companion-Token"] = token[1]
            for path in re.findall('(?:src|href)="(/assets/[^"]+)"', shell):
                assert page(path), path
            stack = page("/view")
            assert "Study 1" in stack
            mark = re.search('<li id="(s[^"]+)"', stack)
            assert mark is not None
            sheet = page(f"/view?song={mark[1]}")
            assert "<svg" in sheet  # the stage screen and the chart are drawn


@pytest.mark.long
@pytest.mark.real
def test_a_double_click_on_the_frozen_program_plays_the_demo(tmp_path: Path, display: Display, built: Path) -> None:
    env = {"HOME": str(tmp_path), "LANG": "C.UTF-8", **display.env}
    with Program(in_an_empty_root(built, tmp_path, env)) as program:
        display.wait_for_window("companion", 60)
        before = display.photograph()
        display.key("Next")
        display.wait_for_change(before, 10)
        assert any("rig: the built-in one" in line for line in program.lines)
