"""The port watch: opens the ports that the rig names, and reports ports lost and found. Runs in its own thread.

RtMidi reports no change on any system, so the lists are read twice a second. A port that left and returned under its
name is recognized by its connection, if the system can tell (JACK, ALSA); elsewhere all ports are reopened after a
gap between two scans, in which anything may have happened. All ports are opened and closed in this thread only. What
belongs to a dead JACK server is never touched again.
"""

import contextlib
import threading
from collections.abc import Callable, Sequence
from typing import Final

from companion.clock import now_ns
from companion.ports.arrivals import ArrivalInbox, Direction, PortFound, PortLost
from companion.ports.busy_system import waiting_reported
from companion.ports.clock_in import ClockIn
from companion.ports.midi_in import InPort
from companion.ports.midi_out import OutPort
from companion.ports.outside import Health, MidiSystem, PortRefused, ReceivePort, SendPort
from companion.ports.port_names import PortMatch, find, is_meant, is_no_instrument, is_ours, why_not, without_numbers
from companion.ports.show_clock import NS_PER_MS

LOOK_EVERY_S: Final = 0.5
REFUSED_LOOKS: Final = 3  # scans between attempts on a port that another program holds
SERVER_LOOKS: Final = 2  # and on a server that is missing
JUST_APPEARED_NS: Final = 1000 * NS_PER_MS  # a new port first reports resting switches (stage/gestures.py)
GAP_NS: Final = 2000 * NS_PER_MS  # longer between two scans: the computer slept, or the program was stopped
STALLED: Final = "the MIDI server does not answer"


class PortWord:
    """A word of the rig for a port, and the port that it means now."""

    def __init__(self, word: str, direction: Direction) -> None:
        self.word = word
        self.direction = direction
        self.label = f"{'from' if direction is Direction.IN else 'to'} {word or 'the one there is'}"
        self.name: str | None = None  # the system's name, while it is open and reported
        self.last: str | None = None  # the same, kept when the port is lost
        self.reported: str | None = None  # why it is missing, as last reported; "" while it is open
        self.reopens = False  # lost in a gap or a stall, though it may never have left


class OpenPort:
    """One open port, for all words that mean it: an input has ``ear`` and ``heard``, an output has ``wire``."""

    def __init__(self, ear: ReceivePort | None, wire: SendPort | None, heard: InPort | None) -> None:
        self.ear = ear
        self.wire = wire
        self.heard = heard

    def holds(self) -> bool | None:
        """Return whether it is connected; None if the system cannot tell."""
        part = self.ear or self.wire
        return part.holds() if part is not None else None

    def close(self) -> None:
        """Close it; the server is healthy."""
        if self.heard is not None:
            self.heard.stop_hearing()
        for part in (self.ear, self.wire):
            if part is not None:
                part.close()

    def abandon(self) -> None:
        """Abandon it: the server is dead."""
        if self.heard is not None:
            self.heard.stop_hearing()
        for part in (self.ear, self.wire):
            if part is not None:
                part.abandon()


