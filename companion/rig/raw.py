"""Raw MIDI messages as a player types them ("F0 7E 7F 09 01 F7"), checked byte by byte before the show."""

from collections.abc import Mapping
from typing import Final

from companion.files import InvalidValue

LONGEST: Final = 256  # bytes of one message: an old keyboard's input buffer (common practice, no source)

_DATA_BYTES_BY_KIND: Final[Mapping[int, int]] = {  # MIDI 1.0, Table I: by the upper half of the status byte
    0x80: 2,
    0x90: 2,
    0xA0: 2,
    0xB0: 2,
    0xC0: 1,
    0xD0: 1,
    0xE0: 2,
}
_DATA_BYTES: Final[Mapping[int, int]] = {  # MIDI 1.0, system common and real-time messages: by the whole status byte
    0xF1: 1,
    0xF2: 2,
    0xF3: 1,
    0xF6: 0,
    0xF8: 0,
    0xFA: 0,
    0xFB: 0,
    0xFC: 0,
    0xFF: 0,
}
_EXCLUSIVE: Final = 0xF0
_END_OF_EXCLUSIVE: Final = 0xF7
_ACTIVE_SENSING: Final = 0xFE


def messages_in(written: str) -> tuple[bytes, ...]:
    """Return the messages in a line of hexadecimal bytes. Raises NotThis unless all are whole and allowed.

    >>> [message.hex(" ") for message in messages_in("B0 5B 28 C0 10")]
    ['b0 5b 28', 'c0 10']
    """
    places = _bytes_in(written)
    if not places:
        raise InvalidValue("a message has at least one byte", "the bytes in hexadecimal, as in B0 5B 28", 0)
    messages = []
    start = 0
    while start < len(places):
        end = _end_of_message(places, start)
        messages.append(bytes(value for value, _offset in places[start:end]))
        start = end
    return tuple(messages)


def _bytes_in(written: str) -> list[tuple[int, int]]:
    """Return each byte with its offset in the text."""
    places = []
    offset = 0
    for word in written.split(" "):
        if word and (len(word) % 2 or not all(sign in "0123456789abcdefABCDEF" for sign in word)):
            raise InvalidValue(
                f'"{word}" is not a byte', "two hexadecimal digits a byte, 00 to FF, as in B0 5B 28", offset
            )
        places += [(int(word[at : at + 2], 16), offset + at) for at in range(0, len(word), 2)]
        offset += len(word) + 1
    return places


def _end_of_message(places: list[tuple[int, int]], start: int) -> int:
    status, offset = places[start]
    if status < 0x80:
        raise InvalidValue(
            f"{status:02X} is a data byte; a message begins with a status byte",
            "80 to FF first; repeat the status byte for each message",
            offset,
        )
    if status == _EXCLUSIVE:
        return _end_of_exclusive(places, start)
    data_bytes = _DATA_BYTES_BY_KIND.get(status & 0xF0) if status < 0xF0 else _DATA_BYTES.get(status)
    if data_bytes is None:
        raise InvalidValue(*_why_not(status), offset)
    data = places[start + 1 : start + 1 + data_bytes]
    for value, at in data:
        if value >= 0x80:
            raise InvalidValue(
                f"{value:02X} is not a data byte", f"00 to 7F: {status:02X} takes {data_bytes} of them", at
            )
    if len(data) < data_bytes:
        needed = "1 data byte" if data_bytes == 1 else f"{data_bytes} data bytes"
        raise InvalidValue(f"{status:02X} takes {needed} but has {len(data)}", "the whole message", offset)
    return start + 1 + data_bytes


def _end_of_exclusive(places: list[tuple[int, int]], start: int) -> int:
    for place in range(start + 1, len(places)):
        value, offset = places[place]
        if value == _END_OF_EXCLUSIVE:
            length = place + 1 - start
            if length > LONGEST:
                raise InvalidValue(
                    f"a message of {length} bytes", f"at most {LONGEST} bytes a message", places[start][1]
                )
            return place + 1
        if value >= 0x80:
            raise InvalidValue(f"{value:02X} inside system exclusive", "00 to 7F between F0 and F7", offset)
    raise InvalidValue("this system exclusive message does not end", "F7 at its end", places[start][1])


def _why_not(status: int) -> tuple[str, str]:
    """Return why a status byte is refused, and what to write."""
    if status == _END_OF_EXCLUSIVE:
        return "F7 ends a system exclusive message that never began", "F0 where it begins"
    if status == _ACTIVE_SENSING:
        return "a single FE silences the keyboard after 300 ms unless more follow", "the message without it"
    return f"{status:02X} is undefined in MIDI 1.0", "the message without it"
