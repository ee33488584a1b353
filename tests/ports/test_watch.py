"""The port watch on a system whose ports are plugged in by hand: what is reported, opened, closed and left alone."""

import queue
import threading
from collections.abc import Sequence

import pytest
from ports.tape import TapeSystem

from companion.ports import (
    Arrival,
    Direction,
    Health,
    MidiReceived,
    PortFound,
    PortLost,
    PortsAwaited,
    PortWatch,
    busy_system,
)
from companion.ports.outside import NO_SERVER
from companion.ports.watch import REFUSED_LOOKS, SERVER_LOOKS, STALLED

PIANO, PIANO_AGAIN = "Stage Piano:MIDI 1 24:0", "Stage Piano:MIDI 1 28:0"
BOX = "Foot Box:MIDI 1 20:0"
IN, OUT = Direction.IN, Direction.OUT


class Scene:
    """A watch that looks on command."""

    def __init__(self, system: TapeSystem, *, inputs: Sequence[str] = (), outputs: Sequence[str] = ()) -> None:
        self.system = system
        self.inbox: queue.SimpleQueue[Arrival] = queue.SimpleQueue()
        self.watch = PortWatch(system, self.inbox, inputs=inputs, outputs=outputs)

    def look(self) -> list[tuple[str, Direction, str]]:
        """Look once; return what was reported: the rig's word, the direction, the system's name or why it is lost."""
        self.watch.look()
        return self.events()

    def events(self) -> list[tuple[str, Direction, str]]:
        told = []
        while not self.inbox.empty():
            match self.inbox.get():
                case PortFound(port=port, direction=direction, name=name):
                    told.append((port, direction, f"+{name}"))
                case PortLost(port=port, direction=direction, why=why):
                    told.append((port, direction, why))
                case MidiReceived(port=port, message=message):
                    told.append((port, IN, message.hex()))
        return told


def two_ports() -> Scene:
    system = TapeSystem(inputs=[PIANO, BOX], outputs=[PIANO])
    scene = Scene(system, inputs=["foot box", "Stage Piano"], outputs=["Stage Piano"])
    scene.look()
    return scene


def test_the_first_look_reports_each_port_of_the_rig_as_found_or_lost() -> None:
    scene = Scene(TapeSystem(inputs=[BOX], outputs=[]), inputs=["foot box", "Grand"], outputs=[""])
    assert scene.look() == [
        ("foot box", IN, f"+{BOX}"),
        ("Grand", IN, f'no MIDI input has "Grand" in its name; available: "{BOX}"'),
        ("", OUT, "there is no MIDI output"),
    ]
    assert scene.look() == []  # and says nothing twice


def test_messages_arrive_under_the_rigs_word_after_the_port_is_announced() -> None:
    system = TapeSystem(inputs=[BOX])
    system.when_opening = lambda name: system.play(name, b"\xb0\x40\x00")  # a board that dumps its controllers at once
    scene = Scene(system, inputs=["foot box"])
    assert scene.look() == [("foot box", IN, f"+{BOX}")]
    system.play(BOX, b"\xb0\x40\x7f")
    assert scene.events() == [("foot box", IN, "b0407f")]


def test_two_words_for_one_port_each_receive_a_message_once() -> None:
    scene = Scene(TapeSystem(inputs=[PIANO]), inputs=["Stage", "Piano"])
    scene.look()
    scene.system.play(PIANO, b"\x90\x3c\x40")
    assert scene.events() == [("Stage", IN, "903c40"), ("Piano", IN, "903c40")]
    assert len(scene.system.ears) == 1


def test_a_stream_of_bytes_is_split_into_messages() -> None:
    scene = two_ports()
    scene.system.play(PIANO, b"\x90\x3c\x40\x3e\x40")  # MIDI 1.0, running status
    scene.system.play(PIANO, b"\xf0\x01\x02")
    assert scene.events() == [("Stage Piano", IN, "903c40"), ("Stage Piano", IN, "903e40")]


