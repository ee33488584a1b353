"""Tell a title with its key from a sentence that happens to end in one: sorry, Moth is in F not G."""

import itertools
import re
from collections.abc import Sequence

from companion.setlist.parsing import line_kinds
from companion.setlist.parsing.capo import HAS_CAPO
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.key_layout import KeyLayout, KeyPlace
from companion.setlist.parsing.key_then_words import title_before_key
from companion.setlist.parsing.list_style import Style
from companion.setlist.parsing.patterns import COMMA, HEAD, IN_BRACKETS, KEY_SAID, PARTED, SLASHED, TAIL
from companion.setlist.parsing.pieces import key_among_commas, key_in_front, read_pieces
from companion.setlist.parsing.remarks import is_remark
from companion.setlist.parsing.song_draft import Draft
from companion.setlist.parsing.text_lines import TextLine
from companion.setlist.parsing.words_of_events import is_event, may_be_event

NAMED = re.compile(r"^([^\W\d_a-z][^:]{1,50}?)\s?:\s+\S")  # Moth: same as record
_TALK_BEHIND = re.compile(r",\s|\s[-–—]\s|\s(?:<[-=]{1,3}|←)\s")
MOST_SHAPED, FEWEST_SHAPED = 0.8, 3  # share and number of the lines with the same sign
_PARTING = (": ", " - ", " – ", " — ", " | ", " / ")
COMMA_SIGN, SMALL_WORD = ", ", 3  # letters of a word that is small in titles
MOST_PARTS = 4  # of a line, in front of one of which its key may stand
MOST_WORDS = 8  # of a title and its key
LONGEST_RISING, LONGEST_SMALL = 6, 5  # words of a title in capitals and in small letters
MOST_RISING = 0.6  # share of a title's longer words


def usual_sign(texts: Sequence[str]) -> str:
    """Return the sign that ends the title in nearly every one of these lines; "" if none does."""
    counts = {sign: sum(sign in text for text in texts) for sign in (*_PARTING, COMMA_SIGN)}
    most = max(_PARTING, key=lambda one: counts[one])
    usual = [sign for sign in (most, COMMA_SIGN) if counts[sign] >= MOST_SHAPED * len(texts)]
    return usual[0] if len(texts) >= FEWEST_SHAPED and usual else ""


def parted_at(text: str, sign: str) -> tuple[str, str]:
    """Return the text before the sign and after it; nothing after it where the sign is missing.

    A comma parts only several words in capitals from small ones: Seven Oars, tacet.
    """
    before, _, after = text.partition(sign) if sign else (text, "", "")
    words = before.split()
    rises = len(words) > 1 and all(word[0].isupper() or len(word) <= SMALL_WORD for word in words)
    if sign == COMMA_SIGN and not (rises and after[:1].islower()):
        return text.strip(), ""
    return before.strip(), after.strip()


def is_prose(line: TextLine, style: Style, layout: KeyLayout | None) -> bool:
    """Return whether a line with a key is a sentence all the same; what follows the key is only a note."""
    text = line.text
    pieces = PARTED.split(text)
    is_title = text[:1].isupper() and looks_like_title(line, style)
    if style.key_in_front and len(pieces) > 1 and plain_key(pieces[0], notation=style.notation):
        return line_kinds.is_sentence(pieces[1])  # Em - Moth  no chop, just hold the chords
    if title := _before_key_and_bracket(text, style):
        return line_kinds.is_sentence(title)
    if style.commas and any(plain_key(part, notation=style.notation) for part in COMMA.split(text)[1:]):
        return line_kinds.is_sentence(COMMA.split(text)[0])
    if style.slashes and (title := title_before_slash(text, style)):
        return line_kinds.is_sentence(title)  # moth / capo 2, shapes in G
    if layout and (place := layout.key_in(text)) and place.left.strip():
        if _ends_as_others(text, place, layout):
            return False
        return line_kinds.is_sentence(text[: place.begin])  # Moth (G) - half time feel in the bridge
    bracket = IN_BRACKETS.search(text)
    inside = bracket[0][1:-1].split(",")[0].strip() if bracket and bracket.start() else ""
    if bracket and inside and plain_key(inside, notation=style.notation):
        return line_kinds.is_sentence(text[: bracket.start()])  # Moth (G), capo 3 for the guitars; Moth (G, long solo)
    if (tail := TAIL.match(text)) and (end := key_at_end(tail[1], style.notation)) and end.is_said:
        return line_kinds.is_sentence(end.before)  # Moth in A flat (rubato opening, the piano alone)
    if (named := NAMED.match(text)) and read_pieces(text[named.end() - 1 :], style.notation)[0].key:
        return line_kinds.is_sentence(named[1])  # Moth: F sharp minor, then up a semitone
    if len(pieces) > 1 and pieces[0] and any(piece and _says_key(piece, style) for piece in pieces[1:]):
        title = IN_BRACKETS.sub("", pieces[0]).strip() if is_title else pieces[0]  # Medley (three songs, as one)  F
        return line_kinds.is_sentence(title)  # Moth - G - heads out twice: talk after a key is a note
    if title := title_before_key(text) or _before_key_and_talk(text, style):
        return line_kinds.is_sentence(title)  # Moth - in C, 12 bar, bit of a jam
    if (end := key_at_end(text, style.notation)) and end.is_said and not line_kinds.is_sentence(end.before):
        return line_kinds.is_chat(text) and not is_title  # two left feet and a right one in E
    return line_kinds.is_sentence(text) or (line_kinds.is_chat(text) and not is_title)


