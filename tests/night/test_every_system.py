"""The same night on all four MIDI systems: the right sound on the right board, whatever happens to the cables."""

import queue
from collections.abc import Callable
from pathlib import Path
from typing import Any

import msgspec
import pytest
from night.evening import Notebook, Wall
from ports.drivers import IN, Alsa, Device, Drivers, Mac, Windows
from ports.jack_driver import ALL, Jack
from stage.scenes import book_of, rig_of, song

from companion.night.entries import ResumedNight
from companion.night.happenings import NightInbox
from companion.night.keyboards import Keyboards
from companion.night.night import Night
from companion.night.pacing import Pacing
from companion.ports import PortFound, PortLost, PortWatch
from companion.ports.jack_server import JackServer
from companion.ports.show_clock import NS_PER_MS
from companion.rig import Action, Pedal
from companion.stage import Surroundings, at_start
from companion.view import Looks

LOOK_MS, SLEPT_MS = 500, 600_000
PEDAL = Pedal("right", port="Foot Box", channel=1, control=64, press=Action.NEXT)


class OnStage:
    """A night on one of the systems: an interface, a keyboard and a foot switch are plugged in."""

    def __init__(self, drivers: Drivers, monkeypatch: pytest.MonkeyPatch, *ports: str) -> None:
        self.drivers = drivers
        self.now_ms = 10_000
        for module in ("watch", "wires", "midi_in", "jack_system"):
            monkeypatch.setattr(f"companion.ports.{module}.now_ns", lambda: self.now_ms * NS_PER_MS)
        monkeypatch.setattr("companion.ports.wires._ON_ITS_WAY_S", 0)
        self.interface, self.piano, self.box = Device("Audio Box"), Device("Stage Piano"), Device("Foot Box")
        for device in (self.interface, self.piano, self.box):
            drivers.plug(device)
        self.words = ports or ("Stage Piano",)
        boards = [
            msgspec.structs.replace(board, port=port, channel=number, sounds=board.sounds[number::2])
            for number, (board, port) in enumerate(zip(rig_of("1", "2").keyboards, self.words, strict=False), 1)
        ]
        rig = msgspec.structs.replace(rig_of(), keyboards=tuple(boards), pedals=(PEDAL,))
        sounds = [sound.name for board in boards for sound in board.sounds]
        each = [sounds[number % len(sounds)] for number in (0, -1, 1, -2)]
        book = book_of(
            [song("A", ", ".join(f"Part_{number} @{name}" for number, name in enumerate(each * 4)))], rig=rig
        )
        self.inbox: NightInbox = queue.SimpleQueue()
        self.said: list[str] = []
        self.watch = PortWatch(
            drivers.system(),
            self.inbox,
            inputs=("Foot Box", *(word for word in self.words if word)),
            outputs=self.words,
            say=self.said.append,
        )
        self.watch.begin()
        outs: Any = self.watch.outs
        self.night = Night(
            ResumedNight(at_start(book)),
            keyboards=lambda tell: Keyboards(rig, outs, tell, lambda _: None),
            record=Notebook(),
            display=Wall(),
            inbox=self.inbox,
            clock_ns=lambda: self.now_ms * NS_PER_MS,
            zero_ns=0,
            around=Surroundings(),
            looks=Looks(),
            say=self.said.append,
            pacing=Pacing(0, as_if_at_s=20 * 3600),
        )
        self.night.begin()
        self.look()
        self.look(1500)

    def look(self, after_ms: int = LOOK_MS) -> list[str]:
        """Let the watch look, and the night take what came; return what became of ports."""
        self.now_ms += after_ms
        self.watch.look()
        told = []
        while not self.inbox.empty():
            came = self.inbox.get()
            if isinstance(came, PortFound | PortLost):
                told.append(("+" if isinstance(came, PortFound) else "-") + came.port)
            self.night.take(came)
        return told

    def press(self, box: Device | None = None) -> None:
        """Press the pedal, some time after it was plugged in."""
        self.look(1500)
        for value in ("7f", "00"):
            (box or self.box).play(f"b040{value}")
            self.look(100)

    def sounds(self, device: Device) -> list[str]:
        """Return the program changes that a device has got since this was last asked."""
        programs = [one for one in device.took if one.startswith("c")]
        device.took.clear()
        return programs


