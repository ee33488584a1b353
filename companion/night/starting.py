"""Open the night: prepare show and rig, resume the journal, open ports and screen, run the loop to its end."""

import contextlib
import enum
import gc
import os
import queue
import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

import msgspec

from companion.clock import now_ns
from companion.errors import NotWritten
from companion.night.ahead import CANNOT_OPEN, EarlyStart, started_early
from companion.night.awake import awake
from companion.night.bar_count import Bars
from companion.night.console import console_close_handled
from companion.night.default_keys import keys_page
from companion.night.detail_choices import KeptDetails
from companion.night.displays import ConsoleWriter, Display, NoDisplay, Terminal, WindowProcess
from companion.night.edited import EditedFiles, Files, files_now
from companion.night.happenings import WINDOW_CLOSED, NightInbox, Stop
from companion.night.keyboards import Keyboards, ParcelOut, port_word
from companion.night.lost import steps_with
from companion.night.memory import Memory, StartOptions, memory_of, should_resume
from companion.night.night import Night
from companion.night.pacing import Pacing
from companion.night.power import watch_battery
from companion.night.preflight import Ready, make_ready
from companion.ports import ClockIn, ClockOut, PortWatch, ask_for_real_time, shelf_of
from companion.ports.fine_timer import fine_timer
from companion.rig import Rig, data_path, remember_rig
from companion.stage import Surroundings, make_book
from companion.view import Eyes, Looks

if TYPE_CHECKING:
    from companion.night.synth import Synth

SayLine = Callable[[str], None]
SWITCH_S = 0.0005  # how long another thread may delay the foot's; Python's own 5 ms is two periods of a driver
LAST_WRITE_S = 1.0
SAVE_AFTER_S = 2.0  # after the first sound and the first picture
PORTS_S = 2.0  # a night that ends while it starts waits this long for ports: a killed one may have left notes on
SIGNALS = {
    "SIGTERM": "the system or another program ended it",
    "SIGHUP": "the terminal was closed",
    "SIGBREAK": "ctrl-break was pressed",
}
BY_THE_PLAYER = frozenset(("SIGINT", "SIGBREAK", "ctrl-c", WINDOW_CLOSED))
"""The ends that a player chooses in the program. Any other leaves the night open: the next start continues it."""
KEPT = "The next start within twelve hours continues here; --fresh starts from the top."
NO_MIDI = "this computer has no usable MIDI system"


class ScreenMode(enum.Enum):
    """Where the night is shown."""

    FULL = "full"
    WINDOW = "window"
    TEXT = "text"
    NONE = "none"


def play(
    show_path: Path,
    *,
    rig_path: Path | None,
    screen: ScreenMode,
    options: StartOptions,
    out: TextIO,
    synth: "Synth | None" = None,
    ahead: EarlyStart | None = None,
) -> None:
    """Play a show until it is ended. Raises CompanionError before the stage, and nothing once on it.

    Messages are written to ``out``, from a separate thread. A ``synth`` stands in for every keyboard. ``ahead`` is
    what was started in advance; the caller ends it.
    """
    ask_for_real_time()
    sys.setswitchinterval(SWITCH_S)
    with contextlib.nullcontext(ahead) if ahead else started_early(screen.value) as early:
        shelf = _shelf(show_path)
        ready = make_ready(show_path, rig_path, goes_on=lambda: should_resume(show_path, options), shelf=shelf)
        rig = ready.book.rig
        book = ready.book
        if synth is not None:
            from companion.night.synth import rig_on_synth

            book = make_book(book.show, rig_on_synth(rig))[0]
        with console_writer(out) as say, memory_of(show_path, book, options, say) as memory:
            say(ready.chosen.because)
            for warning in ready.warnings:
                say(f"note: {warning}")
            ended = threading.Event()
            remembering = threading.Thread(target=_remember, args=(show_path, ready, shelf, ended), daemon=True)
            remembering.start()  # saving waits for the disk, and the foot must not
            files = files_now(show_path, ready.chosen.path, ready.songbooks)
            runtime = Runtime(early, screen, synth, show_path.absolute().parent, options.as_if_at_s)
            play_ready(rig, memory, runtime, say, files)
            ended.set()
            remembering.join(LAST_WRITE_S)


