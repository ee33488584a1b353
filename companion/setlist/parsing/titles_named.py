"""Find the songs of a list that a line of talk names, whole or shortened, and put a mark in the place of each."""

import functools
import re
import unicodedata
from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Final

import msgspec

WHOLE: Final = "\ue000{}\ue001"  # stands for a song whose whole title is there
PART: Final = "\ue002{}\ue001"  # stands for a song that a part of its title names
MARK: Final = "[\ue000\ue002]\\d{1,3}\ue001"  # either, in a pattern
MAX_TITLES: Final = 200  # that share a word with the line
MAX_FOLDED: Final = 4096  # words and titles whose folding is kept
MAX_WORDS: Final = 12  # of a title that is looked for
SHORTEST: Final = 4  # letters of a word that names a song alone
_MARKS: Final = re.compile("[\ue000-\ue002]")
_WORDS: Final = re.compile(r"[^\W_]+(?:['’`][^\W_]+)*")
_OF_IT: Final = re.compile("['’`]s$", re.IGNORECASE)  # Moth's in D
ARTICLES: Final = frozenset(
    ("the", "a", "an", "der", "die", "das", "le", "la", "les", "el", "los", "il", "lo", "de", "het")
)
_COMMON_WORDS: Final = (
    "about after again all also always and another any are away baby back band bass been before best big blue "
    "both bring but "
    "came can come cold could day days dance don't done down drums each easy end ends even every everything fast feel "
    "find first five for four from full get give goes going gone good guitar half have hear heart help here home how "
    "intro it's just keep key keys kind knows last late later leave left let like line list little long look lose lost "
    "love made make many maybe me mine more most much must near need never next night no not nothing now off old once "
    "one only open opens other our out outro over part piano play please put ready really rest right round run said "
    "same say see set show side sing slow so solo some song songs soon start starts still stop stops such sure take "
    "than thanks that the their them then there these they thing think this those three till time to today together "
    "tonight too turn two under until up verse very wait want was watch way we well went were what when where which "
    "while who whole why will with without work works would yes you your zero zwei alle alles auch aber bitte dann das "
    "der die doch ein eine einen erst ganz gut haben hier ich ist jetzt kein keine machen mehr mit nach nacht "
    "nein nicht "
    "noch nur oder ohne schon sehr sein sind spielen und uns unser vom von vor wann warum was weil wenn wer wie "
    "wir wird "
    "zum zur zwei avec aussi bien comme dans elle encore est fait faire les mais même moi non nous nuit oui pas plus "
    "pour quand que qui sans son sont sur tout tous très trop une vous como con cuando del dos ella ellos entre era "
    "esta este hay hasta las los mas más muy noche nos otra para pero por porque que ser sin sobre son todo todos una "
    "vida amore anche che come cosa dei del della dove ella fino notte per più poi quando quello questo senza "
    "solo sono "
    "tutti tutto una vita"
)
LONGEST_LINE: Final = 150  # words; a longer line is no remark about a song
_COMMON: Final = frozenset(_COMMON_WORDS.split())


class NamedSongs(msgspec.Struct, frozen=True):
    """A line with marks in the place of titles."""

    text: str
    whole: frozenset[int]
    part: frozenset[int]