class PortWatch:
    """The ports that a rig names, for one night. Arrivals go into the inbox; sounds go out through ``outs``."""

    def __init__(  # noqa: PLR0913 - what a watch needs, named
        self,
        system: MidiSystem,
        inbox: ArrivalInbox,
        *,
        inputs: Sequence[str],
        outputs: Sequence[str],
        sysex: bool = False,
        clock: ClockIn | None = None,
        every_input: bool = False,
        say: Callable[[str], None] = lambda _: None,
    ) -> None:
        """Prepare to open the ports that these words mean; ``THE_ONE_THERE_IS`` ("") means the only port there is.

        ``every_input``: listen to every other input as well, under the system's whole name for it. ``say`` reports a
        fault of a driver or of the program itself; the watch continues.
        """
        self._system = system
        self._inbox = inbox
        self.had_output = False  # whether any output has been found so far
        self._sysex = sysex
        self._clock = clock
        self._every_input = every_input
        self._every: set[str] = set()  # names that became words of their own
        self._say = say
        self._reported = ""  # the last fault
        self._looked_ns: int | None = None  # when the last scan ended
        self._words = [PortWord(word, Direction.IN) for word in dict.fromkeys(inputs)]
        self._words += [PortWord(word, Direction.OUT) for word in dict.fromkeys(outputs)]
        self._wake = threading.Event()
        self.outs = {word: OutPort(word, self._wake.set) for word in dict.fromkeys(outputs)}
        """The output for each word; it exists for the whole night, whether its port is connected or not."""
        self._open: dict[tuple[Direction, str], OpenPort] = {}
        self._refused: dict[tuple[Direction, str], int] = {}
        self._since_ns: dict[tuple[Direction, str], int] = {}
        self._looks_without_server = 0
        self._has_listed = False
        self._first_look = threading.Event()
        self._over = threading.Event()
        self._thread: threading.Thread | None = None

    def start(self, wait_s: float = 2.0) -> bool:
        """Start; wait for the first scan, which reports each word as found or lost. False if it has not finished."""
        self._thread = threading.Thread(target=self._watch, name="port watch", daemon=True)
        self._thread.start()
        return self._first_look.wait(wait_s)

    def has_looked(self, wait_s: float) -> bool:
        """Return whether the first scan is done, after waiting for it at most this long."""
        return self._first_look.wait(wait_s)

    def stop(self, wait_s: float = 2.0) -> None:
        """Close all ports, after sending what waits. The watch cannot be restarted."""
        for out in self.outs.values():
            out.wait_until_sent(wait_s)
        self._over.set()
        self._wake.set()
        if self._thread is not None:
            self._thread.join(wait_s)
        for out in self.outs.values():
            out.close()

    def _watch(self) -> None:
        self.begin()
        while not self._over.is_set():
            self._wake.clear()
            with contextlib.nullcontext() if self._first_look.is_set() else waiting_reported(self._inbox):
                self.look()
            self._first_look.set()
            self._wake.wait(LOOK_EVERY_S)
        self._guarded(self.end)

    def begin(self) -> None:
        """Tie the system to this thread; tell the player if that takes long."""
        with waiting_reported(self._inbox):
            self._guarded(self._system.begin)
            self._guarded(self._prepare)

    def _guarded(self, do: Callable[[], None]) -> None:
        """Call it; report any failure, each once."""
        try:
            do()
        except Exception as fault:  # noqa: BLE001 - a watch that ends finds nothing again all night
            if repr(fault) != self._reported:
                self._reported = repr(fault)
                self._say(f"error on a MIDI port, still looking for ports: {self._reported}")

    def _prepare(self) -> None:
        labels = [(word.direction, word.label) for word in self._words]
        self._system.prepare(labels, sysex=self._sysex, clock=self._clock is not None)

    def look(self) -> None:
        """Scan once: drop ports that are gone, open those that are listed. Never raises."""
        self._guarded(self._look_once)
        self._looked_ns = now_ns()

    def _look_once(self) -> None:
        if self._server_is_well():
            if self._looked_ns is not None and now_ns() - self._looked_ns > GAP_NS:
                self._close_unsure()
            self._look_at_all()

    def _close_unsure(self) -> None:
        """Close every port that may have lost its connection unnoticed; it is reopened at once."""
        for key in [key for key, port in self._open.items() if port.holds() is None]:
            for word in self._words:
                if (word.direction, word.name) == key:
                    word.reopens = True
                    self._detach(word)
            self._close(self._open.pop(key))

    def _look_at_all(self) -> None:
        for direction in Direction:
            listed = self._system.listed(direction) if self._listens_to(direction) else ()
            self._note_new(direction, listed)
            if direction is Direction.IN and self._every_input:
                self._add_every(listed)
            words = [word for word in self._words if word.direction is direction]
            if words:
                self._look_at(direction, words, listed)
        self._has_listed = True

    def _note_new(self, direction: Direction, listed: tuple[str, ...]) -> None:
        """Record since when each port is listed; ports of the first list count as there for long."""
        now = now_ns() if self._has_listed else now_ns() - JUST_APPEARED_NS
        for key in [key for key in self._since_ns if key[0] is direction and key[1] not in listed]:
            del self._since_ns[key]
        for name in listed:
            self._since_ns.setdefault((direction, name), now)

    def _was_plugged_in(self, word: PortWord, name: str) -> bool:
        """Return whether a port was plugged in earlier, but could not be told apart from others or opened until now.

        So was one that was lost in a gap or a stall: a press that follows does not report where a switch rests.
        """
        is_new = word.last is not None and not (word.reopens and word.last == name)
        return not is_new and now_ns() - self._since_ns[word.direction, name] >= JUST_APPEARED_NS

    def _listens_to(self, direction: Direction) -> bool:
        every = self._every_input and direction is Direction.IN
        return every or any(word.direction is direction for word in self._words)

    def _add_every(self, listed: tuple[str, ...]) -> None:
        """Make each new name a word of its own; a port that returns under another number keeps its word."""
        known = {word.word for word in self._words if word.direction is Direction.IN}
        new = [n for n in listed if n not in known and not is_ours(n) and not is_no_instrument(n)]
        system = self._system.word
        lost = [without_numbers(word, system) for word in self._every - set(listed)]
        bare = [without_numbers(name, system) for name in new]
        for name in new:
            called = without_numbers(name, system)
            if not lost.count(called) == bare.count(called) == 1:
                self._every.add(name)
                self._words.append(PortWord(name, Direction.IN))

    def end(self) -> None:
        """Close all ports and leave the system."""
        well = self._system.health() is Health.WELL
        for port in self._open.values():
            if well:
                self._close(port)
            else:
                port.abandon()
        self._open.clear()
        self._system.end()

    def _server_is_well(self) -> bool:
        health = self._system.health()
        if health is Health.STALLED:
            self._note_stall()
            return False
        if health is Health.WELL:
            return True
        self._lose_all(self._system.gone)
        for port in self._open.values():
            port.abandon()
        self._open.clear()
        self._since_ns.clear()
        self._looks_without_server += 1
        if self._looks_without_server % SERVER_LOOKS == 0 and self._system.find_again():
            self._looks_without_server = 0
            self._prepare()
            return True
        return False

    def _look_at(self, direction: Direction, words: list[PortWord], listed: tuple[str, ...]) -> None:
        matches = {word.word: self._match(word, words, listed) for word in words}
        for word in words:
            match = matches[word.word]
            if word.name is not None and word.name != match.name:
                gone = f'"{word.name}" is gone'
                self._lose(word, gone if match.name else why_not(word.word, match, listed, f"{direction.value}put"))
        self._close_gone(direction, listed)
        self._close_broken(direction)
        for word in words:
            self._open_for(word, matches[word.word], listed)

    def _match(self, word: PortWord, words: list[PortWord], listed: tuple[str, ...]) -> PortMatch:
        """Find a word's port. A port that another word means, by number or whole name, is not available to its twin."""
        system = self._system.word
        taken = [one.name for one in words if one is not word and one.name and is_meant(one.word, one.name, system)]
        return find(word.word, listed, system, word.last, taken)

    def _close_gone(self, direction: Direction, listed: tuple[str, ...]) -> None:
        """Close ports that are no longer listed, or that left and returned between two scans, unconnected."""
        for key in [key for key in self._open if key[0] is direction]:
            if key[1] in listed and self._open[key].holds() is not False:
                continue
            for word in self._words:
                if (word.direction, word.name) == key:
                    self._lose(word, f'"{key[1]}" is gone')
            self._since_ns[key] = now_ns()
            self._close(self._open.pop(key))

    def _close_broken(self, direction: Direction) -> None:
        """Close wires that the driver has refused, for all words that mean them; their port may still be listed."""
        if direction is not Direction.OUT:
            return
        words = [word for word in self._words if word.direction is Direction.OUT and word.name is not None]
        broken = dict.fromkeys(word.name for word in words if not self.outs[word.word].is_there)
        for name in filter(None, broken):
            for word in words:
                if word.name == name:
                    self._lose(word, f'"{name}" no longer accepts messages')
            key = (Direction.OUT, name)
            self._refused[key] = REFUSED_LOOKS
            if key in self._open:
                self._close(self._open.pop(key))

    def _close(self, port: OpenPort) -> None:
        """Close a port, which may fail if its cable was pulled."""
        self._guarded(port.close)

    def _open_for(self, word: PortWord, match: PortMatch, listed: tuple[str, ...]) -> None:
        if match.name is None:
            self._report_lost(word, why_not(word.word, match, listed, f"{word.direction.value}put"))
            return
        if word.name == match.name:
            return
        key = (word.direction, match.name)
        if self._refused.get(key, 0) > 0:
            self._refused[key] -= 1
            return
        if key not in self._open:
            try:
                self._open[key] = self._open_port(word.direction, match.name, word.label)
            except Exception as refusal:  # noqa: BLE001 - a driver may raise anything; nothing was opened
                if not isinstance(refusal, PortRefused):
                    self._say(f'"{match.name}" cannot be opened: {refusal!r}')
                self._refused[key] = REFUSED_LOOKS
                self._report_lost(word, f'"{match.name}" cannot be opened; another program may be using it ({refusal})')
                return
        self._find(word, match.name)

    def _open_port(self, direction: Direction, name: str, label: str) -> OpenPort:
        if direction is Direction.OUT:
            return OpenPort(None, self._system.open_wire(name, label), None)
        heard = InPort(self._inbox, self._clock)
        ear = self._system.open_ear(name, label, heard.receive, sysex=self._sysex, clock=self._clock is not None)
        return OpenPort(ear, None, heard)

    def _find(self, word: PortWord, name: str) -> None:
        port = self._open[word.direction, name]
        if port.wire is not None:
            self.outs[word.word].attach(port.wire)
        self.had_output |= word.direction is Direction.OUT
        was_there = self._was_plugged_in(word, name)
        word.name = word.last = name
        word.reported, word.reopens = "", False
        self._inbox.put(PortFound(word.word, word.direction, name, now_ns(), was_there))
        self._hear(word.direction, name)  # only now, so that its messages follow it in the inbox

    def _hear(self, direction: Direction, name: str) -> None:
        """Pass on this port's messages for all words that mean it now."""
        port = self._open.get((direction, name))
        if port is not None and port.heard is not None:
            meant = (word for word in self._words if word.direction is direction and word.name == name)
            port.heard.hear(tuple(word.word for word in meant))

    def _lose(self, word: PortWord, why: str) -> None:
        self._detach(word)
        self._report_lost(word, why)

    def _detach(self, word: PortWord) -> None:
        """Detach a word from its port."""
        if word.direction is Direction.OUT:
            self.outs[word.word].detach()
        name, word.name = word.name, None
        if name is not None:
            self._hear(word.direction, name)

    def _note_stall(self) -> None:
        """Report every word as lost. Inputs stay open: a press that arrives is heard before the next scan."""
        for word in self._words:
            if word.name is not None:
                word.reopens = True
            if word.direction is Direction.OUT:
                self._detach(word)
            word.name = None
            self._report_lost(word, STALLED)

    def _lose_all(self, why: str) -> None:
        for word in self._words:
            self._lose(word, why)

    def _report_lost(self, word: PortWord, why: str) -> None:
        if word.reported != why:
            word.reported = why
            self._inbox.put(PortLost(word.word, word.direction, why, now_ns()))
