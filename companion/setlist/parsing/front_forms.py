"""What comes before titles: a key and a colon, a singer's letters, small words before a capital letter."""

import itertools
import re
from collections import Counter
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.setlist.notation import Notation
from companion.setlist.parsing.inline_songs import sung_by
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.lead_words import TELLING, count_of_leads, set_led_to
from companion.setlist.parsing.patterns import SINGER, TAIL
from companion.setlist.parsing.set_headings import read_heading
from companion.setlist.parsing.talk_words import AFTER, BEFORE
from companion.setlist.parsing.text_lines import TextLine

FEWEST: Final = 4  # lines that begin so
FEWEST_TOLD: Final = 3  # lines that begin with one word such as "Then"
FEWEST_KEYS: Final = 3  # different ones
MOST: Final = 0.6  # share of the lines
MAX_LISTED: Final = 0.5  # share of the lines after keys that may hold a comma; beyond it each holds several songs
_KEY: Final = re.compile(r"^([A-H](?:[b#♭♯]|is|es|s)?m?)\s?:\s+(\S.*)$")
_FIRST_WORD: Final = re.compile(r"^([^\W\d_]{1,6})\s+(?=\S)")
_LEGEND_WORD: Final = re.compile(r"(?<!\w)([^\W\d_]{1,6})\s?=\s?[^\W\d_]")
_SAYS: Final = re.compile(r"\s(?:is|was|be|not)\s")  # sorry Moth is in F not G
_KEY_INSIDE: Final = re.compile(
    r"[\s(](?:[B-H]|[A-H](?:[b#♭♯]|is|es|m)|Es|As)m?(?=$|[),.;:!?\s])|[\s(]A(?=$|[),.;:!?])|"
    r"[\s(][A-Ha-h](?:is|es|s)?[- ]?(?:[Mm]oll|[Dd]ur)(?!\w)|\((?:[Dd]o|[Rr]e|[Mm]i|[Ff]a|[Ss]ol|[Ll]a|[Ss]i)\b"
)
_PLACED: Final = re.compile(rf"\s(?:{BEFORE}|{AFTER})\s[A-Z]")  # we finish on Moth after Weeds, of a list with Weeds
MAX_WORDS: Final = 2  # small ones
SHORTEST, LONGEST = 3, 12  # letters of each
_TITLE_WORDS: Final = (
    "the and for der die das dem den ein eine von und mit les des une los las del dos uno una gli een het van ett "
    "til och"
)
_OF_TITLES: Final = frozenset(_TITLE_WORDS.split())


def without_fronts(lines: Sequence[TextLine], notation: Notation) -> Sequence[TextLine]:
    """Return the lines as other lists have them: the key after the title, who sings and other words kept apart."""
    lines = _with_order_in_small(_with_keys_after(lines, notation))
    return _without_small_words(_without_small_labels(_without_singers(lines)), notation)


def _filled(lines: Sequence[TextLine]) -> list[TextLine]:
    return [line for line in lines if line.text and not line.message.is_envelope]


def _with_keys_after(lines: Sequence[TextLine], notation: Notation) -> Sequence[TextLine]:
    """Put the key after the title, where most lines begin with one: Em: Dance, Margaret, Dance."""
    found = [_KEY.match(line.text) for line in lines]
    keyed = [one for one in found if one and plain_key(one[1], notation=notation)]
    listed = sum("," in one[2] for one in keyed)
    if len(keyed) < max(FEWEST, MOST * len(_filled(lines))) or listed > MAX_LISTED * len(keyed):
        return lines
    if len({one[1] for one in keyed}) < FEWEST_KEYS:
        return lines
    return [
        _changed(line, f"{one[2]} ({one[1]})") if one and plain_key(one[1], notation=notation) else line
        for line, one in zip(lines, found, strict=True)
    ]


def _with_order_in_small(lines: Sequence[TextLine]) -> Sequence[TextLine]:
    """Take a word that says what comes when off the lines, where it begins many; others like it begin small.

    Then Moth - G, where three lines begin so, is Moth - G; Start with Oars is start with Oars.
    """
    first = [line.text.split(" ", 1)[0] for line in lines]
    told = Counter(word for word in first if word[:1].isupper() and word.lower() in TELLING)
    usual, many = told.most_common(1)[0] if told else ("", 0)
    if many < FEWEST_TOLD:
        return lines
    made = []
    for line, word in zip(lines, first, strict=True):
        rest = line.text[len(word) :].strip(" ,:")
        if word == usual and rest[:1].isupper():
            made.append(_changed(line, rest))
        elif word in told:
            made.append(msgspec.structs.replace(line, text=f"{line.text[0].lower()}{line.text[1:]}"))
        else:
            made.append(line)
    return made