def test_a_keyboard_switched_off_and_on_is_found_under_its_new_number() -> None:
    scene = two_ports()
    old_wire, old_ear = scene.system.wires[PIANO], scene.system.ears[PIANO][0]
    scene.system.names = {IN: (BOX,), OUT: ()}
    assert [(port, direction) for port, direction, _ in scene.look()] == [("Stage Piano", IN), ("Stage Piano", OUT)]
    assert old_wire.closed
    assert old_ear.closed
    assert not scene.watch.outs["Stage Piano"].send((b"\xc0\x01",))
    scene.system.names = {IN: (BOX, PIANO_AGAIN), OUT: (PIANO_AGAIN,)}
    assert scene.look() == [("Stage Piano", IN, f"+{PIANO_AGAIN}"), ("Stage Piano", OUT, f"+{PIANO_AGAIN}")]
    assert scene.watch.outs["Stage Piano"].send((b"\xc0\x02",))
    assert scene.system.wires[PIANO_AGAIN].sent == [b"\xc0\x02"]


def test_a_port_that_returned_between_two_looks_is_lost_and_found() -> None:
    scene = two_ports()
    scene.system.names[OUT] = (PIANO_AGAIN,)
    assert scene.look() == [("Stage Piano", OUT, f'"{PIANO}" is gone'), ("Stage Piano", OUT, f"+{PIANO_AGAIN}")]
    scene.system.wires[PIANO_AGAIN].connected = False  # the same name, and yet not connected any more
    assert scene.look() == [
        ("Stage Piano", OUT, f'"{PIANO_AGAIN}" is gone'),
        ("Stage Piano", OUT, f"+{PIANO_AGAIN}"),
    ]


def test_nothing_arrives_from_a_lost_port() -> None:
    scene = two_ports()
    scene.system.names[IN] = (PIANO,)
    scene.look()
    scene.system.play(BOX, b"\xb0\x40\x7f")
    scene.system.play(PIANO, b"\xb0\x40\x7f")
    assert scene.events() == [("Stage Piano", IN, "b0407f")]


def test_a_second_identical_board_changes_nothing_while_the_first_stays() -> None:
    scene = two_ports()
    scene.system.names[OUT] = (PIANO_AGAIN, PIANO)
    assert scene.look() == []


def test_if_several_ports_fit_none_is_used_and_the_player_reads_how_to_choose() -> None:
    scene = Scene(TapeSystem(outputs=[PIANO, BOX]), outputs=[""])
    ((port, _, why),) = scene.look()
    assert port == ""
    assert PIANO in why
    assert BOX in why
    assert not scene.watch.outs[""].is_there
    scene.system.names[OUT] = (PIANO,)
    assert scene.look() == [("", OUT, f"+{PIANO}")]


def test_a_port_in_use_elsewhere_is_reported_once_and_tried_again() -> None:
    system = TapeSystem(outputs=[PIANO])
    system.busy.add(PIANO)
    scene = Scene(system, outputs=["Stage Piano"])
    ((_, _, why),) = scene.look()
    assert "another program may be using it (device busy)" in why
    system.busy.clear()
    told = [scene.look() for _ in range(REFUSED_LOOKS + 1)]
    assert told[-1] == [("Stage Piano", OUT, f"+{PIANO}")]
    assert not any(told[:-1])


def test_a_connection_that_fails_is_reported_lost_and_opened_again() -> None:
    scene = two_ports()
    wire = scene.system.wires[PIANO]
    wire.dead = True
    scene.watch.outs["Stage Piano"].send((b"\xc0\x01",))
    assert scene.look() == [("Stage Piano", OUT, f'"{PIANO}" no longer accepts messages')]
    assert wire.closed
    for _ in range(REFUSED_LOOKS):
        scene.watch.look()
    assert scene.events() == [("Stage Piano", OUT, f"+{PIANO}")]


def test_the_handles_of_a_dead_server_are_never_touched_again() -> None:
    scene = two_ports()
    wire, ear = scene.system.wires[PIANO], scene.system.ears[BOX][0]
    scene.system.state = Health.GONE
    assert {why for _, _, why in scene.look()} == {NO_SERVER}
    assert (wire.closed, wire.abandoned, ear.closed, ear.abandoned) == (False, True, False, True)
    assert not scene.watch.outs["Stage Piano"].send((b"\xc0\x01",))
    assert scene.look() == []
    scene.system.comes_back = True
    told = [one for _ in range(SERVER_LOOKS) for one in scene.look()]
    assert [why for _, _, why in told] == [f"+{BOX}", f"+{PIANO}", f"+{PIANO}"]
    assert len(scene.system.prepared) == 3
    assert scene.system.wires[PIANO] is not wire