def _shelf(show_path: Path) -> Path | None:
    """Return the show's shelf; None for an invalid path, which reading the show reports."""
    try:
        return shelf_of(show_path, data_path())
    except (OSError, RuntimeError, ValueError):  # circular links, a name that the system cannot store
        return None


def _remember(show_path: Path, ready: Ready, shelf: Path | None, ended: threading.Event) -> None:
    """Save what this start had to work out, for the next start, if the disk allows.

    The rig's path is saved at once, since a restart must not choose another rig; what only saves time waits until the
    foot has been answered.
    """
    with contextlib.suppress(OSError):
        remember_rig(show_path, ready.chosen.path, data_path())
    ended.wait(SAVE_AFTER_S)
    with contextlib.suppress(NotWritten):
        if shelf is not None:
            ready.keep(shelf)


class Runtime(msgspec.Struct, frozen=True):
    """What a night runs on: the MIDI system, the screen, and a synthesizer if no keyboard is used."""

    early: EarlyStart
    screen: ScreenMode
    synth: "Synth | None" = None
    beside: Path = Path()  # the show's own directory, where its charts are
    as_if_at_s: int | None = None  # the time of day that the night begins at, if it is not the computer's


def play_ready(rig: Rig, memory: Memory, runtime: Runtime, say: SayLine, files: Files) -> None:
    """Play from where the memory resumes, recording to it, until the end."""
    resumed = memory.resumed
    if resumed.message:
        say(resumed.message)
    inbox: NightInbox = queue.SimpleQueue()
    zero_ns = now_ns() - resumed.at_ms * 1_000_000
    system, synth = runtime.early.system, runtime.synth
    display = _display(runtime, rig, zero_ns, inbox, say)
    played = memory.resumed.state.book.rig
    outputs = () if synth else tuple(dict.fromkeys(map(port_word, rig.keyboards)))
    hears_all = synth is not None
    drummer = ClockIn(rig.clock_from) if rig.clock_from else None
    watch = (
        PortWatch(system, inbox, inputs=inputs_of(rig), outputs=outputs, every_input=hears_all, clock=drummer, say=say)
        if system
        else None
    )
    clocked = dict.fromkeys(port_word(board) for board in rig.keyboards if board.clock)
    wires: dict[str, ParcelOut] = dict(watch.outs) if watch else {}
    through = None
    if synth is not None:
        from companion.night.synth import SYNTH_PORT, NoteThru

        wires, through = {SYNTH_PORT: synth}, NoteThru(rig, played, synth.send).heard
    clock_out = ClockOut([wires[word] for word in clocked if word in wires])
    around = Surroundings(
        dry_run=None if watch or synth else NO_MIDI,
        never_there=not (watch or synth),
        steps_with=steps_with(rig),
        steps_meanwhile=steps_with(rig, {pedal.port for pedal in rig.pedals if pedal.port}),
    )
    over = threading.Event()
    edited = EditedFiles(files, inbox.put, over)
    kept = KeptDetails(data_path(), say)
    night = Night(
        resumed,
        keyboards=lambda tell: Keyboards(played, wires, tell, clock_out.keep, through),
        record=memory,
        display=display,
        inbox=inbox,
        clock_ns=now_ns,
        zero_ns=zero_ns,
        around=around,
        looks=Looks(keys=keys_page(rig), details=kept.read(), chords=rig.screen.chords),
        say=say,
        pacing=Pacing(resumed.at_ms, runtime.as_if_at_s),
        beside=runtime.beside,
        keep=kept.keep,
        reader=edited,
        bars=Bars(lambda: drummer.followed(zero_ns)) if drummer else None,
    )
    stopping = runtime.early.stopping
    stopping.on_stop(lambda because: inbox.put(Stop(because)))
    with _system_prepared(runtime.screen, lambda because: inbox.put(Stop(because))):
        if watch:
            watch.start(wait_s=0)
        if stopping.because is None:
            watch_battery(inbox.put, over)
            edited.watch()
            night.begin()
        gc.enable()
        gc.freeze()  # existing objects stay all night: the garbage collector need not scan them while a foot waits
        ended = night.run(wait_for_ports=lambda: watch and watch.has_looked(PORTS_S))
        is_over = player_ended(ended.because, stopping.because)
        memory.end(dry_run=bool(rig.keyboards) and not (watch and watch.had_output), is_over=is_over)
        over.set()
        kept.end()
        say(farewell(ended.because if is_over else stopping.because or ended.because))
        if not (is_over or memory.is_unsaved) and night.state.stepped_ms is not None:
            say(KEPT)
        clock_out.end()
        if watch:
            watch.stop()
    display.close()