def title_before_slash(text: str, style: Style) -> str:
    """Return the title in front of a slash and a key, or of a capo that stands in its place; "" for another line."""
    title, *others = SLASHED.split(text)
    is_keyed = any(plain_key(one.strip(" ?"), notation=style.notation) or HAS_CAPO.match(one) for one in others)
    return title.strip() if is_keyed else ""


def _before_key_and_bracket(text: str, style: Style) -> str:
    """Return the title in front of a key with a bracket after it: Moth in D minor (you play the introduction alone)."""
    bracket = TAIL.match(text)
    end = key_at_end(bracket[1].rstrip(), style.notation) if bracket else None
    return end.before if end and (end.is_said or end.is_strong) else ""


def _ends_as_others(text: str, place: KeyPlace, layout: KeyLayout) -> bool:
    """Return whether a short line with a capital ends in the key where the others have theirs: Susi, mach auf (B)."""
    is_end = not any(letter.isalnum() for letter in text[place.end :])
    return is_end and place.left == layout.sign and text[:1].isupper() and len(text.split()) <= MOST_WORDS


def _says_key(piece: str, style: Style) -> bool:
    is_key = plain_key(piece, notation=style.notation) or key_in_front(piece, style.notation)  # Mi, tall sec al final
    return is_key is not None or KEY_SAID.search(piece) is not None or key_among_commas(piece, style.notation)


def _before_key_and_talk(text: str, style: Style) -> str:
    """Return the title in front of a key with talk after it: Moth in A, long outro; Moth D - all in at the end."""
    for parted in itertools.islice(_TALK_BEHIND.finditer(text), MOST_PARTS):
        end = key_at_end(text[: parted.start()], style.notation)
        if end and (end.is_said or (style.key_at_end and end.written[:1].isupper())):
            return end.before
    return ""


def is_asked(line: TextLine, style: Style) -> bool:
    """Return whether a line is a question; moth / C? is a title whose key is unsure."""
    title = title_before_slash(line.text, style) if style.slashes else ""
    return line.text.endswith("?") and not style.marks(line) and line_kinds.is_sentence(title or line.text)


def is_greeting_title(line: TextLine, draft: Draft | None, style: Style) -> bool:
    """Return whether a line that begins as a greeting does is as long as titles are, with their first letter."""
    text, rises = line.text, style.capitals
    words = text if rises or draft is None else draft.title
    is_short = looks_like_title(line, style) and len(words.split()) <= (LONGEST_RISING if rises else LONGEST_SMALL)
    is_other = text[-1:] in ",:." or line_kinds.has_phone_number(text)
    return is_short and text[:1].isupper() == rises and not is_other


def is_plain_title(line: TextLine, style: Style) -> bool:
    """Return whether a line is a few words with capitals, and nothing else that it may say is known."""
    text = line.text
    is_other = line_kinds.is_chat(text) or is_remark(text) or is_event(text) or may_be_event(text)
    is_short = 1 < len(text.split()) <= LONGEST_RISING
    return is_short and text[:1].isupper() and looks_like_title(line, style) and not is_other


def is_small_title(line: TextLine, draft: Draft) -> bool:
    """Return whether a line may be a title with its key, where the list has no capitals."""
    is_short = 0 < len(draft.title.split()) <= LONGEST_RISING and not is_remark(draft.title)
    return is_short and draft.has_key and not (line.row.blank_before or line.message.sender)


def in_brackets(text: str) -> bool:
    """Return whether brackets stand around a whole line."""
    return text[:1] in "([" and text[-1:] in ")]" and not HEAD.match(text)


def looks_like_title(line: TextLine, style: Style) -> bool:
    """Return whether the words begin with capitals, as this list's titles do."""
    if not style.capitals:
        return True
    said = IN_BRACKETS.sub("", line.text)
    words = [word for word in said.split()[1:] if len(word) > 3 and word[0].isalpha()]
    return sum(word[0].isupper() for word in words) >= MOST_RISING * len(words) and line.text[-1:] not in ".;"
