"""Pictures that separate a title from its key or its singer: Harbour Lamps – A 🎤 Ann."""

import re
from collections.abc import Sequence

import msgspec

from companion.setlist.notation import Notation
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.text_lines import TextLine, is_picture
from companion.setlist.tidy import one_line

FEWEST = 2  # lines; one picture may belong to its title
_FIRST = re.compile(r"\S+")
_BRACKET = re.compile(r"[(\[]([^()\[\]]{1,12})[)\]]")


def without_pictures(lines: Sequence[TextLine], notation: Notation) -> Sequence[TextLine]:
    """Return the lines with a wide gap for each picture that is beside a key; the pictures stay as marks."""
    parted = [None if line.text.isascii() else _parted(line.text, notation) for line in lines]
    if sum(one is not None for one in parted) < FEWEST:
        return lines
    return [
        msgspec.structs.replace(line, text=one[0], emoji=one_line(f"{line.emoji} {one[1]}")) if one else line
        for line, one in zip(lines, parted, strict=True)
    ]


def _parted(text: str, notation: Notation) -> tuple[str, str] | None:
    """Return a line's words with a gap, and its picture; None if no picture is beside a key."""
    for at, sign in enumerate(text):
        if not is_picture(sign):
            continue
        end = at + 1
        while end < len(text) and (is_picture(text[end]) or text[end] in "\ufe0f\u200d"):
            end += 1
        before, behind = text[:at].strip(), text[end:].strip()
        word = _FIRST.match(behind)
        bracket = _BRACKET.match(behind)
        in_bracket = bracket is not None and plain_key(bracket[1], notation=notation) is not None
        is_apart = in_bracket or (behind[:1] in "-–—|/" and behind[1:2] == " ")
        if before and word and (is_apart or key_at_end(before, notation) or key_at_end(f"x {word[0]}", notation)):
            return f"{before}  {behind}", text[at:end]
    return None
