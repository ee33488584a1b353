"""Scenes that several rooms' tests share, and the rule that nothing is skipped where all is installed."""

import gc
import os
import re
import shutil
import signal
import sys
import tempfile
from collections.abc import Callable, Generator, Iterator
from pathlib import Path
from types import FrameType
from typing import TYPE_CHECKING, Any, TypeVar

import pytest
from examples import ALL, DAILY
from hypothesis import is_hypothesis_test, settings
from hypothesis.configuration import set_hypothesis_home_dir
from real import playing
from real.jack import JackServer, JackTap
from real.playing import Play
from real.program import NotThere, Program
from real.synth import Synth
from real.window import Display
from sharing import Lines, is_real, step_back, turn_of
from xdist.remote import Producer

from companion import child
from companion.setlist.readers.apart import answer_to, asked_in
from companion.setlist.readers.apart_reader import read

if TYPE_CHECKING:
    from real.stage import Stage

R = TypeVar("R")

NO_SKIP = os.environ.get("COMPANION_NO_SKIP") == "1"  # set by .ci/run: there, a skip is a failure
LONGEST_S = {False: 120, True: 800}  # that a test may take, a long one too: one that hangs must not hold up the rest
REAL = {"jack", "synth", "foot_box", "display"}


# Where Python may not keep what it has compiled, each of the programs that the tests start compiles all of it again.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False

# No test asserts a time, hypothesis' own ones neither: a machine that is shared stands still now and then.
settings.register_profile("long", deadline=None, max_examples=ALL)
settings.register_profile("daily", deadline=None, max_examples=DAILY)
if not os.access(Path(__file__).parents[1], os.W_OK):  # a read-only disk takes no examples for the next time
    set_hypothesis_home_dir(Path(tempfile.gettempdir()) / "companion-tests-hypothesis")


