"""Notes that lost their key in the middle of a clause: the clause is kept whole, as in capo for Jo but you're in A."""

import re
from collections.abc import Sequence
from typing import Final

_OPEN_END: Final = re.compile(  # words that no clause ends with
    r"(?:['’](?:re|s|m|ll|ve)|(?<![\w'’])(?:is|are|was|be|but|and|or|if|when|with|you|we|I|he|she|they|goes|stays|plays|"
    r"sings?|starts?|begins?|wants? it|needs? it|does it|do it|plays? it|sings? it|takes? it|likes? it|prefers? it|"
    r"aber|und|oder|ist|sind|wir|ihr|bleibt|spielt|singt|will es|mais|et|est|reste|pero|es|queda|ma|resta|maar|blijft|"
    r"men|och|og|är|er))$"
)
_ADVERBS: Final = re.compile(  # words that say nothing without the key beside them: in A this time
    r"(?:(?:but|now|back|again|this time|for now|instead|usually|normally|always|actually|still|only|jetzt|wieder|"
    r"diesmal|sonst|maintenant|cette fois|ahora|esta vez|adesso|questa volta|nu|deze keer|den här gången|denne gang)"
    r"\s?)+$",
    re.IGNORECASE,
)
_KEY: Final = (
    r"(?:in|to|into|en|em|i|till|til|naar|nach|auf)\s(?:the\skey\sof\s)?"
    r"[A-H](?:[b#♭♯]|is|es|s)?(?:m|maj|min)?(?![\w#♭♯])"
)
_KEY_BEHIND: Final = re.compile(rf"\s{_KEY}(?:\s[^\s,;()–—-]{{1,12}}){{0,3}}(?=\s*(?:$|[,;()–—]|\s-))")
_KEY_BEFORE: Final = re.compile(rf"{_KEY}\s$")


def with_whole_clauses(notes: Sequence[str], line: str) -> list[str]:
    """Return a line's notes, those that end or begin where its key was taken out with the rest of their clause.

    >>> with_whole_clauses(["capo for Jo but you're"], "Moth - A, capo for Jo but you're in A")
    ["capo for Jo but you're in A"]
    >>> with_whole_clauses(["this time", "slow"], "Moth - in A this time, slow")
    ['in A this time', 'slow']
    """
    return [_whole(note, line) for note in notes]


def _whole(note: str, line: str) -> str:
    is_adverb = _ADVERBS.match(note) is not None
    if not is_adverb and not _OPEN_END.search(note):
        return note
    at = line.find(note)
    if at < 0:
        return note
    end = at + len(note)
    if behind := _KEY_BEHIND.match(line, end):
        return line[at : behind.end()]
    if is_adverb and (before := _KEY_BEFORE.search(line[:at])):
        return line[before.start() : end]
    return note
