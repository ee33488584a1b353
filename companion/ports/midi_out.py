"""MIDI output: parcels of messages and pauses to one port, sent at once if nothing waits, never late in a burst.

A message goes out in the thread that sends it. A separate thread would isolate nothing: RtMidi's binding keeps the
interpreter's lock while the driver takes a message, and handing over costs more than sending. Only what follows a pause
is left to this port's own thread, with one lane for each MIDI channel, so that one instrument's pause does not delay
another on the same cable.
"""

import threading
from collections import deque
from collections.abc import Callable, Iterator, Sequence

from companion.clock import now_ns
from companion.ports.outside import PortRefused, SendPort
from companion.ports.show_clock import NS_PER_MS
from companion.ports.tokens import is_whole
from companion.rig import Pause

Parcel = Sequence[bytes | Pause]

NO_ROOM_NS = 3 * NS_PER_MS  # one period of a JACK server configured for live use
CHANNELS = range(16)
EVERY_CHANNEL = -1
"""The lane of a parcel for all sixteen channels, or for none."""
REAL_TIME = -2
"""No lane: clock, start and stop may come anywhere, even between the bytes of another message (MIDI 1.0)."""


class Lane:
    """What waits for one channel: each message or pause, and whether a newer sound drops it.

    Nothing of it goes out before ``due_ns``.
    """

    def __init__(self) -> None:
        self.waiting: deque[tuple[bytes | Pause, bool]] = deque()
        self.due_ns = 0

    def add(self, parcel: Parcel, *, gives_way: bool) -> None:
        """Queue a parcel."""
        self.waiting.extend((one, gives_way) for one in parcel)

    def drop_replaced(self) -> None:
        """Drop the waiting messages that a newer sound replaces."""
        self.waiting = deque(one for one in self.waiting if not one[1])