@pytest.fixture(params=ALL, ids=lambda kind: kind.word)
def stage(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> OnStage:
    return OnStage(request.param(tmp_path), monkeypatch)


Make = Callable[..., OnStage]


@pytest.fixture(params=ALL, ids=lambda kind: kind.word)
def make(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Make:
    """Begin a night with other devices or words."""

    def begun(*ports: str, before: tuple[Device, ...] = ()) -> OnStage:
        drivers = request.param(tmp_path)
        for device in before:
            drivers.plug(device)
        return OnStage(drivers, monkeypatch, *ports)

    return begun


def test_the_first_sound_is_on_and_the_foot_brings_the_next(stage: OnStage) -> None:
    assert len(stage.sounds(stage.piano)) == 1
    stage.press()  # the song begins
    stage.press()
    assert len(stage.sounds(stage.piano)) == 1
    assert stage.said == []


def test_an_unrelated_device_that_leaves_is_not_reported(stage: OnStage) -> None:
    stage.press()
    stage.sounds(stage.piano)
    stage.drivers.pull(stage.interface)
    assert stage.look() == []
    stage.press()
    assert len(stage.sounds(stage.piano)) == 1
    stage.drivers.plug(stage.interface, 0)
    stage.look()
    stage.press()
    assert len(stage.sounds(stage.piano)) == 1


def test_a_pulled_cable_is_reported_and_the_sound_is_sent_again_on_return(stage: OnStage) -> None:
    stage.press()
    stage.drivers.pull(stage.piano)
    assert "-Stage Piano" in stage.look()
    stage.press()
    again = Device("Stage Piano")
    stage.drivers.plug(again)
    assert "+Stage Piano" in stage.look()
    assert len(set(stage.sounds(again))) == 1
    stage.press()
    assert len(set(stage.sounds(again))) == 1


def test_a_replugged_pedal_steps_again(stage: OnStage) -> None:
    stage.press()
    stage.drivers.pull(stage.box)
    stage.look()
    again = Device("Foot Box")
    stage.drivers.plug(again)
    stage.look()
    stage.sounds(stage.piano)
    stage.press(again)
    assert len(stage.sounds(stage.piano)) == 1


def test_a_port_that_left_and_returned_during_sleep_is_connected_again(stage: OnStage) -> None:
    stage.press()
    piano, box = stage.drivers.replug(stage.piano), stage.drivers.replug(stage.box)
    stage.look(SLEPT_MS)
    stage.look()
    assert len(set(stage.sounds(piano))) == 1
    stage.press(box)
    assert len(set(stage.sounds(piano))) == 1


@pytest.mark.parametrize("kind", [Alsa, Jack], ids=["alsa", "jack"])
def test_a_port_that_left_and_returned_between_two_looks_is_connected_again(
    kind: type[Drivers], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stage = OnStage(kind(tmp_path), monkeypatch)
    stage.press()
    piano, box = stage.drivers.replug(stage.piano), stage.drivers.replug(stage.box)
    assert {"-Stage Piano", "+Stage Piano", "-Foot Box", "+Foot Box"} <= set(stage.look())
    assert len(set(stage.sounds(piano))) == 1
    stage.press(box)
    assert len(set(stage.sounds(piano))) == 1


@pytest.mark.parametrize("kind", [Mac, Windows], ids=["core", "winmm"])
def test_a_changed_port_order_reveals_what_the_system_does_not_report(
    kind: type[Drivers], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stage = OnStage(kind(tmp_path), monkeypatch)
    stage.press()
    stage.drivers.pull(stage.piano)
    again = Device("Stage Piano")
    stage.drivers.plug(again)  # behind the foot switch now
    stage.look()
    stage.look()
    assert len(set(stage.sounds(again))) == 1


def test_a_dead_handle_is_noticed_at_the_first_refused_sound(stage: OnStage) -> None:
    stage.press()
    again = stage.drivers.replug(stage.piano)
    for _ in range(2):
        stage.press()
    for _ in range(6):
        stage.look()
    assert stage.sounds(again)


@pytest.mark.parametrize("trouble", [RuntimeError("a driver of its own kind"), SystemError("no result"), OSError(5)])
def test_the_watch_survives_any_driver_error(stage: OnStage, trouble: Exception) -> None:
    stage.press()
    stage.drivers.troubled = trouble
    stage.look()
    assert any(repr(trouble) in said for said in stage.said)
    stage.drivers.pull(stage.piano)
    stage.look()
    again = Device("Stage Piano")
    stage.drivers.plug(again)
    for _ in range(6):
        stage.look()
    assert stage.sounds(again)


def test_a_port_without_a_name_is_harmless(stage: OnStage) -> None:
    stage.press()
    stage.drivers.plug(Device(None), 0)
    assert stage.look() == []
    stage.sounds(stage.piano)
    stage.press()
    assert len(stage.sounds(stage.piano)) == 1
    assert stage.said == []


def test_a_name_in_any_script_is_found(make: Make) -> None:
    grand = Device("Flügel für Łódź")
    stage = make("flügel für łódź", before=(grand,))
    assert len(stage.sounds(grand)) == 1


def test_the_built_in_rig_finds_the_only_keyboard_among_the_systems_own_ports(make: Make) -> None:
    stage = make("")
    for device in (stage.interface, stage.box):
        stage.drivers.pull(device)
    stage.look()
    assert len(stage.sounds(stage.piano)) == 1


@pytest.mark.parametrize("kind", [Mac, Windows], ids=["core", "winmm"])
def test_a_second_port_of_one_device_is_not_confused_with_the_first(
    kind: type[Drivers], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    drivers, second = kind(tmp_path), Device("MIDIIN2 (Stage Piano)")  # how Windows calls it (from memory)
    drivers.plug(second)
    stage = OnStage(drivers, monkeypatch)
    assert len(stage.sounds(stage.piano)) == 1
    assert stage.sounds(second) == []


WORDS = {
    "alsa": ("Synth:Synth MIDI 1 24:0", "Synth:Synth MIDI 1 28:0"),
    "core": ("Synth (1)", "Synth (2)"),
    "winmm": ("Synth (1)", "Synth (2)"),
}


@pytest.mark.parametrize("kind", [Alsa, Mac, Windows], ids=["alsa", "core", "winmm"])
@pytest.mark.parametrize("gone", [0, 1])
def test_when_one_of_two_identical_boards_leaves_the_other_keeps_its_own_sounds(
    kind: type[Drivers], gone: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    drivers = kind(tmp_path)
    twins = [Device("Synth"), Device("Synth")]
    for twin in twins:
        drivers.plug(twin)
    stage = OnStage(drivers, monkeypatch, *WORDS[kind.word])
    stage.press()
    stage.press()
    channels = [{one[1] for one in stage.sounds(twin)} for twin in twins]
    assert channels == [{"0"}, {"1"}]
    drivers.pull(twins[gone])
    stays = twins[1 - gone]
    for _ in range(6):
        stage.press()
        stage.look()
    assert {one[1] for one in stage.sounds(stays)} <= channels[1 - gone]
    again = Device("Synth")
    drivers.plug(again)
    for _ in range(8):
        stage.look()
    stage.press()
    assert {one[1] for one in stage.sounds(stays)} <= channels[1 - gone]
    assert {one[1] for one in stage.sounds(again)} <= channels[gone]


def test_each_port_is_opened_once_and_closed_once(stage: OnStage) -> None:
    for _ in range(3):
        stage.look(SLEPT_MS)
    inputs = [port for port in stage.drivers.ports if port.direction is IN and port.device is stage.box]
    assert len(inputs) <= 1
    stage.watch.end()
    assert [port for port in stage.drivers.ports if port.device is not None] == []


def test_the_imitated_jack_server_behaves_like_the_real_one() -> None:
    assert [name for name in vars(JackServer) if not name.startswith("_") and not hasattr(Jack, name)] == []
