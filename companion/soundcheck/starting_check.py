"""Run a conversation: read files, open ports, talk to the end, keep what is worth keeping."""

import contextlib
import queue
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Final, NamedTuple, TextIO

import msgspec
from msgspec.structs import replace

from companion.errors import CompanionError
from companion.how_many import how_many
from companion.night.keyboards import port_word
from companion.night.starting import NO_MIDI, inputs_of
from companion.ports import PortWatch, open_system, wall_time_s
from companion.rig import BUILT_IN, Rig, data_path, read_rig, remember_rig, rig_for
from companion.screen.terminal_keys import terminal_restored
from companion.show import read_show
from companion.soundcheck.capture import capture_prompts, capturing
from companion.soundcheck.check import check_progress, check_prompts, check_state, checking
from companion.soundcheck.check.check_report import Report, page, report_of
from companion.soundcheck.conversation import Conversation, Talker, TalkInbox, stopped_by_signals, watched
from companion.soundcheck.pedals import pedal_prompts, pedal_setup
from companion.soundcheck.rig_edits import COPY_IT, keep_in_rig
from companion.soundcheck.talk import KeepLevels, KeepPedals, KeepSound
from companion.stage import make_book


def sound_check(show_path: Path, rig_path: Path | None, *, minutes: float | None, fresh: bool, out: TextIO) -> Report:
    """Run a sound check, writing to ``out``. Raise CompanionError if a file has errors."""
    chosen = rig_for(show_path, rig_path)
    show, rig = read_show(show_path), read_rig(chosen.path)
    book, missed = make_book(show.show, rig.rig)
    faults = dict.fromkeys(
        show.places.fault(
            one.asked_by, "sound", problem=one.missing.problem, write=one.missing.write, path=str(show_path)
        )
        for one in missed
    )
    with contextlib.suppress(OSError):  # next time it is asked for again
        remember_rig(show_path, chosen.path, data_path())
    begun = check_state.at_start(book, missed=tuple(map(str, faults)), minutes=minutes)
    file = check_progress.file_for(show_path, chosen.path)
    if not fresh:
        begun = check_progress.resumed(begun, check_progress.read_kept(file), wall_time_s())
    say(out, chosen.because, *(f"note: {warning}" for warning in (*show.warnings, *rig.warnings)))
    if check_progress.count_right(begun):
        right = how_many(check_progress.count_right(begun), "sound")
        say(out, f"continued: {right} of {len(begun.trials)} already right (--fresh starts over)")

    def remember(state: object) -> None:
        if isinstance(state, check_state.SoundCheck):
            check_progress.keep(file, check_progress.kept_of(state, wall_time_s()))

    with talking(out, chosen.path, ports_of(rig.rig), remember) as talk:
        begun = replace(begun, no_midi=None if talk.system else NO_MIDI)
        report = report_of(talk.talker.run(SOUND_CHECK, begun))
    if report.ready:
        check_progress.forget(file)
    say(out, "", *page(report))
    return report


def capture_sounds(show_path: Path, rig_path: Path | None, *, out: TextIO) -> tuple[str, ...]:
    """Store what a hired board sends under the show's names; return the names still missing."""
    chosen = rig_for(show_path, rig_path)
    writable(chosen.path)
    show, rig = read_show(show_path), read_rig(chosen.path)
    say(out, chosen.because, *(str(warning) for warning in rig.warnings))
    with talking(out, chosen.path, ports_of(rig.rig)) as talk:
        if talk.system is None:
            say(out, f"{NO_MIDI}: you can only type what to press")
        state = talk.talker.run(CAPTURE, capturing.at_start(show.show, rig.rig))
    say(out, "", *capture_prompts.over(state))
    return capture_prompts.missing(state)


def set_up_pedals(rig_path: Path, *, out: TextIO) -> Rig | None:
    """Set up a rig's pedals by pressing them; return the new rig, or None if nothing was written."""
    writable(rig_path)
    read = read_rig(rig_path)
    with talking(out, rig_path, None) as talk:
        if talk.system is None:
            say(out, f"{NO_MIDI}: you can only set up the keys of a page turner")
        state = talk.talker.run(PEDALS, pedal_setup.at_start(read.rig, talk.system or ""))
    if not state.writes or state.not_kept is not None:
        say(out, f"{rig_path} unchanged")
        return None
    say(out, f"Wrote {rig_path}")
    return read_rig(rig_path).rig


class Wired(msgspec.Struct, frozen=True):
    """The ports to open, in the rig's words."""

    inputs: tuple[str, ...]
    outputs: tuple[str, ...]


def ports_of(rig: Rig) -> Wired:
    """Return the ports of a rig. An instrument answers, and sends what was chosen on its panel, at its own input."""
    outputs = tuple(dict.fromkeys(map(port_word, rig.keyboards)))
    return Wired(tuple(dict.fromkeys((*inputs_of(rig), *outputs))), outputs)


class Talk(NamedTuple):
    """An open conversation. ``system``: the MIDI system's short name, None if there is none."""

    talker: Talker
    system: str | None


@contextlib.contextmanager
def talking(
    out: TextIO, rig_path: Path, wired: Wired | None, remember: Callable[[object], None] = lambda _: None
) -> Iterator[Talk]:
    """Open the ports (None: every input there is) and the terminal; close both."""
    inbox: TalkInbox = queue.SimpleQueue()
    system = open_system()
    inputs, outputs = (wired.inputs, wired.outputs) if wired else ((), ())
    watch = None
    if system is not None:
        watch = PortWatch(system, inbox, inputs=inputs, outputs=outputs, sysex=True, every_input=wired is None)

    def keep(request: KeepLevels | KeepSound | KeepPedals) -> None:
        keep_in_rig(rig_path, request)

    with stopped_by_signals(inbox), terminal_restored(), watched(watch) as outs:
        yield Talk(Talker(out, outs, inbox, keep, remember), system.word if system else None)


def writable(rig_path: Path) -> None:
    """Raise CompanionError if this rig file cannot be changed."""
    if rig_path == BUILT_IN:
        raise CompanionError(COPY_IT)


def say(out: TextIO, *lines: str) -> None:
    """Write lines before or after a conversation."""
    code = out.encoding or "ascii"
    out.writelines(line.encode(code, "replace").decode(code) + "\n" for line in lines)
    out.flush()


SOUND_CHECK: Final = Conversation(checking.step, check_prompts.prompt)
CAPTURE: Final = Conversation(capturing.step, lambda state, _at_ms: capture_prompts.prompt(state))
PEDALS: Final = Conversation(pedal_setup.step, lambda state, _at_ms: pedal_prompts.prompt(state))
