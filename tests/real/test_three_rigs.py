"""The demo show, unchanged, on each rig that comes along: FluidSynth is the keyboards, and each sound is on it."""

import contextlib
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from real.before import Before, CanSend, tread
from real.jack import JackServer, JackTap
from real.program import NotThere, Program, wait_until
from real.synth import Synth

from companion.rig import Rig, read_rig
from companion.show import read_show
from companion.soundcheck.check.trials import Trial, trials_of
from companion.stage import make_book

ROOT = Path(__file__).resolve().parents[2]
SHOW = ROOT / "shows/pier-street.yaml"

KEYS_OF = """
import sys, rtmidi
mouth = rtmidi.MidiOut(rtmidi.API_UNIX_JACK, name=sys.argv[1])
mouth.open_virtual_port("out")
print("ready", flush=True)
for line in sys.stdin:
    mouth.send_message(list(bytes.fromhex(line)))
    print("sent", flush=True)
"""


class Keys(Program):
    """The keys and pedals of a keyboard whose sounds are a synthesizer's, under the same name: an output alone."""

    def __init__(self, server: JackServer, name: str) -> None:
        super().__init__((sys.executable, "-c", KEYS_OF, name), env=server.env)
        self.wait_for(lambda line: line == "ready")

    def send(self, message: bytes) -> None:
        """Send one message."""
        before = len(self.lines)
        self.tell(message.hex())
        self.wait_for(lambda line: line == "sent", after=before)


class Stage:
    """All that a rig names: a synthesizer for each keyboard's port, and something to send from for each pedal's."""

    def __init__(self, rig: Rig, jack: JackServer, devices: contextlib.ExitStack) -> None:
        self.rig = rig
        boards = {board.port for board in rig.keyboards if board.port}
        self.synths = {port: devices.enter_context(Synth(jack, port)) for port in sorted(boards)}
        named = {*(one.port for one in rig.pedals), *(one.port for one in rig.sustain)}
        self.feet: dict[str, CanSend] = {}
        for port in sorted(port for port in named if port):
            here: Keys | JackTap = Keys(jack, port) if port in boards else JackTap(jack, port)
            devices.enter_context(here)
            self.feet[port] = here

    def sounds(self, trial: Trial) -> None:
        """Wait until the synthesizer plays this sound on the keyboard's channel, if it is not chosen by hand."""
        board, wanted = self.rig.keyboards[trial.keyboard], trial.sound.program
        synth = self.synths[board.port or ""]
        if wanted is not None:
            wait_until(
                lambda: synth.channels()[board.channel].program == wanted,
                f"{trial.sound.name}, program {wanted}, on {board.name}",
                10,
            )

    def press_all(self, program: Before) -> None:
        """Press each pedal and sustain once."""
        for pedal in self.rig.pedals:
            if pedal.key:
                program.key(pedal.key)
            elif pedal.port and pedal.control is not None:
                tread(self.feet[pedal.port], pedal.control, channel=pedal.channel or 1)
            elif pedal.port:
                self.feet[pedal.port].send(bytes((0x8F + (pedal.channel or 1), pedal.note or 0, 100)))
        for sustain in self.rig.sustain:
            tread(self.feet[sustain.port], sustain.control, channel=sustain.channel or 1)


@pytest.fixture
def devices() -> Iterator[contextlib.ExitStack]:
    """Whatever is switched on, switched off at the end."""
    with contextlib.ExitStack() as stack:
        yield stack


RIGS = sorted((ROOT / "config").glob("*.yaml"))


@pytest.mark.long
@pytest.mark.parametrize("path", RIGS, ids=lambda one: one.stem)
def test_the_demo_is_ready_on_each_shipped_rig(
    path: Path, jack: JackServer, devices: contextlib.ExitStack, tmp_path: Path
) -> None:
    rig = read_rig(path).rig
    book, missed = make_book(read_show(SHOW).show, rig)
    assert not missed
    trials = trials_of(book)
    try:
        stage = Stage(rig, jack, devices)
    except NotThere as missing:
        pytest.skip(str(missing))
    program = devices.enter_context(Before(jack, tmp_path, "soundcheck", str(SHOW), "--rig", str(path)))
    program.hears("turn the amplifier", 30)
    for number, trial in enumerate(trials, 1):
        program.key("enter")
        program.hears(f"{number} of {len(trials)}")
        program.hears(f"{rig.keyboards[trial.keyboard].name.upper()}: {trial.sound.name}")
        stage.sounds(trial)
    program.key("enter")
    program.hears("Press each pedal")
    stage.press_all(program)
    assert program.wait(20) == 0, "\n".join(program.lines)
    report = program.lines[next(at for at, line in enumerate(program.lines) if line.startswith("SOUND CHECK: ")) :]
    sys.stdout.write("\n".join(report) + "\n")  # shown where the test fails, or with -rP
    assert report[1] == "READY"
    assert any(line.startswith(f"sounds   {len(trials)} of {len(trials)} right") for line in report)
