"""How panels count programs: from the text on the panel to the byte sent (common practice, no source).

Counted from 1, panel 17 is byte 16; from 0, panel 16 is byte 16. In banks of eight (A11 to B88 or 1-1 to 16-8) each
digit is 1 to 8.
"""

import re
from typing import Final

from companion.files import InvalidValue, shown
from companion.rig.model import Numbering

_LAST: Final = 127
_WHOLE: Final = re.compile(r"[0-9]{1,9}")
_LETTERED: Final = re.compile(r"([A-Za-z])[ -]?([0-9])[ -]?([0-9])")
_NUMBERED: Final = re.compile(r"([0-9]{1,3})[-./ ]([0-9])")


def to_wire(written: str, numbering: Numbering) -> int:
    """Return the program, 0..127, that the panel shows like this. Raises NotThis with what to write.

    >>> to_wire("17", Numbering.FROM_1), to_wire("17", Numbering.FROM_0), to_wire("B37", Numbering.BANKS_OF_EIGHT)
    (16, 17, 86)
    """
    if numbering is Numbering.BANKS_OF_EIGHT:
        return _from_banks(written.strip())
    first = int(numbering.value)
    if not _WHOLE.fullmatch(written.strip()):
        if _LETTERED.fullmatch(written) or _NUMBERED.fullmatch(written):
            raise InvalidValue(
                f"{shown(written)} is a program in banks of eight, but this panel counts from {first}",
                f"{first} to {_LAST + first}, or programs_from: banks of eight",
            )
        raise InvalidValue(f"{shown(written)} is not a program", f"{first} to {_LAST + first}, as the panel shows it")
    program = int(written) - first
    if program < 0:
        raise InvalidValue(f"program {int(written)}, but this panel counts from 1", "1 to 128, or programs_from: 0")
    if program > _LAST:
        other = ", or programs_from: 1" if program == _LAST + 1 and first == 0 else ""
        raise InvalidValue(
            f"program {int(written)}, but this panel counts from {first} to {_LAST + first}",
            f"{first} to {_LAST + first}{other}",
        )
    return program


def to_panel(program: int, numbering: Numbering, like: str = "A11") -> str:
    """Return what the panel shows for a program 0..127; in banks of eight, in the format of ``like``.

    >>> to_panel(16, Numbering.FROM_1), to_panel(86, Numbering.BANKS_OF_EIGHT)
    ('17', 'B37')
    >>> to_panel(16, Numbering.BANKS_OF_EIGHT, like="1-1")
    '3-1'
    """
    if numbering is not Numbering.BANKS_OF_EIGHT:
        return str(program + int(numbering.value))
    bank, place = divmod(program, 8)
    if like[:1].isdigit():
        return f"{bank + 1}-{place + 1}"
    return f"{'AB'[bank // 8]}{bank % 8 + 1}{place + 1}"


def _from_banks(written: str) -> int:
    if lettered := _LETTERED.fullmatch(written):
        letter, bank, place = lettered[1].upper(), int(lettered[2]), int(lettered[3])
        if letter not in "AB":
            raise InvalidValue(f"{shown(written)}: there are two groups, A and B", f"A{bank}{place} or B{bank}{place}")
        return 64 * "AB".index(letter) + 8 * _from_0(written, bank, 8) + _from_0(written, place, 8)
    if numbered := _NUMBERED.fullmatch(written):
        return 8 * _from_0(written, int(numbered[1]), 16) + _from_0(written, int(numbered[2]), 8)
    if _WHOLE.fullmatch(written):
        raise InvalidValue(
            f"program {written}, but this panel counts in banks of eight",
            "A11 to B88 or 1-1 to 16-8, as the panel shows it; or programs_from: 1",
        )
    raise InvalidValue(f"{shown(written)} is not a program", "A11 to B88 or 1-1 to 16-8, as the panel shows it")


def _from_0(written: str, number: int, most: int) -> int:
    if not 1 <= number <= most:
        raise InvalidValue(f"{shown(written)}: digits go from 1 to 8, not {number}", "A11 to B88 or 1-1 to 16-8")
    return number - 1
