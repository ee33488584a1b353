"""Find the breaks between songs that other words stand beside: tie up - break for soup; break here, about 20 mins."""

import re
from collections.abc import Sequence
from typing import Final

from companion.setlist.model import LineKind
from companion.setlist.parsing.doubts import break_or_not
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.list_style import Style
from companion.setlist.parsing.patterns import MINUTES
from companion.setlist.parsing.set_headings import BREAK_WORDS
from companion.setlist.parsing.text_lines import TextLine
from companion.setlist.parsing.words_of_events import may_be_event

MOST_WORDS: Final = 12
MOST_KEYED: Final = 0.8  # share of the songs with a key or a mark
FEW_WORDS: Final = 6
FEWEST_ABOVE: Final = 2  # songs
_WORD: Final = rf"(?:[^\W\d_]{{0,14}}pau[sz]e|{BREAK_WORDS}|breather|time[- ]?out|half[- ]?time|halbzeit)"
_NAMES_BREAK: Final = re.compile(
    rf"^(?P<before>(?:[^\W_][\w'’.]{{0,14}}\s){{0,3}}|.{{2,40}}[-–—:,(/]\s)(?P<word>{_WORD})(?![\w'’])"
    r"(?P<behind>$|\s?[-–—:,;.!(/=…]|\s(?:\d{1,3}|here|now|for|with|while|and|at|to|til|till|until|about|then|ca|"
    r"mit|für|und|bis|hier|avec|pour|et|ici|con|y|e|per|para|aquí|com|met|voor|en|hier|med|och|og|for|til|z|i)(?!\w))",
    re.IGNORECASE,
)
_OF_MUSIC: Final = re.compile(  # no break of the evening: drum break, break after verse 2, half-time feel
    r"\b(?:no|not|without|ohne|keine?|sans|pas|sin|senza|zonder|geen|ingen|through|after the|"
    r"verses?|chorus(?:es)?|bridge|bars?|beats?|riffs?|solos?|drums?|drummer|guitars?|sax|bass|vocals?|middle|intro|outro|"
    r"poem|story|reads?|reading|chat|talks?|joke|gedicht|poème|poema|poesia|dikt|digt|"  # a pause to speak in
    r"count|feel|groove|tempo|hits?|stops?|keys|organ|piano|horns?|end(?:ing)?|last|note|chord|fermata|key|sing|"
    r"strophe|refrain|takte?|schlagzeug|couplet|batterie|estribillo|ritornello)\b",
    re.IGNORECASE,
)
_MINUTES: Final = re.compile(rf"\b\d{{1,3}}\s?(?:m|{MINUTES}|')(?!\w)")
_HALF_TIME: Final = re.compile(r"half", re.IGNORECASE)


def names_break(text: str) -> bool:
    """Return whether a line names a break of the evening among other words.

    >>> [names_break(text) for text in ("half time - meat draw", "tiny break", "drum break", "half time feel")]
    [True, True, False, False]
    """
    if len(text.split()) > MOST_WORDS or _OF_MUSIC.search(text):
        return False
    found = _NAMES_BREAK.match(text)
    return bool(found) and not (found and _HALF_TIME.match(found["word"]) and found["behind"] == "" and text.islower())


def take_breaks(found: Sequence[Classified], style: Style) -> None:
    """Take lines between songs for breaks that name one, and have neither the key nor the number of the songs."""
    songs = [one for one in found if one.took is LineKind.SONG and one.draft]
    marked = sum(bool(one.draft and (one.draft.has_key or one.draft.number is not None)) for one in songs)
    are_marked = marked >= MOST_KEYED * max(len(songs) - 1, 1)
    sets = sum(one.took is LineKind.SET for one in found)
    above = 0  # songs in the set
    for at, one in enumerate(found):
        if one.took in (LineKind.SET, LineKind.BREAK):
            above = 0
        elif above >= FEWEST_ABOVE and _may_be_break(one, style, are_marked=are_marked):
            below = next((other for other in found[at + 1 :] if other.took in (LineKind.SET, LineKind.SONG)), None)
            if below is not None and (below.took is LineKind.SET or sets <= 1):
                text = one.line.text
                one.took, one.draft = LineKind.BREAK, None
                is_plain = len(text.split()) <= FEW_WORDS and _MINUTES.search(text)  # tea break, 15 mins
                one.doubts = () if below.took is LineKind.SET or is_plain else (break_or_not(text),)
                above = 0
                continue
        above += one.took is LineKind.SONG


def _may_be_break(one: Classified, style: Style, *, are_marked: bool) -> bool:
    if one.took not in (LineKind.SONG, LineKind.NOTE, LineKind.LEFT) or one.facts or one.inline:
        return False
    line, draft = one.line, one.draft
    if draft and (draft.has_fact or (one.took is LineKind.SONG and draft.number is not None)):
        return False
    text = line.text.strip(" *~=-–—#")
    if not names_break(text):
        return False
    return _says_so(text) or (are_marked and not (one.took is LineKind.SONG and _reads_as_title(line, style)))


def _says_so(text: str) -> bool:
    """Return whether minutes or a meal beside the word tell that it is no title."""
    if _MINUTES.search(text):
        return True
    words = [word.strip(" ,.;:!()") for word in text.split()]
    return any(may_be_event(word) for word in words if not re.fullmatch(_WORD, word, re.IGNORECASE))


def _reads_as_title(line: TextLine, style: Style) -> bool:
    """Return whether a line looks as titles do here, in capitals as they are: Lucky Break."""
    is_other = line.text.isupper() or bool(line.emoji) or line.is_framed
    return style.capitals and line.text[:1].isupper() and not is_other