@pytest.fixture(scope="session", autouse=True)
def temporary_folder_left_empty(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Point the tests and all that they start at a temporary folder; fail if anything is left in it."""
    folder = tmp_path_factory.mktemp("temporary")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(tempfile, "tempdir", str(folder))
        for name in ("TMPDIR", "TEMP", "TMP"):
            patch.setenv(name, str(folder))
        yield
    shutil.rmtree(folder / "music21", ignore_errors=True)  # that library makes it where it is imported
    left = [one.name for one in folder.iterdir() if not one.name.startswith("pulse-")]  # a sound library's, at its exit
    assert left == []


@pytest.fixture(scope="session", autouse=True)
def data_of_its_own(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Keep undo lists and journals of the tests out of the player's own data folder."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_DATA_HOME", str(tmp_path_factory.mktemp("data")))
        yield


@pytest.fixture(scope="module")
def reads_here() -> Iterator[None]:
    """Read set lists and MIDI files in this process, where no test is about the child: each start takes its time."""
    ask = child.ask

    def answer(command: list[str], request: bytes, **limits: Any) -> child.ChildOutput:  # noqa: ANN401 - as `ask` has them
        if command[-1] != "companion.setlist.readers.apart_reader":
            return ask(command, request, **limits)
        line, _, raw = request.partition(b"\n")
        return child.ChildOutput(child.Ended.WELL, answer_to(asked_in(line), raw, read))

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(child, "ask", answer)
        yield


def pytest_configure(config: pytest.Config) -> None:
    config.addinivalue_line("markers", "long: minutes of it (kills, soak, fuzz); run with -m long")
    settings.load_profile("long" if is_long(config) else "daily")
    gc.disable()  # nothing that is collected here is ever garbage


def pytest_collection_finish() -> None:
    gc.freeze()  # nor need it be looked at again
    gc.enable()


def is_long(config: pytest.Config) -> bool:
    """Return whether the long profiles are asked for, in which every property is tried on all of its examples."""
    return re.search(r"(?<!not )\blong\b", config.option.markexpr) is not None


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    for item in items:
        if REAL & set(getattr(item, "fixturenames", ())):
            item.add_marker("real")
        if is_long(config) and is_hypothesis_test(getattr(item, "function", None)):
            item.add_marker("long")
    items.sort(key=lambda item: turn_of(item.nodeid))
    if "long" not in config.option.markexpr:
        left_out = [item for item in items if item.get_closest_marker("long")]
        if left_out:
            config.hook.pytest_deselected(items=left_out)
            items[:] = [item for item in items if not item.get_closest_marker("long")]


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Producer) -> Lines:
    return Lines(config, log)


def _no_skip(report: pytest.TestReport | pytest.CollectReport) -> None:
    if NO_SKIP and report.outcome == "skipped" and not hasattr(report, "wasxfail"):
        reason = report.longrepr[2] if isinstance(report.longrepr, tuple) else report.longrepr
        report.outcome = "failed"
        report.longrepr = f"skipped where COMPANION_NO_SKIP=1 forbids it: {reason}"


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    report = yield
    _no_skip(report)
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report() -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    report = yield
    _no_skip(report)
    return report


def _in_time(item: pytest.Item) -> Generator[None, object, object]:
    """Fail a test that hangs, if the system has an alarm clock; its fixtures are still taken down."""
    longest_s = LONGEST_S[item.get_closest_marker("long") is not None]

    def too_long(_number: int, _frame: FrameType | None) -> None:
        raise TimeoutError(f"the test hangs: it has not ended after {longest_s} s")

    if not hasattr(signal, "SIGALRM"):
        return (yield)
    before = signal.signal(signal.SIGALRM, too_long)
    signal.alarm(longest_s)
    try:
        return (yield)
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_setup(item: pytest.Item) -> Generator[None, object, object]:
    if "PYTEST_XDIST_WORKER" in os.environ and not is_real(item.nodeid):
        step_back()  # the lines come first: no test on real ports follows in this process
    return (yield from _in_time(item))


@pytest.hookimpl(wrapper=True)
def pytest_runtest_call(item: pytest.Item) -> Generator[None, object, object]:
    return (yield from _in_time(item))


def or_skip(start: Callable[[], R]) -> R:
    """Start something that this machine may lack; skip the test if it does."""
    try:
        return start()
    except NotThere as missing:
        pytest.skip(str(missing))


@pytest.fixture
def jack() -> Iterator[JackServer]:
    """A JACK server without hardware."""
    with or_skip(JackServer) as server:
        yield server


@pytest.fixture
def synth(jack: JackServer) -> Iterator[Synth]:
    """A real synthesizer on that server."""
    with or_skip(lambda: Synth(jack)) as synth:
        yield synth


@pytest.fixture
def foot_box(jack: JackServer) -> Iterator[JackTap]:
    """A pedal on that server, and an ear for what is sent to it."""
    with JackTap(jack, "Foot Box") as box:
        yield box


@pytest.fixture
def stage(jack: JackServer, foot_box: JackTap, tmp_path: Path) -> Iterator["Stage"]:
    """A stage with a board that remembers what it is sent."""
    from real.stage import Stage  # noqa: PLC0415  it loads the core, which few tests on real ports need

    with JackTap(jack, "Board") as board:
        stage = Stage(tmp_path, jack, foot_box, board)
        yield stage
        stage.end()


@pytest.fixture
def display() -> Iterator[Display]:
    """A display of 1920 by 1080 without a monitor."""
    with or_skip(Display) as display:
        yield display


@pytest.fixture
def play(jack: JackServer, tmp_path: Path) -> Iterator[Play]:
    """Start the real program on a show's songs and a rig; each is ended with the test."""
    started: list[Program] = []

    def start(songs: str, rig: str) -> Program:
        started.append(playing.play(jack, tmp_path, songs, rig))
        return started[-1]

    yield start
    for program in started:
        program.end()
        sys.stdout.write("\n".join(program.lines))  # shown where the test fails
