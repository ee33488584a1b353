"""The address and the close of a letter in any language: Gentile Maestro, ... Cordiali saluti, La Direzione."""

import re
from collections.abc import Iterator, Sequence
from typing import Final

from companion.setlist.model import LineKind, ListPage
from companion.setlist.notation import Notation
from companion.setlist.parsing.column_roles import read_heads
from companion.setlist.parsing.doubts import song_or_not
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.line_kinds import is_chat, is_farewell
from companion.setlist.parsing.list_style import HOLDS_KEY
from companion.setlist.parsing.set_headings import read_heading

FEWEST: Final = 4  # lines of a letter with songs
LONGEST: Final = 4  # words of an address or a close
MAX_OF_CLOSE: Final = 3  # lines from the comma of the close on
MAX_BESIDE_TABLE: Final = 5  # lines
_CALLS: Final = re.compile(r"^[^\W\d_a-z][\w'’]*(?: [\w'’&]+){0,3}\s?[!:]+$")  # Kedves Gábor!
_SIGNED: Final = re.compile(r"^[^\W\d_]+(?: [^\W\d_]+){0,2}, [^\W\d_a-z][^\W\d_]+(?: x+)?$")  # Üdv, Feri
_BEGINS: Final = re.compile(r"\d|[-–—•*·]\s")
MAX_WITH_COMMA: Final = 0.2  # share of the other lines that may end so


def take_letter(found: Sequence[Classified], notation: Notation) -> None:
    """Keep the lines of a letter around its list apart from the songs."""
    opened = [at for at, one in enumerate(found) if one.took is None]
    commas = sum(found[at].line.whole.rstrip().endswith(",") for at in opened)
    _leave_ends(found, opened, [at for at, one in enumerate(found) if _is_shaped(one, notation)])
    opened = [at for at in opened if found[at].took is None]
    if not opened or len(found) < FEWEST or commas > max(2, MAX_WITH_COMMA * len(opened)):
        return
    shaped = [at for at, one in enumerate(found) if _is_shaped(one, notation)]
    is_letter = _is_address(found[opened[0]]) or is_chat(found[opened[0]].line.text)
    if _is_address(found[opened[0]]) and opened[0] not in shaped:
        found[opened[0]].took = LineKind.LEFT
    for at in _close(found, opened, is_letter=is_letter):
        _leave(found[at])
    if shaped and is_letter:
        for at in opened:
            if found[at].took is None and (
                _is_talk_above(found, at, shaped[0]) or _is_talk_below(found, at, shaped[-1])
            ):
                _leave(found[at])


def _leave_ends(found: Sequence[Classified], opened: Sequence[int], shaped: Sequence[int]) -> None:
    """Keep a first and a last line that empty lines part from a list with keys: Kedves Gábor! ... Üdv, Feri."""
    if not shaped or not opened or len(found) < 2:
        return
    first, last = opened[0], opened[-1]
    if first < shaped[0] and _CALLS.match(found[first].line.whole) and found[first + 1].line.row.blank_before:
        found[first].took = LineKind.LEFT
    if (
        last > shaped[-1]
        and last > first
        and _SIGNED.match(found[last].line.whole)
        and found[last].line.row.blank_before
    ):
        _leave(found[last])


def _is_address(one: Classified) -> bool:
    text = one.line.whole.strip()
    return (
        text.endswith(",")
        and text[:1].isupper()
        and len(text.split()) <= LONGEST
        and not one.line.is_marked
        and not any(sign.isdigit() for sign in text)
    )


def _is_shaped(one: Classified, notation: Notation) -> bool:
    """Return whether a line has what songs have: a number, a bullet, a key; or holds several songs."""
    if one.took is not None:
        return one.inline is not None or one.took is LineKind.SET
    text = one.line.text
    end = key_at_end(text.rstrip(")"), notation)
    return one.line.is_marked or text[:1].isdecimal() or HOLDS_KEY.search(text) is not None or end is not None


def _close(found: Sequence[Classified], opened: Sequence[int], *, is_letter: bool) -> Iterator[int]:
    """Return the lines of the close: from a few words and a comma to the end, or right above a farewell."""
    for at in opened[-MAX_OF_CLOSE:]:
        rest = found[at:]
        is_short = len(rest) <= MAX_OF_CLOSE and all(len(one.line.text.split()) <= LONGEST for one in rest)
        if is_short and is_letter and _is_address(found[at]):
            yield from (at + below for below, one in enumerate(rest) if one.took is None)
            return
        is_above = at + 1 < len(found) and is_farewell(found[at + 1].line.text)
        if is_above and found[at].line.row.blank_before and found[at].line.text[-1:] in ".!":
            yield at


def _is_talk_above(found: Sequence[Classified], at: int, first: int) -> bool:
    return at < first and found[at].line.whole.rstrip()[-1:] in ".!,:" and found[at + 1].line.row.blank_before


def _is_talk_below(found: Sequence[Classified], at: int, last: int) -> bool:
    return at > last and (found[at].line.row.blank_before or found[at - 1].took is LineKind.LEFT)


def _leave(one: Classified) -> None:
    """Keep a line with the show's notes, in doubt unless it ends as a sentence or a close does."""
    one.took = LineKind.LEFT
    if one.line.whole.rstrip()[-1:] not in ".,:" and not is_farewell(one.line.text):
        one.doubts = (song_or_not(one.line.text),)


def is_talk_beside_table(page: ListPage, pages: Sequence[ListPage]) -> bool:
    """Return whether a few lines of words are above or below a table with names of columns, one a sentence."""
    has_table = any(one.is_grid and any(read_heads(row.cells) for row in one.rows) for one in pages)
    texts = [row.text.strip() for row in page.rows]
    if page.is_grid or not has_table or not 0 < len(texts) <= MAX_BESIDE_TABLE:
        return False
    is_list = any(_BEGINS.match(text) or read_heading(text) or HOLDS_KEY.search(text) for text in texts)
    is_list = is_list or any(key_at_end(text.rstrip(")"), Notation.LETTERS) for text in texts)
    return not is_list and any(text[-1:] in ",.!" for text in texts)