def _changed(line: TextLine, text: str, front: str = "") -> TextLine:
    return msgspec.structs.replace(line, text=text, whole=text, front=front or line.front)


def _without_singers(lines: Sequence[TextLine]) -> Sequence[TextLine]:
    """Take the letters of singers off, where a line explains them and most begin with one: D = Dee; D Moth."""
    marks = {mark for line in lines if sung_by(line.whole) for mark in _LEGEND_WORD.findall(line.whole)}
    if not marks:
        return lines
    found = [_FIRST_WORD.match(line.text) for line in lines]
    sung = [one if one and one[1] in marks and not sung_by(one.string) else None for one in found]
    if sum(one is not None for one in sung) < max(FEWEST, MOST * (len(_filled(lines)) - 1)):
        return lines
    return [
        _changed(line, line.text[one.end() :], one[1]) if one else line for line, one in zip(lines, sung, strict=True)
    ]


def _without_small_labels(lines: Sequence[TextLine]) -> Sequence[TextLine]:
    """Take alle: off a title, where the others have a singer's name there."""
    found = [SINGER.match(line.text) for line in lines]
    named = sum(one is not None and one[1][0].isupper() for one in found)
    if named < max(FEWEST, MOST * len(_filled(lines))):
        return lines
    made = []
    for line, one in zip(lines, found, strict=True):
        is_small = one is not None and one[1].islower() and " " not in one[1] and line.text[one.end()].isupper()
        made.append(_changed(line, line.text[one.end() :], one[1]) if one and is_small else line)
    return made


def _without_small_words(lines: Sequence[TextLine], notation: Notation) -> Sequence[TextLine]:
    """Take small words off a title with a key, in doubt, where the others begin with capitals: opener Moth A."""
    filled = [line for line in _filled(lines) if line.text[0].isalpha()]
    others = [line for line in filled if not count_of_leads(line.text.split(" "))]
    keyed = [line for line in others if _KEY_INSIDE.search(line.text)]
    others = keyed if len(keyed) >= FEWEST else others  # in a chat the others talk
    small = sum(line.text[0].islower() for line in others)
    led = sum(_leads_to_key(line.text) for line in filled)
    if len(filled) < FEWEST or small > (1 - MOST) * (len(others) + led):
        return lines
    made = []
    for above, line in itertools.pairwise((None, *lines)):
        assert line  # noqa: S101  only the first is None
        words = line.text.split(" ")
        leads = count_of_leads(words)
        count = leads or next((at for at, word in enumerate(words) if not _is_small(word)), 0)
        said, rest = " ".join(words[:count]), " ".join(words[count:])
        goes_on = above is not None and not line.row.blank_before and _may_go_on(above.text, notation)
        is_label = (
            not goes_on and 0 < count <= MAX_WORDS and rest[:1].isupper() and not rest.isupper() and not line.talk
        )
        is_led = leads and rest[:1].isupper() and not (goes_on or line.talk or _PLACED.search(rest))
        is_led = is_led and _KEY_INSIDE.search(rest) is not None
        if is_led or (
            is_label
            and not _SAYS.search(rest)
            and plain_key(words[count], notation=notation) is None
            and _is_keyed(rest, notation)
        ):
            name = line.set_name or (set_led_to(said) if is_led else "")
            made.append(msgspec.structs.replace(line, text=rest, front=said, talk=said, set_name=name))
        else:
            made.append(line)
    return made


def _leads_to_key(text: str) -> bool:
    """Return whether small words lead to a title with a capital and its key: next is Moth in D."""
    words = text.split(" ")
    rest = " ".join(words[count_of_leads(words) :])
    return rest != text and rest[:1].isupper() and _KEY_INSIDE.search(rest) is not None


def _may_go_on(text: str, notation: Notation) -> bool:
    """Return whether a title may go on in the line below: it has no key, heads no set and ends no sentence."""
    is_open = text[:1].isupper() and text[-1:].isalnum() and read_heading(text) is None
    return is_open and not (_is_keyed(text, notation) or _KEY_INSIDE.search(text))


def _is_small(word: str) -> bool:
    return word.isalpha() and word.islower() and SHORTEST <= len(word) <= LONGEST and word not in _OF_TITLES


def _is_keyed(text: str, notation: Notation) -> bool:
    bracket = TAIL.match(text)
    in_bracket = bracket is not None and plain_key(bracket[2], notation=notation) is not None
    end = key_at_end(text, notation)
    return in_bracket or bool(end and end.written[0].isupper() and not end.is_said)