class OutPort:
    """The output to one port that the rig names, connected or not. Any thread may send."""

    def __init__(self, port: str, lost: Callable[[], None], clock_ns: Callable[[], int] = now_ns) -> None:
        """``port`` is the rig's word for the port; ``lost`` is called, in any thread, when the port is dead."""
        self.port = port
        self.sent = 0
        """Messages passed to the driver since the start."""
        self.refused = 0
        """Invalid messages, left out."""
        self._lost = lost
        self._clock_ns = clock_ns
        self._wire: SendPort | None = None
        self._lanes: dict[int, Lane] = {}
        self._changed = threading.Condition()
        self._sender: threading.Thread | None = None
        self._over = False

    @property
    def is_there(self) -> bool:
        """Return whether the port is connected, so that a message sent now reaches it."""
        return self._wire is not None

    def send(self, parcel: Parcel, *, replace: bool = False) -> bool:
        """Send these in order and return at once; False if the port is missing: then nothing is queued.

        What already waits for the same channel goes first. With ``replace``, what waits there and was itself sent with
        ``replace`` is dropped: a sound drops the sound before it, but no tuning (a pause that has begun is kept). A
        parcel for several channels counts as one for the first, its keyboard's. One for all sixteen does not wait; with
        ``replace`` it drops what waits for each of them. The clock never waits: if there is no room a tick is left out,
        since a late one is worse.
        """
        channel = lane_of(parcel)
        with self._changed:
            if self._wire is None:
                return False
            if channel == REAL_TIME:
                for one in parcel:
                    if self._wire is not None and isinstance(one, bytes) and self._give(self._wire, one):
                        self.sent += 1
                return self._wire is not None
            if replace:
                for number in {channel, *(CHANNELS if is_for_all(parcel) else ())} & self._lanes.keys():
                    self._lanes[number].drop_replaced()
            is_first = channel not in self._lanes
            lane = self._lanes.setdefault(channel, Lane())
            lane.add(parcel, gives_way=replace)
            if is_first:
                self._release(channel, lane)
            if self._lanes:
                self._wake_sender()
            return self._wire is not None

    def attach(self, wire: SendPort) -> None:
        """Start sending to this wire."""
        with self._changed:
            self._lanes.clear()
            self._wire = wire
            self._changed.notify_all()

    def detach(self) -> None:
        """Stop sending; what waits is dropped, so that no burst follows when the port returns."""
        with self._changed:
            self._wire = None
            self._lanes.clear()
            self._changed.notify_all()

    def close(self) -> None:
        """End the port's thread. What waits is dropped."""
        with self._changed:
            self._over = True
            self._wire = None
            self._lanes.clear()
            self._changed.notify_all()
        if self._sender is not None:
            self._sender.join(timeout=1)

    def wait_until_sent(self, timeout_s: float) -> bool:
        """Block until nothing waits; for the end of the night."""
        with self._changed:
            return self._changed.wait_for(lambda: not self._lanes, timeout_s)

    def send_due(self) -> int | None:
        """Send what is due; return the nanoseconds until more is due, or None if nothing waits."""
        with self._changed:
            return self._send_due()

    def _send_due(self) -> int | None:
        now = self._clock_ns()
        for channel, lane in tuple(self._lanes.items()):
            if lane.due_ns <= now:
                self._release(channel, lane)
        if not self._lanes:
            return None
        return max(0, min(lane.due_ns for lane in self._lanes.values()) - self._clock_ns())

    def _release(self, channel: int, lane: Lane) -> None:
        """Send up to the next pause; remove a lane where nothing waits, not even a pause."""
        while lane.waiting and self._wire is not None:
            first, _ = lane.waiting[0]
            if isinstance(first, Pause):
                lane.waiting.popleft()
                lane.due_ns = self._clock_ns() + first.ms * NS_PER_MS
                return
            if is_whole(first):
                if not self._give(self._wire, first):
                    lane.due_ns = self._clock_ns() + NO_ROOM_NS
                    return
                self.sent += 1
            else:
                self.refused += 1  # half a message would confuse the instrument
            lane.waiting.popleft()
        self._lanes.pop(channel, None)

    def _give(self, wire: SendPort, message: bytes) -> bool:
        """Pass one message to the driver; False if it has no room now. A dead port drops it, and all that waits."""
        try:
            return wire.send(message)
        except PortRefused:
            self._wire = None
            self._lanes.clear()
            self._lost()
            return True

    def _wake_sender(self) -> None:
        if self._sender is None:
            sender = threading.Thread(target=self._keep_sending, name=f"sender {self.port}", daemon=True)
            sender.start()
            self._sender = sender
        self._changed.notify_all()

    def _keep_sending(self) -> None:
        with self._changed:
            while not self._over:
                in_ns = self._send_due()
                if in_ns is None:
                    self._changed.notify_all()  # wakes a thread that waits until all is sent
                self._changed.wait(None if in_ns is None else in_ns / 1e9)


def lane_of(parcel: Parcel) -> int:
    """Return the channel that a parcel is for, 0..15 as on the wire, or else EVERY_CHANNEL or REAL_TIME.

    >>> lane_of((bytes.fromhex("B3 00 01"), Pause(20), bytes.fromhex("C3 05"), bytes.fromhex("B4 07 40")))
    3
    """
    if parcel and all(isinstance(one, bytes) and len(one) == 1 and is_whole(one) and one >= b"\xf8" for one in parcel):
        return REAL_TIME
    return EVERY_CHANNEL if is_for_all(parcel) else next(_channels_of(parcel), EVERY_CHANNEL)


def is_for_all(parcel: Parcel) -> bool:
    """Return whether a parcel is for all sixteen channels: it silences a port."""
    return len(set(_channels_of(parcel))) == len(CHANNELS)


def _channels_of(parcel: Parcel) -> Iterator[int]:
    return (one[0] & 0x0F for one in parcel if isinstance(one, bytes) and b"" < one[:1] < b"\xf0")