def songs_named(text: str, titles: Sequence[str]) -> NamedSongs:
    r"""Return the line with a mark for each title; a song is named by a part only where no other title has that part.

    >>> songs_named("drop old canal, Moth goes first", ("Moth", "Old Canal Road")).text
    'drop \ue0021\ue001, \ue0000\ue001 goes first'
    """
    text = _MARKS.sub("", text)
    found = [(match, _fold(match[0])) for match in _WORDS.finditer(text)]
    if len(found) > LONGEST_LINE:
        return NamedSongs(text, frozenset(), frozenset())
    said = {form for match, word in found for form in (word, word[:-1] if _OF_IT.search(match[0]) else word)}
    all_words = [_folded_words(title) for title in titles]
    known = [(number, words) for number, words in enumerate(all_words) if not said.isdisjoint(words)][:MAX_TITLES]
    marks: list[tuple[int, int, str]] = []
    whole, part = set[int](), set[int]()
    taken = [False] * len(found)
    for number, words in sorted(known, key=lambda one: -len(one[1])):
        for at in _places(words, found, taken):
            if _may_be_title(words, [match[0] for match, _ in found[at : at + len(words)]], is_first=at == 0):
                _mark(marks, found, taken, at, len(words), WHOLE.format(number))
                whole.add(number)
    counts = Counter(word for _, words in known for word in set(words))
    shared = {word for word, count in counts.items() if count > 1}
    for number, words in known if len(whole) < len(known) else ():
        place = None if number in whole else next(_parts(words, shared, found, taken), None)
        if place:
            _mark(marks, found, taken, place[0], place[1], PART.format(number))
            part.add(number)
    for begin, end, mark in sorted(marks, reverse=True):
        begin -= text[begin - 1 : begin] in ('"', "“", "„", "«", "'", "‘") and begin > 0  # noqa: PLW2901
        end += text[end : end + 1] in ('"', "”", "“", "»", "'", "’")  # noqa: PLW2901
        text = f"{text[:begin]}{mark}{text[end:]}"
    return NamedSongs(text, frozenset(whole), frozenset(part))


def _places(words: Sequence[str], found: Sequence[tuple[re.Match[str], str]], taken: list[bool]) -> Iterator[int]:
    for at in range(len(found) - len(words) + 1 if words else 0):
        same = all(found[at + index][1] == word for index, word in enumerate(words[:-1]))
        last = found[at + len(words) - 1]
        is_last = last[1] == words[-1] or (bool(_OF_IT.search(last[0][0])) and last[1][:-1] == words[-1])
        if same and is_last and not any(taken[at : at + len(words)]):
            yield at


def _may_be_title(words: Sequence[str], written: Sequence[str], *, is_first: bool) -> bool:
    """Return whether these words name the song: common words do so only with a capital, and not as the first word."""
    if any(len(word) >= SHORTEST and word not in _COMMON for word in words):
        return True
    if any(map(str.isdigit, words[0])) and any(map(str.isupper, written[0])):
        return True  # P45
    if len(words) > 1:
        return any(one[:1].isupper() for one in written[is_first:])
    return written[0][:1].isupper() and not is_first and len(written[0]) > 1


def _parts(
    words: Sequence[str], shared: set[str], found: Sequence[tuple[re.Match[str], str]], taken: list[bool]
) -> Iterator[tuple[int, int]]:
    """Yield where a part of a title stands, and of how many words: its first or last words, or one that stands out.

    ``shared``: words that several titles have.
    """
    for size in range(len(words) - 1, 0, -1):
        for begin in (0, len(words) - size) if size > 1 else range(len(words)):
            piece = words[begin : begin + size]
            if not any(len(word) >= SHORTEST and word not in _COMMON and word not in shared for word in piece):
                continue
            for at in _places(piece, found, taken):
                yield at, size


def _mark(
    marks: list[tuple[int, int, str]],
    found: Sequence[tuple[re.Match[str], str]],
    taken: list[bool],
    at: int,
    size: int,
    mark: str,
) -> None:
    taken[at : at + size] = [True] * size
    marks.append((found[at][0].start(), found[at + size - 1][0].end(), mark))


@functools.lru_cache(MAX_FOLDED)
def _folded_words(title: str) -> tuple[str, ...]:
    words = [_fold(word) for word in _WORDS.findall(title)]
    return tuple(words[1:] if len(words) > 1 and words[0] in ARTICLES else words)[:MAX_WORDS]


@functools.lru_cache(MAX_FOLDED)
def _fold(word: str) -> str:
    plain = unicodedata.normalize("NFKD", word.casefold())
    return "".join(sign for sign in plain if not unicodedata.combining(sign) and sign not in "'’`")
