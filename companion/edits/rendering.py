"""Values as YAML text: on one line, as a block, or in the style of the value that they replace."""

import re
from typing import Any, Final

import yaml

from companion.edits.spans import Plain, ValueSpan, line_end, newline_of
from companion.files.scalars import TAKEN, escaped, spoken

MIN_WRAP: Final = 40  # characters of a folded line
WIDEST: Final = 10_000


class OneLine(dict[str, object]):
    """A table to write on one line, in braces."""


def is_collection(value: object) -> bool:
    """Whether a value is a list or a table."""
    return isinstance(value, dict | list | tuple)


def on_one_line(value: object) -> bool:
    """Whether a value goes on its key's line: a single text, a table in braces, or nothing."""
    return not is_collection(value) or isinstance(value, OneLine) or not value


def as_typed(value: object) -> Plain:
    """Return a value as the reader will see it: texts, lists and tables."""
    if isinstance(value, dict):
        return {str(key): as_typed(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [as_typed(one) for one in value]
    if value is None:
        return ""
    if isinstance(value, bool | float):
        return spoken(value)
    return value if isinstance(value, str) else str(value)


def flow_text(value: object) -> str:
    """Write a value on one line.

    >>> flow_text({"section": "Intro", "bars": 4, "chords": "1 | 4", "hits": [1, 2]})
    '{section: Intro, bars: 4, chords: "1 | 4", hits: [1, 2]}'
    """
    if isinstance(value, dict):
        return (
            "{" + ", ".join(f"{spoken(str(key), in_braces=True)}: {flow_text(one)}" for key, one in value.items()) + "}"
        )
    if isinstance(value, list | tuple):
        return "[" + ", ".join(map(flow_text, value)) + "]"
    return '""' if value in ("", None) else spoken(value, in_braces=True)


def block_lines(value: object, list_indent: int) -> list[str]:
    """Write a value as lines, from column 1. ``list_indent``: the indent of dashes from their key."""
    if on_one_line(value):
        text = flow_text(value) if is_collection(value) or value == "" else "" if value is None else spoken(value)
        return text.split("\n")
    lines: list[str] = []
    if isinstance(value, dict):
        for key, one in value.items():
            inner = block_lines(one, list_indent)
            head = f"{spoken(str(key), in_braces=True)}:"
            if on_one_line(one):
                lines += [f"{head} {inner[0]}".rstrip(), *inner[1:]]
            else:
                lines += [head, *indented(inner, 2 if isinstance(one, dict) else list_indent)]
        return lines
    for one in value if isinstance(value, list | tuple) else ():
        first, *rest = block_lines(one, list_indent)
        lines += [f"- {first}".rstrip(), *indented(rest, 2)]
    return lines


def indented(lines: list[str], by: int) -> list[str]:
    """Indent lines; blank ones stay blank."""
    return [" " * by + line if line else line for line in lines]


def scalar_like(value: object, old: ValueSpan, text: str, *, flow: bool) -> str:
    """Write a single value in the style of the one that it replaces, if that style can hold it."""
    raw = as_typed(value)
    if not isinstance(raw, str):
        raise TypeError(raw)
    if old.style == '"':
        return escaped(raw)
    if old.style == "'" and raw.isprintable():
        return "'" + raw.replace("'", "''") + "'"
    if old.style in ("|", ">") and not flow and (block := _block_scalar(raw, old, text)):
        return block
    if not isinstance(value, str):
        return spoken(value, in_braces=flow)
    was_taken = TAKEN.match(old.text)
    if not old.is_nothing and not old.style and not (TAKEN.match(raw) and not was_taken) and is_plain(raw, flow=flow):
        return raw
    return flow_text(raw) if flow or not raw else spoken(raw)


def is_plain(text: str, *, flow: bool) -> bool:
    """Whether a text needs no quotes on one line, after a key or in braces."""
    if not text or not text.isprintable() or text != text.strip() or len(text) > WIDEST:
        return False
    around = ("{a: ", "}") if flow else ("a: ", "  # b")
    loader: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
    try:
        read = yaml.load(around[0] + text + around[1], Loader=loader)  # noqa: S506 - this loader makes only texts
    except yaml.YAMLError:
        return False
    return bool(read == {"a": text})


def _block_scalar(value: str, old: ValueSpan, text: str) -> str:
    """Write a text below its key in the old one's block style; empty if that style cannot hold it."""
    body = value.removesuffix("\n")
    lines = body.split("\n")
    if not body or body.endswith("\n") or not all(line.isprintable() for line in lines):
        return ""
    old_lines = re.split("\r\n|[\r\n]", text[old.start : old.end])
    header, inner = old_lines[0], [line for line in old_lines[1:] if line.strip()]
    if not inner or lines[0][:1] == " " or re.match(r"[|>][-+]?[1-9]", header) or not lines[0]:
        return ""
    indent = len(inner[0]) - len(inner[0].lstrip(" "))
    style = old.style
    if style == ">":
        folded = _folded(lines, max(MIN_WRAP, *(len(line) - indent for line in inner)))
        style, lines = (">", folded) if folded else ("|", lines)
    behind = re.sub(r"^[|>][-+0-9]*", "", header)
    head = f"{style}{'' if value.endswith(chr(10)) else '-'}{behind}"
    return newline_of(text).join([head, *indented(lines, indent)])


def _folded(lines: list[str], width: int) -> list[str]:
    """Break lines at single spaces; return none if the folded text would not read back equal."""
    folded: list[str] = []
    for number, line in enumerate(lines):
        if not line or line != line.strip() or "  " in line:
            return []
        row = ""
        folded += [""] if number else []
        for word in line.split(" "):
            if row and len(row) + 1 + len(word) > width:
                folded.append(row)
                row = word
            else:
                row = f"{row} {word}" if row else word
        folded.append(row)
    return folded


def list_indent_of(text: str) -> int:
    """Return the indent of the dashes of the text's first list from its key, 0 to 8; 2 if it has no list."""
    above = ""
    at = 0
    while at < len(text):
        end = line_end(text, at)
        line = text[at:end]
        bare = line.strip()
        if bare.startswith("- ") and re.search(r":\s*(#.*)?$", above):
            stands = len(above) - len(above.lstrip())
            if re.match(r"\s*- ", above):  # a key after a dash
                stands += len(above.lstrip()) - len(above.lstrip()[1:].lstrip())
            return max(0, min(len(line) - len(line.lstrip()) - stands, 8))
        if bare and not bare.startswith("#"):
            above = line
        at = end + (2 if text.startswith("\r\n", end) else 1)
    return 2
