"""Tempos in brackets without a word for them: Harbour Lamps (120), where most songs have a number there."""

import re
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.setlist.parsing.pieces import FASTEST, SLOWEST
from companion.setlist.parsing.text_lines import TextLine

FEWEST: Final = 3  # lines with different numbers
MOST: Final = 0.5  # share of the lines with a letter; headings and talk are among them
_NUMBER: Final = re.compile(r"[(\[{](\d{2,3})[)\]}]")


def with_named_tempos(lines: Sequence[TextLine]) -> Sequence[TextLine]:
    """Return the lines with a word for such tempos; what follows the bracket is a remark: (92) wait for Ann."""
    found = [_tempo(line) for line in lines]
    tempos = [one[1] for one in found if one]
    filled = sum(any(map(str.isalpha, line.text)) and not line.message.is_envelope for line in lines)
    if len(set(tempos)) < FEWEST or len(tempos) < MOST * filled:
        return lines
    return [_named(line, one) if one else line for line, one in zip(lines, found, strict=True)]


def _tempo(line: TextLine) -> re.Match[str] | None:
    """Return the only bracket with a number behind words, if the number may be a tempo."""
    all_found = list(_NUMBER.finditer(line.text))
    one = all_found[0] if len(all_found) == 1 else None
    return one if one and one.start() and SLOWEST <= int(one[1]) <= FASTEST else None


def _named(line: TextLine, one: re.Match[str]) -> TextLine:
    before, behind = line.text[: one.start()].rstrip(), line.text[one.end() :].strip()
    is_words = behind[:1].isalpha() and not set("()[]{}") & set(behind)
    inside = f"({one[1]} bpm, {behind})" if is_words else f"({one[1]} bpm) {behind}".rstrip()
    return msgspec.structs.replace(line, text=f"{before} {inside}")
