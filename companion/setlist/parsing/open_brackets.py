"""Lines that a narrow page breaks inside a bracket: Moth (organ / stabs)."""

import re
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.setlist.parsing.text_lines import TextLine

LONGEST: Final = 80  # characters from the bracket to the line's end, and to its end in the next line
_OPEN: Final = re.compile(r"(?<![:;=8-])\([^()]*$")  # no face such as :(
_CLOSES: Final = re.compile(r"^([^()]*[^():;=8-])\)")


def with_brackets_whole(lines: Sequence[TextLine]) -> Sequence[TextLine]:
    """Return the lines; one that ends inside a bracket is joined with the next one, which closes it."""
    made: list[TextLine] = []
    for line in lines:
        above = made[-1] if made else None
        if above is not None and _goes_on(above, line):
            row = msgspec.structs.replace(
                above.row,
                cells=(f"{above.row.text} {line.row.text}",),
                text=f"{above.row.text} {line.row.text}",
                spans=(),
            )
            made[-1] = msgspec.structs.replace(
                above,
                row=row,
                text=f"{above.text} {line.text}",
                whole=f"{above.whole} {line.whole}",
                joined=(*above.joined, line.row),
            )
        else:
            made.append(line)
    return made


def _goes_on(above: TextLine, line: TextLine) -> bool:
    is_own = line.is_marked or line.is_struck or above.is_struck or line.row.blank_before or line.part or above.part
    if is_own or above.message.message != line.message.message or line.message.is_envelope:
        return False
    opened, closed = _OPEN.search(above.text[-LONGEST:]), _CLOSES.match(line.text[:LONGEST])
    return opened is not None and closed is not None