def test_open_ports_stay_open_while_a_server_stalls() -> None:
    scene = two_ports()
    wire = scene.system.wires[PIANO]
    scene.system.state = Health.STALLED
    assert {why for _, _, why in scene.look()} == {STALLED}
    assert not scene.watch.outs["Stage Piano"].send((b"\xc0\x01",))
    scene.system.state = Health.WELL
    assert [port for port, _, _ in scene.look()] == ["foot box", "Stage Piano", "Stage Piano"]
    assert scene.watch.outs["Stage Piano"].send((b"\xc0\x02",))
    assert wire.sent == [b"\xc0\x02"]
    assert not wire.abandoned


def test_a_press_right_after_a_stall_is_heard_before_the_watch_has_noticed() -> None:
    scene = two_ports()
    scene.system.state = Health.STALLED
    scene.look()
    scene.system.play(BOX, b"\xb0\x40\x7f")  # what arrives shows that the server runs again
    assert scene.events() == [("foot box", IN, "b0407f")]
    scene.system.state = Health.WELL
    scene.look()
    scene.system.play(BOX, b"\xb0\x40\x00")
    assert scene.events() == [("foot box", IN, "b04000")]


def test_a_server_that_stalled_and_died_is_left_alone() -> None:
    scene = two_ports()
    wire = scene.system.wires[PIANO]
    scene.system.state = Health.STALLED
    scene.look()
    scene.system.state = Health.GONE
    scene.look()
    assert (wire.closed, wire.abandoned) == (False, True)


@pytest.mark.parametrize(("state", "closed"), [(Health.WELL, True), (Health.STALLED, False), (Health.GONE, False)])
def test_the_end_closes_whatever_can_be_closed(state: Health, *, closed: bool) -> None:
    scene = two_ports()
    scene.system.state = state
    scene.watch.end()
    assert scene.system.wires[PIANO].closed is closed
    assert scene.system.wires[PIANO].abandoned is not closed
    assert scene.system.ended


def test_the_watch_runs_by_itself_and_stops() -> None:
    scene = Scene(TapeSystem(inputs=[BOX]), inputs=["foot box"], outputs=["Grand"])
    before = set(threading.enumerate())
    assert scene.watch.start()
    first = scene.inbox.get(timeout=10)
    assert isinstance(first, PortFound)
    assert first.was_there
    scene.watch.stop()
    assert scene.system.prepared == [(IN, "from foot box"), (OUT, "to Grand")]
    assert scene.system.ears[BOX][0].closed
    assert not set(threading.enumerate()) - before  # those of other tests may end meanwhile


def found(scene: Scene) -> list[tuple[str, bool]]:
    """Look once; each port that was found, and whether it was there before."""
    scene.watch.look()
    arrived = [scene.inbox.get() for _ in range(scene.inbox.qsize())]
    return [(one.name, one.was_there) for one in arrived if isinstance(one, PortFound)]


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """The time in ms, to be moved by hand."""
    now_ms = [50]  # a computer that has just been started
    monkeypatch.setattr("companion.ports.watch.now_ns", lambda: now_ms[0] * 1_000_000)
    return now_ms


def test_a_port_listed_late_does_not_count_as_just_plugged_in(
    clock: list[int],
) -> None:
    other = "Foot Box:MIDI 1 28:0"
    scene = Scene(TapeSystem(inputs=[BOX, other]), inputs=["Foot Box"])
    assert found(scene) == []
    clock[0] += 5000
    scene.system.names[IN] = (BOX,)
    assert found(scene) == [(BOX, True)], "so its next press counts at once"


def test_a_reopened_port_does_not_count_as_just_plugged_in(clock: list[int]) -> None:
    scene = Scene(TapeSystem(inputs=[BOX]), inputs=["Foot Box"])
    assert found(scene) == [(BOX, True)]
    scene.system.ears[BOX][0].connected = None  # the system cannot tell
    clock[0] += 500
    assert found(scene) == []
    clock[0] += 3000
    assert found(scene) == [(BOX, True)], "so the next press counts at once"
    clock[0] += 500
    scene.system.names[IN] = ()
    assert found(scene) == []
    clock[0] += 500
    scene.system.names[IN] = (BOX,)
    assert found(scene) == [(BOX, False)]


