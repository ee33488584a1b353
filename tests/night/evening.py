"""A night without a machine: a clock moved by hand, wires, journal and display that remember."""

import queue

import msgspec
from stage.scenes import book_of, rig_of, song

from companion.night.entries import ResumedNight
from companion.night.happenings import KeyReceived, NightInbox, Stop
from companion.night.keyboards import Keyboards, MidiParcel
from companion.night.night import Night
from companion.night.pacing import Pacing
from companion.ports import Direction, MidiReceived, PortFound
from companion.ports.show_clock import NS_PER_MS
from companion.rig import Action, Pause, Pedal, Rig
from companion.stage import Book, Clock, Next, State, Surroundings, replay
from companion.view import Looks, View

BOX = "Foot Box"
PEDALS = (
    Pedal("right", port=BOX, channel=1, control=64, press=Action.NEXT),
    Pedal("left", port=BOX, channel=1, control=67, press=Action.BACK),
    Pedal("turner", key="page down", press=Action.NEXT),
)


class Tape:
    """A wire that remembers what was sent."""

    def __init__(self) -> None:
        self.sent: list[bytes] = []
        self.there = True

    def send(self, parcel: MidiParcel, *, replace: bool = False) -> bool:
        del replace
        self.sent += [message for message in parcel if not isinstance(message, Pause)]
        return self.there


class Notebook:
    """A journal that keeps its lines in memory."""

    def __init__(self) -> None:
        self.lines: list[bytes] = []
        self.notes: list[bytes] = []
        self.begun: list[tuple[State, int]] = []
        self.refuses = ""
        self.is_unsaved = False

    def write(self, record: bytes) -> None:
        self.lines.append(record)

    def note(self, record: bytes) -> None:
        self.notes.append(record)

    def go_on(self, state: State, at_ms: int) -> str:
        self.begun.append((state, at_ms))
        return self.refuses


class Wall:
    """A display that keeps every view."""

    def __init__(self) -> None:
        self.views: list[View] = []

    def show(self, view: View) -> None:
        self.views.append(view)

    def close(self) -> None:
        pass


class Librarian:
    """Who would read the show again, and only counts how often."""

    def __init__(self) -> None:
        self.asked = 0

    def read_again(self, rig: Rig) -> None:
        del rig
        self.asked += 1


class Evening:
    """One night played by hand."""

    def __init__(
        self, book: Book | None = None, *, rig: Rig | None = None, resumed: str = "", presses: int = 0
    ) -> None:
        """Begin after so many presses of an earlier run, ``resumed`` as the notice says."""
        here = rig or msgspec.structs.replace(rig_of("lower"), pedals=PEDALS)
        self.book = book or book_of(
            [song("A", "Intro @organ, Verse @lead, Chorus @strings"), song("B", "Intro @pad")], rig=here
        )
        self.tape, self.notebook, self.wall = Tape(), Notebook(), Wall()
        self.librarian = Librarian()
        self.inbox: NightInbox = queue.SimpleQueue()
        self.now_ms = 0
        self.clocks: list[Clock] = []
        self.said: list[str] = []
        self.night = Night(
            ResumedNight(replay(self.book, [Next(one) for one in range(presses)]), message=resumed),
            keyboards=lambda tell: Keyboards(
                self.book.rig, {f"{b.name} port": self.tape for b in here.keyboards}, tell, self.clocks.append
            ),
            record=self.notebook,
            display=self.wall,
            inbox=self.inbox,
            clock_ns=lambda: self.now_ms * NS_PER_MS,
            zero_ns=0,
            around=Surroundings(),
            looks=Looks(),
            say=self.said.append,
            pacing=Pacing(0, as_if_at_s=20 * 3600),
            reader=self.librarian,
        )
        self.night.begin()

    def midi(self, message: str, port: str = BOX) -> None:
        """Let a MIDI message come, half a second later."""
        self.now_ms += 500
        self.night.take(self.came(bytes.fromhex(message), port))

    def came(self, message: bytes, port: str = BOX) -> MidiReceived:
        """Return a MIDI message that arrives now."""
        return MidiReceived(port, message, self.now_ms * NS_PER_MS)

    def press(self, control: int = 64) -> None:
        """Press the pedal and let it go."""
        self.midi(f"B0 {control:02X} 7F")
        self.midi(f"B0 {control:02X} 00")

    def key(self, name: str) -> None:
        self.now_ms += 500
        self.night.take(KeyReceived(name, down=True))
        self.night.take(KeyReceived(name, down=False))

    def found(self, port: str, direction: Direction) -> None:
        self.night.take(PortFound(port, direction, port, self.now_ms * NS_PER_MS))

    def new(self) -> list[str]:
        """Return what was sent since this was last asked."""
        sent = [message.hex(" ") for message in self.tape.sent]
        self.tape.sent.clear()
        return sent


def stop() -> Stop:
    return Stop("the test is over")
