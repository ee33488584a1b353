"""A line of text with everything taken off that is not its words: envelope, number, bullet, check box, time, emoji."""

import re
import unicodedata
from collections.abc import Sequence

import msgspec

from companion.setlist.model import ListRow
from companion.setlist.parsing.envelopes import Unwrapped, unwrapped
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.patterns import BULLET, LETTERED, NUMBERED, STRUCK, STRUCK_FOR, TICKED
from companion.setlist.parsing.remarks import is_remark
from companion.setlist.parsing.running_text import TextPart
from companion.setlist.parsing.spaced_letters import closed_up
from companion.setlist.tidy import one_line, plain_signs, tidy, without_emphasis

_REFUSES = re.compile(
    r"^\W*(?:no+|nope|nah|out|cut|nein|raus|weg|non|fuera|nej|nei|nee|nie)\W*$", re.IGNORECASE
)  # ~~Moth~~ NO!!
MAX_MARKS = 3  # - [ ] 1.
STRUCK_WHOLE = re.compile(r"^\W*(?:\d{1,3}[.)]\s*)?~(?=\S).*(?<=\S)~\W*$")


_FRAMED = re.compile(r"^([^\w\s()\[\]]{2,8})\s+(\S.{0,60}?)\s+[^\w\s()\[\]]{2,8}$")


_TO_KEY = re.compile(  # Carpark Cathedral..D (big organ)
    r"(?<=[^\s.])\s?\.{2,3}\s?(?=(?:[B-H]|[A-H](?:[b#♭♯]|m)|A(?=$))(?:[b#♭♯])?m?\s*(?:$|\())"
)
_FACE = re.compile(r"(?<=\S)\s(?:[:;]-?[()]|<3)$")  # typed: D :)
_FRAMED_CLOSE = re.compile(r"^([-–—=#]{2,8})\s?([^\W_][^=#]{0,60}?)\s?[-–—=#]{2,8}$")  # --break, ten minutes--
_FRAMED_BY_ONE = re.compile(  # ~ interval ~; - - - tea - - -
    r"^([~=#*+•·|])\s+(\S.{0,60}?)\s+\1$|^(?:[-–—=*~+·]\s){2,8}([^\W_].{0,60}?)(?:\s[-–—=*~+·]){2,8}$"
)


class TextLine(msgspec.Struct, frozen=True):
    """One line, ready to be classified. ``text`` is without marks; ``whole`` is the line as its envelope held it."""

    row: ListRow
    whole: str
    text: str
    number: int | None = None
    is_bulleted: bool = False
    is_lettered: bool = False
    is_struck: bool = False  # the whole line, or its title
    struck: str = ""  # what is struck out in a line that is not struck as a whole
    emoji: str = ""  # before or after the text
    talk: str = ""  # words taken off its front that lead to the title, which is in doubt: oh yes
    front: str = ""  # words taken off its front that are a note on the song: who sings
    set_name: str = ""  # the set that its number names: 2.1 Gasworks Corner
    is_framed: bool = False  # decoration stands on both sides: ~*~ Last orders ~*~
    part: TextPart | None = None  # what it is of a longer text, whose sentences were taken apart
    corrected: str = ""  # a key that was taken out of it, and the words that correct it: G no wait, A
    joined: tuple[ListRow, ...] = ()  # the rows below it that its bracket goes on in
    message: Unwrapped = Unwrapped(ListRow(None, (), ""), "")  # type: ignore[arg-type]  # replaced for each line

    @property
    def is_marked(self) -> bool:
        """Return whether a number, a letter or a bullet stands before it."""
        return self.number is not None or self.is_bulleted or self.is_lettered


def lines_of(rows: Sequence[ListRow]) -> tuple[TextLine, ...]:
    """Return the rows as lines, in order."""
    return tuple(_line(found) for found in unwrapped(rows))


def _line(message: Unwrapped) -> TextLine:
    raw = _TO_KEY.sub(" - ", plain_signs(tidy(message.text)))
    framed = _FRAMED.match(raw) or _FRAMED_BY_ONE.match(raw) or _FRAMED_CLOSE.match(raw)
    whole = without_emphasis(next(filter(None, framed.groups()[1:])) if framed else raw)
    whole = closed_up(whole)
    whole = _FACE.sub("", TICKED.sub(r"(\1)", whole) if "`" in whole else whole)
    text, number, bulleted, lettered = unmarked(whole)
    is_struck, struck = False, ""
    if "~" in text and (found := STRUCK.search(text)):
        kept = one_line(STRUCK_FOR.sub(" ", text))
        reason = kept[:1].islower() or kept[:1] == "(" or is_remark(kept) or bool(_REFUSES.match(kept))
        is_struck = found.start() == 0 and (reason or not any(letter.isalpha() for letter in kept))
        struck = found[1] or found[2]
        text = text if is_struck else kept
    elif "~" in text and STRUCK_WHOLE.match(text):
        is_struck = True
    if is_struck:
        text, number, bulleted, lettered = unmarked(text.replace("~", "").strip())
    text, emoji = without_emoji(text)
    return TextLine(
        message.row,
        whole,
        text,
        number,
        bulleted,
        lettered,
        is_struck,
        struck,
        emoji,
        is_framed=bool(framed),
        message=message,
    )


def unmarked(text: str) -> tuple[str, int | None, bool, bool]:
    """Take numbers, letters, bullets and check boxes off the front: (the rest, number, bulleted, lettered)."""
    number, bulleted, lettered = None, False, False
    for _ in range(MAX_MARKS):
        if found := BULLET.match(text):
            bulleted = True
        elif number is None and (found := NUMBERED.match(text)):
            is_dashed = any(dash in found[0] for dash in "-–—") and not any(sign in found[0] for sign in ".)")
            if (bulleted or is_dashed) and plain_key(text[found.end() :]):
                break  # • 63 - G; 63 - G: the title
            number = int(found[1])
        elif number is None and not lettered and (found := LETTERED.match(text)):
            lettered = True
        else:
            break
        text = text[found.end() :].strip()
    return text, number, bulleted, lettered


def without_emoji(text: str) -> tuple[str, str]:
    """Take pictures off both ends of a line: (the words, the pictures). A line of pictures alone keeps them."""
    if text.isascii():
        return text, ""
    first, last = 0, len(text)
    while first < last and (is_picture(text[first]) or text[first] == " "):
        first += 1
    while last > first and (is_picture(text[last - 1]) or text[last - 1] == " "):
        last -= 1
    if first == last:
        return text, ""
    return text[first:last], one_line(f"{text[:first]} {text[last:]}")


def is_picture(sign: str) -> bool:
    """Return whether a character is a picture that is no sign of music and no mark."""
    return sign > "\u2190" and unicodedata.category(sign) in ("So", "Sk") and sign not in "♩♪♫♬♭♮♯★☆✱†‡°"
