"""One value as YAML text: plain if every YAML reader reads it the same, else in quotes."""

import datetime as dt
import enum
import json
import re
from typing import Final

# Texts that a YAML 1.1 reader converts (type repository, 2005): truth values, null, numbers, dates, times.
TAKEN: Final = re.compile(r"(y|n|yes|no|true|false|on|off|null|~|[-+.0-9][-+.0-9:_exoa-f ]*)\Z", re.IGNORECASE)
# Texts that need no quotes, in braces and in a block (which allows commas). A # starts a comment only after a space.
PLAIN: Final = re.compile(
    r"[^\W_](?:(?:[\w ./+&()'*@=!-]|(?<=\w)#)*(?:[\w.)+'*!-]|(?<=\w)#))?\Z"
)  # ?: not all readers take
PLAIN_IN_BLOCK: Final = re.compile(r"[^\W_](?:(?:[\w ,./+&()'*@=!?|<>%^-]|(?<=\w)#)*(?:[\w.)+'*!?%>^|-]|(?<=\w)#))?\Z")
SHOWN: Final = r"[^\x00-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff]"
LINE: Final = rf"[^\s\W]{SHOWN}*"
LINE_BY_LINE: Final = re.compile(rf"{LINE}(\n(\|{SHOWN}+|{LINE}))+\Z")  # a | goes on with chords


def spoken(value: object, *, in_braces: bool = False) -> str:
    """Write one value, in quotes if YAML would read it as something else."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:.3f}".rstrip("0").rstrip(".")
    if isinstance(value, int | dt.date):
        return str(value)
    text = str(value.value if isinstance(value, enum.Enum) else value)
    if (PLAIN if in_braces else PLAIN_IN_BLOCK).match(text) and not TAKEN.match(text):
        return text
    if not in_braces and LINE_BY_LINE.match(text):
        return "|-\n" + "\n".join(f"  {line}" for line in text.split("\n"))
    return escaped(text)


def escaped(text: str) -> str:
    """Write a text in double quotes with JSON's escapes (YAML shares them); also escape what YAML does not print."""
    quoted = json.dumps(text, ensure_ascii=False)
    return "".join(letter if letter.isprintable() else _escape(ord(letter)) for letter in quoted)


def _escape(code: int) -> str:
    return f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"
