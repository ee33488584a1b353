"""Rows of a reply that stand in one line, as if they had been dictated: "1 - A 2 - F as you have it 3 - E fades"."""

import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Final, NamedTuple

from companion.leader.courtesies import FAREWELLS
from companion.leader.hour_words import folded_words
from companion.leader.key_words import CAPITAL
from companion.leader.line_scanner import LineScanner
from companion.leader.numbers_meant import BARS, CALLED, UNITS
from companion.leader.reply_items import KeyFact, ReplyItem
from companion.leader.reply_words import NUMBER, WORD, ReplyWord, low, phrase_of, set_of, words_of
from companion.leader.songs_meant import SongNames, SongsMeant
from companion.leader.spoken_clauses import LEAST as SPOKEN
from companion.leader.spoken_clauses import NEVER_SPOKEN

LEAST: Final = 3  # rows of a list whose names a sign or a key follows
LEAST_WORDS: Final = 8
MAX_HEADS: Final = 120
SHORTEST: Final = 3  # letters of a word that is one of a title
MAX_GAP: Final = 3  # numbers that a list leaves out between two rows
KEYED: Final = 0.6  # of the rows of a list without signs, those that begin with their key
_LIST_SIGNS: Final = frozenset("-–—:)=")
_PARTING: Final = frozenset(",;.!?|")  # where they part the rows, they are read as they stand
_NOT_BEFORE: Final = folded_words(
    "into to capo at bar bars take and or from like as und oder et ou y e o och og en of i oraz in att till nach vers "
    "vor wie comme como come som"
) - {"in"}
_ANDS: Final = set_of("and und et y e och og en i &")
_OF: Final = set_of("of the in each every des der von di de da av van z")
_CORRECTING: Final = folded_words(
    "sorry wait actually oops no correction pardon non ah oh perdón scusa scusate nein entschuldigung quatsch nej "
    "förlåt undskyld beklager desculpa nee przepraszam pardón"
)
_STANDING_FOR: Final = frozenset("(:=-–—+&>")
# Words before a colon that head a list.
_LABELS: Final = folded_words(
    "keys endings ends intros starts tempos lengths tonarten anfänge schlüsse enden tonalités débuts fins tonalidades "
    "tonos inicios finales tonalità inizi finali toonsoorten tonarter"
)
_JOINING_SIGNS: Final = frozenset("+&/-–—")
_BEFORE_KEY: Final = set_of("in is = - – — : ) key of still now stays en i w v")
_ARTICLES: Final = set_of("the le les il lo el los las der die das den det het os as")
_ARTICLES_OR_KEYS: Final = set_of("a la o")


SMALL: Final = re.compile(r"[a-h](?:[b#♭♯]|is|es)?m?$")


class _Head(NamedTuple):
    """What a row begins with: its number or 0, where it begins and ends, and the sign behind it."""

    number: int
    at: int
    end: int
    sign: str
    is_keyed: bool


def with_rows_apart(text: str, scanner: LineScanner) -> str:
    """Return a reply with a line for each row of its lists, where a list stands in one line and no signs part it."""
    return "\n".join(row for line in text.split("\n") for row in _rows(line, scanner))


def _rows(line: str, scanner: LineScanner) -> Iterator[str]:
    words = words_of(line)
    cuts: list[int] = []
    if len(words) >= LEAST_WORDS and not line.lstrip().startswith((">", "|")):
        cuts = _cuts_of_numbers(words, scanner.names) or _cuts_of_titles(words, line, scanner)
    labels = [at for at in range(len(words) - 1) if cuts and words[at].low in _LABELS and words[at + 1].low == ":"]
    starts = [0, *(words[at].start for at in sorted({*cuts, *labels}) if at > 0)]
    for begin, end in pairwise([*starts, len(line)]):
        yield line[begin:end].strip().removesuffix(" /") if cuts else line[begin:end]


# -------------------------------------------------------------- numbers


def _cuts_of_numbers(words: Sequence[ReplyWord], names: SongNames) -> list[int]:
    """Return where the rows of a list begin that counts its songs, and where the words behind it do."""
    sets = _sets(words, names)
    heads = [head for at in range(len(words)) if (head := _numbered(words, at, len(names.numbers))) is not None]
    heads = [head for head in heads if not any(at <= head.at < end for at, end in sets.items())]
    signed = [head for head in heads if head.sign]
    for listed in (signed, heads):
        chain = _longest(listed[:MAX_HEADS], sets)
        if _is_list(chain, words, sets):
            again = [one for one in listed if one.is_keyed and one.sign == chain[0].sign and one.at > chain[0].at]
            rows = {*chain, *(one for one in again if not _is_signed(words, one.at))}
            return _with_sets(words, sorted(rows, key=lambda one: one.at), sets)
    return []


