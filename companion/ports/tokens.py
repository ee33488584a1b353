"""Parse whole MIDI messages from any bytes: running status, clock inside messages, cables pulled mid-message.

Most systems deliver whole messages already; ``is_whole`` detects that, and nothing is parsed twice. A system exclusive
message cut off by another status byte is dropped, and so is data without a status (MIDI 1.0).
"""

from typing import Final

LONGEST_EXCLUSIVE = 65_536  # bytes; longer messages are dropped whole, since nothing on stage needs them

EXCLUSIVE: Final = 0xF0
END_OF_EXCLUSIVE: Final = 0xF7
FIRST_REAL_TIME: Final = 0xF8

_CHANNEL_DATA: Final = {0x8: 2, 0x9: 2, 0xA: 2, 0xB: 2, 0xC: 1, 0xD: 1, 0xE: 2}  # MIDI 1.0, Table I, by high nibble
_SYSTEM_DATA: Final = {0xF1: 1, 0xF2: 2, 0xF3: 1, 0xF6: 0}  # MIDI 1.0, Table V; F4 and F5 are undefined
_REAL_TIME: Final = frozenset((0xF8, 0xFA, 0xFB, 0xFC, 0xFE, 0xFF))  # MIDI 1.0, Table V; F9 and FD are undefined

DATA_BYTES: Final = tuple(
    _CHANNEL_DATA.get(status >> 4, _SYSTEM_DATA.get(status, 0 if status in _REAL_TIME else None))
    for status in range(256)
)
"""How many data bytes follow each first byte; None if it is not a status, undefined, or begins an exclusive message."""


def is_whole(message: bytes) -> bool:
    """Return whether these bytes are exactly one message, its status byte first.

    >>> is_whole(bytes.fromhex("B0 40 7F")), is_whole(bytes.fromhex("40 7F")), is_whole(bytes.fromhex("C0 05 06"))
    (True, False, False)
    """
    if not message:
        return False
    if message[0] == EXCLUSIVE:
        return message[-1] == END_OF_EXCLUSIVE and len(message) > 1 and message[1:-1].isascii()
    return DATA_BYTES[message[0]] == len(message) - 1 and message[1:].isascii()


class Splitter:
    """The bytes of one port, cut into messages. Accepts any bytes, and recovers at the next status byte."""

    def __init__(self) -> None:
        self._status = 0  # 0: no status known, data bytes are dropped
        self._data = bytearray()
        self._exclusive: bytearray | None = None

    def feed(self, some: bytes) -> tuple[bytes, ...]:
        """Handle the next bytes; return the messages that they complete, in order."""
        if not some:
            return ()
        whole: list[bytes] = []
        for byte in some:
            if byte >= FIRST_REAL_TIME:  # may come anywhere, and changes nothing around it
                if byte in _REAL_TIME:
                    whole.append(bytes((byte,)))
            elif byte >= 0x80:
                self._take_status(byte, whole)
            elif self._exclusive is not None:
                self._take_exclusive(byte)
            elif self._status:
                self._take_data(byte, whole)
        return tuple(whole)

    def whole(self, message: bytes) -> tuple[bytes]:
        """Return a whole message unparsed; fragments that follow it see its status, as after ``feed``."""
        status = message[0]
        if status < FIRST_REAL_TIME:
            self._exclusive = None
            self._data.clear()
            self._status = status if status < EXCLUSIVE else 0
        return (message,)

    def _take_status(self, status: int, whole: list[bytes]) -> None:
        if status == END_OF_EXCLUSIVE and self._exclusive is not None:
            whole.append(bytes((*self._exclusive, END_OF_EXCLUSIVE)))
        self._exclusive = bytearray((EXCLUSIVE,)) if status == EXCLUSIVE else None
        self._data.clear()
        awaited = DATA_BYTES[status]
        self._status = status if awaited else 0  # system messages cancel running status (MIDI 1.0)
        if awaited == 0:
            whole.append(bytes((status,)))

    def _take_data(self, byte: int, whole: list[bytes]) -> None:
        self._data.append(byte)
        if len(self._data) == DATA_BYTES[self._status]:
            whole.append(bytes((self._status, *self._data)))
            self._data.clear()
            if self._status >= EXCLUSIVE:
                self._status = 0

    def _take_exclusive(self, byte: int) -> None:
        if self._exclusive is None:
            return
        self._exclusive.append(byte)
        if len(self._exclusive) > LONGEST_EXCLUSIVE:
            self._exclusive = None
