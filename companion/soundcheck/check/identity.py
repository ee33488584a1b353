"""The identity request, which an instrument may answer, and how to read the reply."""

from typing import Final

import msgspec

IDENTITY_REQUEST: Final = bytes.fromhex("F0 7E 7F 06 01 F7")  # MIDI 1.0, Universal System Exclusive; 7F: every device
_REPLY: Final = bytes.fromhex("06 02")  # general information, identity reply
_LENGTHS: Final = {15: 1, 17: 3}  # of the whole reply: bytes of the maker's number
_NON_COMMERCIAL: Final = "7D"


class Identity(msgspec.Struct, frozen=True):
    """An identity reply: the maker's registered number and the instrument's numbers as received, in hexadecimal.

    ``family`` and ``member`` are 14-bit numbers, LSB first on the wire.
    """

    maker: str
    family: int
    member: int
    revision: str
    device: int

    def __str__(self) -> str:
        """Return the reply as text."""
        maker = f"{self.maker} (not commercial)" if self.maker == _NON_COMMERCIAL else self.maker
        return f"maker {maker}, family {self.family}, member {self.member}, revision {self.revision}"


def read_reply(message: bytes) -> Identity | None:
    """Read an identity reply; None for any other message.

    >>> str(read_reply(bytes.fromhex("F0 7E 00 06 02 7D 01 00 02 00 00 00 01 00 F7")))
    'maker 7D (not commercial), family 1, member 2, revision 00 00 01 00'
    """
    of_maker = _LENGTHS.get(len(message))
    if of_maker is None or message[:2] != b"\xf0\x7e" or message[3:5] != _REPLY or message[-1] != 0xF7:
        return None
    maker, rest = message[5 : 5 + of_maker], message[5 + of_maker : -1]
    if (of_maker == 3) != (maker[0] == 0) or not message[1:-1].isascii():
        return None
    return Identity(
        maker=maker.hex(" ").upper(),
        family=rest[0] | rest[1] << 7,
        member=rest[2] | rest[3] << 7,
        revision=rest[4:].hex(" ").upper(),
        device=message[2],
    )