def test_a_port_that_was_busy_does_not_count_as_just_plugged_in(clock: list[int]) -> None:
    scene = Scene(TapeSystem(), inputs=["Foot Box"])
    scene.watch.look()
    scene.system.names[IN] = (BOX,)
    scene.system.busy.add(BOX)
    scene.watch.look()
    scene.system.busy.clear()
    clock[0] += 1500
    assert [one for _ in range(REFUSED_LOOKS + 1) for one in found(scene)] == [(BOX, True)]


def test_a_port_plugged_in_or_returned_has_just_appeared(clock: list[int]) -> None:
    scene = Scene(TapeSystem(), inputs=["Foot Box"])
    scene.watch.look()
    for _ in range(2):
        clock[0] += 5000
        scene.system.names[IN] = (BOX,)
        assert found(scene) == [(BOX, False)]
        clock[0] += 5000
        scene.system.names[IN] = ()
        assert found(scene) == []
    scene.system.names[IN] = (BOX,)
    assert found(scene) == [(BOX, False)]
    clock[0] += 5000
    scene.system.ears[BOX][0].connected = False  # gone and back between two looks
    assert found(scene) == [(BOX, False)]


def test_after_a_server_returns_every_port_has_just_appeared(clock: list[int]) -> None:
    scene = Scene(TapeSystem(inputs=[BOX]), inputs=["Foot Box", "Piano"])
    assert found(scene) == [(BOX, True)]
    clock[0] += 5000
    scene.system.state = Health.GONE
    scene.watch.look()
    scene.system.comes_back = True
    scene.system.names[IN] = (BOX, PIANO)
    assert [one for _ in range(SERVER_LOOKS) for one in found(scene)] == [(BOX, False), (PIANO, False)]


def test_after_a_stall_no_port_has_just_appeared(clock: list[int]) -> None:
    scene = Scene(TapeSystem(inputs=[BOX]), inputs=["Foot Box", "Piano"])
    assert found(scene) == [(BOX, True)]
    clock[0] += 5000
    scene.system.state = Health.STALLED
    assert found(scene) == []
    clock[0] += 500
    scene.system.state = Health.WELL
    scene.system.names[IN] = (BOX, PIANO)
    assert found(scene) == [(BOX, True), (PIANO, False)], "so the next press counts at once"


@pytest.mark.parametrize("late", [Health.STALLED, Health.GONE])
def test_the_first_look_that_a_server_answers_finds_ports_that_were_there(clock: list[int], late: Health) -> None:
    """A server that is still busy as the program starts must not cost the first press."""
    scene = Scene(TapeSystem(inputs=[BOX]), inputs=["Foot Box"])
    scene.system.state = late
    assert found(scene) == []
    scene.system.comes_back = True
    if late is Health.STALLED:
        scene.system.state = Health.WELL
    clock[0] += 1000
    assert [one for _ in range(SERVER_LOOKS) for one in found(scene)] == [(BOX, True)]


def test_waiting_for_the_system_is_reported_until_it_answers(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(busy_system, "LONG_S", 0)
    reported = threading.Event()

    class Slow(TapeSystem):
        def begin(self) -> None:
            assert reported.wait(10)

    scene = Scene(Slow(outputs=[PIANO]), outputs=["Stage Piano"])
    begun = threading.Thread(target=scene.watch.begin, daemon=True)
    begun.start()
    awaited = [scene.inbox.get(timeout=10)]
    reported.set()
    begun.join(10)
    awaited.append(scene.inbox.get(timeout=10))
    assert [one.why for one in awaited if isinstance(one, PortsAwaited)] == [busy_system.BUSY, ""]
    assert scene.look() == [("Stage Piano", OUT, f"+{PIANO}")]
    assert scene.inbox.empty()


def test_a_system_that_answers_at_once_reports_no_wait() -> None:
    scene = Scene(TapeSystem(outputs=[PIANO]), outputs=["Stage Piano"])
    scene.watch.begin()
    assert scene.inbox.empty()


def test_an_output_seen_once_is_remembered_all_night() -> None:
    system = TapeSystem(inputs=[BOX], outputs=[])
    scene = Scene(system, inputs=["foot box"], outputs=["Stage Piano"])
    scene.look()
    assert not scene.watch.had_output  # an input is no keyboard that can be played
    system.names[OUT] = (PIANO,)
    scene.look()
    system.names[OUT] = ()
    scene.look()
    assert scene.watch.had_output