def player_ended(because: str, signal: str | None) -> bool:
    """Return whether the player ended the night. ``signal`` is the first signal that came, even after another end.

    A shutdown may close the window a moment before it ends the program.

    >>> player_ended("ctrl-c", None), player_ended("SIGHUP", "SIGHUP"), player_ended(WINDOW_CLOSED, "SIGTERM")
    (True, False, False)
    """
    return because in BY_THE_PLAYER and (signal is None or signal in BY_THE_PLAYER)


def farewell(because: str) -> str:
    """Return the last line of a night, with the reason if it is not the player's own key.

    >>> farewell("SIGINT"), farewell("the window was closed")
    ('Stopped.', 'Stopped: the window was closed.')
    """
    why = "" if because in ("SIGINT", "ctrl-c") else SIGNALS.get(because, because)
    return f"Stopped: {why}." if why else "Stopped."


@contextlib.contextmanager
def _system_prepared(screen: ScreenMode, stop: Callable[[str], None]) -> Iterator[None]:
    """Ask the system for what a night needs: no sleep, accurate waits, a normal end before the process is closed."""
    with contextlib.ExitStack() as stack:
        stack.enter_context(fine_timer())
        stack.enter_context(console_close_handled(stop))
        if screen in (ScreenMode.TEXT, ScreenMode.NONE):
            stack.enter_context(awake())
        yield


def inputs_of(rig: Rig) -> tuple[str, ...]:
    """Return the rig's words for the ports to listen to: pedals, the player's sustain, keyboards that are named."""
    named = (
        *(pedal.port for pedal in rig.pedals),
        *(sustain.port for sustain in rig.sustain),
        *(board.port for board in rig.keyboards),
        rig.clock_from,
    )
    return tuple(dict.fromkeys(port for port in named if port))


def _display(runtime: Runtime, rig: Rig, zero_ns: int, inbox: NightInbox, say: SayLine) -> Display:
    def terminal() -> Display:
        try:
            width = os.get_terminal_size(sys.stdout.fileno()).columns
        except OSError:  # not a terminal
            width = 80
        return Terminal(sys.stdout, inbox.put, width=width, read_keys=sys.stdin is not None and sys.stdin.isatty())

    def instead(why: str) -> Display:
        say(f"{CANNOT_OPEN} ({why.removeprefix('no window: ')}): the show runs in this terminal")
        return terminal()

    match runtime.screen:
        case ScreenMode.NONE:
            return NoDisplay()
        case ScreenMode.TEXT:
            return terminal()
        case ScreenMode.FULL | ScreenMode.WINDOW:
            eyes = Eyes(rig.screen.width_mm, rig.screen.distance_m, zero_ns, (rig.screen.monitor or 1) - 1)
            return WindowProcess(runtime.screen.value, eyes, inbox.put, instead, runtime.early.screen)


@contextlib.contextmanager
def console_writer(out: TextIO) -> Iterator[SayLine]:
    """Write lines without waiting for their reader."""
    writer = ConsoleWriter(out)
    try:
        yield writer.say
    finally:
        writer.close()
