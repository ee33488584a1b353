"""Lines that count with letters, which are no keys: "a) Moth in Eb", "b) drums"."""

import re
from typing import Final

_LETTERED: Final = re.compile(r"^([ \t>]{0,9})\(?([a-zA-Z])\)[ \t]{0,3}(?=\S)")
LEAST: Final = 2  # lines in turn, from the first letter


def without_letters(text: str) -> str:
    """Return a reply without the letters that count its lines, if they begin at the first and go on in turn."""
    lines = text.split("\n")
    found = [(at, said) for at, line in enumerate(lines) if (said := _LETTERED.match(line))]
    if len(found) < LEAST or any(said[2].casefold() != chr(ord("a") + many) for many, (_, said) in enumerate(found)):
        return text
    for at, said in found:
        lines[at] = said[1] + lines[at][said.end() :]
    return "\n".join(lines)