def _sets(words: Sequence[ReplyWord], names: SongNames) -> dict[int, int]:
    """Return where the names of sets begin and end."""
    found: dict[int, int] = {}
    at = 0
    while at < len(words):
        meant = names.set_meant(words, at)
        if meant is not None and len(meant.sets) == 1:
            found[at] = meant.end
        at = max(at + 1, found.get(at, 0))
    return found


def _numbered(words: Sequence[ReplyWord], at: int, last: int) -> _Head | None:
    """Read a number that a row may begin with: no number of bars, and none that a song goes into."""
    word = words[at]
    if word.kind != NUMBER or word.is_ordinal or not 1 <= int(word.text) <= last:
        return None
    begin = at - (at > 0 and low(words, at - 1) in CALLED)
    follows = low(words, at + 1)
    is_keyed = _is_keyed(words, at + 1)
    if is_keyed and begin > 1 and words[begin - 1].text in _ANDS and words[begin - 2].kind != NUMBER:
        begin -= 1  # nr 1 in C and nr 2 in F
    elif begin and (words[begin - 1].text in _NOT_BEFORE or (low(words, begin - 2) and _joins(words, begin))):
        return None
    if not follows or follows in UNITS or follows in BARS:
        return None
    sign = follows if follows in _LIST_SIGNS else ""
    if sign and at + 2 < len(words) and words[at + 1].start == word.end and words[at + 2].kind == NUMBER:
        return None  # 5-7
    return _Head(int(word.text), begin, at + 1, sign, is_keyed)


