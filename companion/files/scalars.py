"""One value as YAML text: plain where that says the same to every reader of YAML, else in quotes."""

import datetime as dt
import enum
import json
import re
from typing import Final

# What a YAML 1.1 reader makes something else of (type repository, 2005): truth values, null, numbers, dates, times.
TAKEN: Final = re.compile(r"(y|n|yes|no|true|false|on|off|null|~|[-+.0-9][-+.0-9:_exoa-f ]*)\Z", re.IGNORECASE)
# What needs no quotes: in braces, and in a block, where a comma is a comma. A # begins a comment only after a space.
PLAIN: Final = re.compile(
    r"[^\W_](?:(?:[\w ./+&()'*@=!-]|(?<=\w)#)*(?:[\w.)+'*!-]|(?<=\w)#))?\Z"
)  # ?: not all readers take
PLAIN_IN_BLOCK: Final = re.compile(r"[^\W_](?:(?:[\w ,./+&()'*@=!?-]|(?<=\w)#)*(?:[\w.)+'*!?-]|(?<=\w)#))?\Z")
LINE: Final = r"[^\s\W][^\x00-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff]*"
LINE_BY_LINE: Final = re.compile(f"({LINE}\\n)+{LINE}\\Z")


def spoken(value: object, *, in_braces: bool = False) -> str:
    """Write one value, in quotes where YAML would take it for something else."""
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
    """Write a text in double quotes; JSON's escapes are YAML's, and what YAML does not print is escaped too."""
    quoted = json.dumps(text, ensure_ascii=False)
    return "".join(letter if letter.isprintable() else _escape(ord(letter)) for letter in quoted)


def _escape(code: int) -> str:
    return f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"
