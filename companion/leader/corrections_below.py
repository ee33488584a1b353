"""Lines that speak of what is above: "sorry, 5 is Bm" below "Set 2: 1 D, 5 Cm", "you start that one" below "3 Am"."""

import re
from typing import Final

from companion.leader.phrase_lists import CORRECTIONS
from companion.leader.reply_items import ScannedLine
from companion.leader.reply_words import SIGN, phrase_of, phrases, set_of, words_of
from companion.leader.songs_meant import SongsMeant
from companion.leader.turns_of_phrase import CORRECT, TurnOfPhrase


def corrects_above(line: ScannedLine) -> bool:
    """Return whether a line begins with a correction, before the songs that it names."""
    first = next((one.at for one in line.items if isinstance(one.what, SongsMeant)), -1)
    return any(isinstance(one.what, TurnOfPhrase) and one.what.kind == CORRECT and one.at < first for one in line.items)


def numbered_as_above(within: ScannedLine, overall: ScannedLine) -> ScannedLine:
    """Return a line whose numbers count in the set of the line above, in doubt where they may count in the show."""
    kept = []
    others = {one.what.songs for one in overall.items if isinstance(one.what, SongsMeant)}
    for one in within.items:
        meant = one.what
        if isinstance(meant, SongsMeant) and meant.songs and meant.songs not in others and not meant.doubt:
            said = within.said(one.at, one.end)
            kept.append(one._replace(what=meant._replace(doubt=f"which song is {said}?")))
        else:
            kept.append(one)
    return within._replace(items=tuple(kept))


_IT: Final = phrases(
    "it | its | it's | that one | this one | that ones | that one's | same one | that song | this song | elle | ca | es"
)


def speaks_of_it(line: ScannedLine) -> bool:
    """Return whether a line names no song and points back to one: "you start that one" below "3 Am"."""
    if any(True for item in line.items if isinstance(item.what, SongsMeant)):
        return False
    first = next((at for at, word in enumerate(line.words) if word.kind != SIGN and word.low not in ("and", "but")), 0)
    last_two = range(max(0, len(line.words) - 3), len(line.words))
    begins = bool(phrase_of(line.words, first, _IT))
    return begins or any(phrase_of(line.words, at, _IT) > 1 for at in last_two)


def corrected_key(text: str) -> str:
    """Return the key of a line that only corrects the one above it: "no, I read it wrong, D"; "" for another line."""
    words = words_of(text)
    at, corrects = 0, False
    while at < len(words):
        many = phrase_of(words, at, CORRECTIONS)
        if not (many or words[at].kind == SIGN or words[at].low in _BEFORE_CORRECTED):
            break
        corrects = corrects or many > 0
        at += many or 1
    rest = text[words[at].start :] if at < len(words) and corrects else ""
    key = _KEY_ALONE.match(rest)
    return key["key"] if key is not None else ""


_BEFORE_CORRECTED: Final = set_of("no nope oh ah oops wait hang on ok its it's in that's nein non nej nee")
_KEY_ALONE: Final = re.compile(
    r"(?P<key>[A-H](?:[b#♭♯]|is|es)?(?:m| minor| major| flat| sharp|-?[Mm]oll|-?[Dd]ur)?)(?:[.,!] ?(?P=key))?[.!]{0,5}$"
)