def _joins(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a sign before a number joins it to the one before: 9+10."""
    return words[at - 1].low in _JOINING_SIGNS and words[at - 2].kind == NUMBER


def _is_keyed(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a key follows: in a capital letter, or in a small one right before the next number."""
    while at < len(words) and words[at].text in _BEFORE_KEY:
        at += 1
    if at >= len(words):
        return False
    is_small = SMALL.match(words[at].text) is not None and (at + 1 == len(words) or words[at + 1].kind == NUMBER)
    return is_small or CAPITAL.match(words[at].text) is not None


def _longest(heads: Sequence[_Head], sets: Mapping[int, int]) -> list[_Head]:
    """Return the longest run of numbers that counts on, or begins again behind the name of a set."""
    best: list[tuple[float, int]] = []
    for at, head in enumerate(heads):
        value, before = 1 + head.is_keyed / 2, -1
        for other in range(at):
            step = _step(heads[other], head, sets)
            if step and best[other][0] + step + head.is_keyed / 2 > value:
                value, before = best[other][0] + step + head.is_keyed / 2, other
        best.append((value, before))
    at = max(range(len(heads)), key=lambda one: best[one][0], default=-1)
    chain: list[_Head] = []
    while at >= 0:
        chain.append(heads[at])
        at = best[at][1]
    return chain[::-1]


def _step(one: _Head, other: _Head, sets: Mapping[int, int]) -> float:
    """Return the weight of a row behind another; 0 if it cannot follow it."""
    if one.sign != other.sign:
        return 0
    if other.number == one.number + 1:
        return 1
    is_near = other.number <= one.number + MAX_GAP or other.at <= one.end + 2  # 2 Bb 7 Am
    if one.number < other.number and is_near and (other.sign or other.is_keyed):
        return 0.5
    if other.number > one.number or not any(one.end <= at < other.at for at in sets):
        return 0
    return 1 if other.number == 1 else 0.5 if other.is_keyed and _ends_at(sets, other) else 0


def _ends_at(sets: Mapping[int, int], head: _Head) -> bool:
    """Return whether the name of a set stands right before a row."""
    return any(end in (head.at, head.at - 1) for end in sets.values())


def _is_signed(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a sign parts a row from the one before, or stands for what is said of its song: drums: 4."""
    before = words[at - 1]
    is_apart = at > 1 and words[at - 2].end < before.start and before.end < words[at].start
    return before.low in _PARTING or before.low in _STANDING_FOR or (before.low == "/" and not is_apart)


def _is_list(chain: Sequence[_Head], words: Sequence[ReplyWord], sets: Mapping[int, int]) -> bool:
    """Return whether numbers are those of rows: no signs part them, and keys follow them or the same sign does."""
    if len(chain) < LEAST + (not chain[0].sign if chain else 0):
        return False
    if any(_is_signed(words, head.at) and not _ends_at(sets, head) for head in chain[1:]):
        return False
    keyed = sum(head.is_keyed for head in chain)
    if not chain[0].sign and keyed < KEYED * len(chain):
        return False
    begins_with_key = chain[0].at > 0 and CAPITAL.match(words[chain[0].at - 1].text) is not None
    return not (begins_with_key and not chain[-1].is_keyed)  # G 1 D 2 Em 3


def _with_sets(words: Sequence[ReplyWord], chain: Sequence[_Head], sets: Mapping[int, int]) -> list[int]:
    """Return where rows begin, the names of sets between two lists, and the farewell or the times behind the last."""
    cuts = [_with_correction(words, head.at) for head in chain]
    cuts += [
        next(iter(between))
        for one, other in pairwise(chain)
        if other.number <= one.number and (between := [at for at in sets if one.end <= at < other.at])
    ]
    named = {at: end for at, end in sets.items() if end <= chain[0].at}
    cuts += [*named, *(end + 1 for end in named.values() if low(words, end) == ":")]
    behind = [at for at in range(chain[-1].end + 1, len(words)) if phrase_of(words, at, FAREWELLS)]
    behind += [at for at in sets if at > chain[-1].end + 1 and low(words, at - 1) not in _OF]
    return sorted({*cuts, *([min(behind)] if behind else [])})


def _with_correction(words: Sequence[ReplyWord], at: int) -> int:
    """Return where a row begins with the words that say that it corrects one: wait sorry 4 is Dm."""
    while at > 0 and words[at - 1].low in _CORRECTING:
        at -= 1
    return at


# -------------------------------------------------------------- titles


def _cuts_of_titles(words: Sequence[ReplyWord], line: str, scanner: LineScanner) -> list[int]:
    """Return where the rows of a list begin that names its songs, each with its key or a sign behind it."""
    scanned = scanner.scan(line, None)
    if [word.start for word in scanned.words] != [word.start for word in words]:
        return []
    items = [item for item in scanned.items if item.end > item.at]
    titled = [at for at, item in enumerate(items) if _is_titled(item, words, scanner.names.titles)]
    is_spoken = len(words) >= SPOKEN and not NEVER_SPOKEN.intersection(line)
    for signs in (True,) if is_spoken else (True, False):
        heads = [at for at in titled if _heads(items, at, words, signs=signs)]
        songs = {meant.songs for at in heads if isinstance(meant := items[at].what, SongsMeant)}
        starts = [_with_number(words, items[at], scanner.names) for at in heads]
        if len(songs) < LEAST + (not signs) or any(words[at - 1].low in _PARTING for at in starts[1:]):
            continue
        first_key = next((item.at for item in items if isinstance(item.what, KeyFact)), starts[0])
        if first_key >= starts[0]:
            ends = {end + (low(words, end) == ":"): at for at, end in _sets(words, scanner.names).items()}
            return sorted({*starts, *(ends[at] for at in starts if at in ends)})
    return []


def _is_titled(item: ReplyItem, words: Sequence[ReplyWord], titles: Sequence[str]) -> bool:
    """Return whether an item names one song by words of its title."""
    meant = item.what
    if not isinstance(meant, SongsMeant) or len(meant.songs) != 1 or meant.sets or meant.is_rest or meant.is_word:
        return False
    said = words[item.at + (words[item.at].kind == NUMBER) : item.end]
    own = {word for word in titles[meant.songs[0]].split() if len(word) >= SHORTEST}
    is_worded = bool(said) and all(word.kind == WORD for word in said) and said[0].low not in CALLED
    return is_worded and any(one.low in own for one in said)


def _heads(items: Sequence[ReplyItem], at: int, words: Sequence[ReplyWord], *, signs: bool) -> bool:
    """Return whether a song heads a row: a dash or a colon follows it, or right away its key."""
    follows = items[at + 1] if at + 1 < len(items) else None
    if follows is None:
        return False
    if signs:
        return words[items[at].end].low in _LIST_SIGNS - {")"}
    if words[follows.at].low in _BEFORE_KEY and not isinstance(follows.what, KeyFact):
        follows = items[at + 2] if at + 2 < len(items) else follows
    return isinstance(follows.what, KeyFact)


def _with_number(words: Sequence[ReplyWord], item: ReplyItem, names: SongNames) -> int:
    """Return where a title begins with its number in the message, or with its article: 04 Paper Moth."""
    before = words[item.at - 1] if item.at else None
    place = item.what.songs[0] if isinstance(item.what, SongsMeant) else None
    if before is not None and before.kind == NUMBER and names.number(int(before.text), None)[0] == place:
        return item.at - 1
    return _with_article(words, item.at)


def _with_article(words: Sequence[ReplyWord], at: int) -> int:
    """Return where a title begins with its article, which is no key: behind another key only, if it may be one."""
    before = words[at - 1].text if at else ""
    is_article = before in _ARTICLES or (
        before in _ARTICLES_OR_KEYS and at > 1 and CAPITAL.match(words[at - 2].text) is not None
    )
    return at - is_article
