"""Spoken replies, written down without signs: clauses, as if a comma stood before each song and after each key."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from companion.leader.courtesies import FAREWELLS
from companion.leader.drop_words import DROPPERS
from companion.leader.guess_words import COUNTS, EXCEPTS
from companion.leader.guessed_segues import ARTICLES, BETWEEN, GOES, INTO, is_gone_into
from companion.leader.hour_words import folded_words
from companion.leader.key_words import FLATS, MAJOR, MINOR, SHARPS
from companion.leader.line_scanner import LineScanner
from companion.leader.numbers_meant import CALLED, UP_TO_NUMBER
from companion.leader.reply_items import KeyFact, ReplyItem, ScannedLine
from companion.leader.reply_lines import ReplyLine
from companion.leader.reply_words import COUNTED, NUMBER, SIGN, ReplyWord, low, phrase_of, set_of
from companion.leader.said_keys import BEFORE_KEYS, is_small_key, said_keys
from companion.leader.small_keys import is_lone_key
from companion.leader.songs_meant import SongsMeant
from companion.leader.starting_words import START_VERBS
from companion.leader.stated_fact import StatedFact
from companion.leader.turns_of_phrase import AS_RECORD, UNKNOWN_TO_LEADER, TurnOfPhrase
from companion.setlist import Notation

LEAST: Final = 18  # words of a line that may have been spoken
TO_A_SIGN: Final = 14  # words for each sign that a spoken line has at most
MIN_NAME: Final = 4  # letters of a word that may name one of several songs
NEVER_SPOKEN: Final = frozenset(":=/|;\t")  # nobody speaks them
MAX_LEADS: Final = 5  # small words before a song

_JOINING: Final = folded_words("and und et y e en och og a i oraz")
# Small words before a song, which belong to it.
_LEADS: Final = (
    ARTICLES
    | _JOINING
    | folded_words(
        "then so also now next dann also jetzt puis ensuite alors après luego después entonces ahora poi dopo allora "
        "depois então dan toen sen sedan så poi potem pak potom on for bei beim für pour per para por voor för om för "
        "del della dello du de da do dos der des van von on our my your unser notre nuestra nostra im nel nella no na "
        "w we v ve z ze okay ok to ten ta nummer number numero número numéro numer"
    )
)
_WHICH: Final = folded_words("which that die der das dat qui que che som który która co kterým den det denne")
# Words after a key that change it, so that nothing parts them from it.
_CHANGES: Final = folded_words(
    "up down then but or not instead from unless if until till for rather dann oder nicht wenn statt bis ou pas si "
    "puis o no si luego hasta poi non se finché eller inte ikke om of niet als lub nie flat sharp minor major dur "
    "moll"
)


def spoken_clauses(lines: Sequence[ReplyLine], scanner: LineScanner, notation: Notation) -> list[ReplyLine]:
    """Part each line that has been spoken before the songs that it names, and after their keys."""
    kept: list[ReplyLine] = []
    for line in _with_headings_parted(lines):
        parts = [] if line.is_quoted or line.field else _parts(line.text, scanner, notation)
        kept += [line._replace(text=text, goes_on=goes_on) for text, goes_on in parts] if len(parts) > 1 else [line]
    return kept


def _with_headings_parted(lines: Sequence[ReplyLine]) -> Iterator[ReplyLine]:
    """Part a heading from the sentence before it: "Sorry I'm late. For the first set:"."""
    for line in lines:
        end = line.text.rfind(". ") if line.text.endswith(":") and not (line.is_quoted or line.field) else -1
        if end > 0 and line.text[end - 1].isalpha():
            yield line._replace(text=line.text[: end + 1])
            yield line._replace(text=line.text[end + 2 :].strip())
        else:
            yield line


def _parts(text: str, scanner: LineScanner, notation: Notation) -> list[tuple[str, bool]]:
    """Return the clauses of a spoken line, and whether each goes on about the song of the clause before."""
    scanned = scanner.scan(text, None)
    words = scanned.words
    signs = sum(word.kind == SIGN for word in words)
    if len(words) < LEAST or signs * TO_A_SIGN > len(words) or NEVER_SPOKEN.intersection(text):
        return []
    songs = _without_repeats([one for one in scanned.items if one.end > one.at and _is_named(one, scanned)], words)
    begins = _all_begin(scanned, songs, notation)
    parts: list[tuple[str, bool]] = []
    if songs and begins[0] > 0:
        parts.append((scanned.said(0, begins[0]), False))
    for at, (song, begin) in enumerate(zip(songs, begins, strict=True)):
        end = begins[at + 1] if at + 1 < len(songs) else len(words)
        parts += [
            (scanned.said(_after_and(words, one, to), to), goes_on)
            for one, to, goes_on in _of_song(scanned, song, begin, end, notation)
        ]
    return parts


def _after_and(words: Sequence[ReplyWord], at: int, end: int) -> int:
    """Return where a clause begins after its "and", which may be taken for a key: e attacca la chitarra."""
    return at + 1 if at + 1 < end and _is_of(words[at], _JOINING) and not _may_be_key(words, at) else at


def _without_repeats(songs: Sequence[ReplyItem], words: Sequence[ReplyWord]) -> list[ReplyItem]:
    """Leave out a song that is named again, "let's leave Moth out", and one that "and" joins to the one before."""
    return [
        one
        for at, one in enumerate(songs)
        if at == 0 or not (_songs(one) == _songs(songs[at - 1]) or _are_joined(words, songs[at - 1], one))
    ]


def _are_joined(words: Sequence[ReplyWord], one: ReplyItem, other: ReplyItem) -> bool:
    """Return whether only "and" and articles stand between two songs."""
    are_songs = bool(_songs(one)[0]) and bool(_songs(other)[0])
    if _is_lone_key(words, one):
        return False
    between = words[one.end : other.at]
    if (
        len(between) == 1
        and between[0].low in UP_TO_NUMBER
        and words[one.end - 1].kind == words[other.at].kind == NUMBER
    ):
        return True  # alright 3 to 5 all in G
    return are_songs and all(_is_of(word, _JOINING | ARTICLES) or word.low in ("+", "&") for word in between)


def _is_lone_key(words: Sequence[ReplyWord], song: ReplyItem) -> bool:
    """Return whether "a" or "e" behind a song is its key, as only English can say it: number one a number two e."""
    is_english = any(words[at].low in _ENGLISH for at in range(song.at, song.end))
    follows = low(words, song.end + 1)
    if not is_english or low(words, song.end) not in ("a", "e"):
        return False
    return low(words, song.end) == "e" or not follows or follows in _LEADS | _ENGLISH


_ENGLISH: Final = set_of("number song tune track one first last third fourth fifth")


def _all_begin(line: ScannedLine, songs: Sequence[ReplyItem], notation: Notation) -> list[int]:
    """Return where the clause of each song begins: before its small words, or before a fact that only it can have."""
    words, begins = line.words, []
    for at, song in enumerate(songs):
        least = songs[at - 1].end if at else 0
        begin = max(_begins(words, song.at, songs), least + (at > 0 and _is_lone_key(words, songs[at - 1])))
        stop = songs[at + 1].at if at + 1 < len(songs) else len(words)
        stop = next((one for one in range(song.end, stop) if phrase_of(words, one, FAREWELLS)), stop)
        after = next(iter(_ands(words, song.end, stop)), stop)
        has_own = _has_fact(line, song.end, after) or _key_end(words, song.end, after, notation)
        has_own = (has_own or _points_back(line, song.end, after)) and not _leaves_out(line, song)
        joins = _ands(words, least, begin)
        key_end = _key_end(words, least, begin, notation) if at else 0
        is_whole = bool(joins) and "it" in {word.low for word in words[joins[-1] : begin]}  # and the drums start it
        if key_end and (drops := _drops_next(line, key_end, begin)):
            begin = drops
        elif joins and not (has_own or is_whole) and _has_fact(line, joins[-1], begin):
            begin = joins[-1]
        elif not (at or has_own) and _has_fact(line, 0, begin):
            begin = 0
        elif (part := _after_sign(words, least, begin)) and _has_fact(line, part, begin) and not has_own:
            begin = part  # in G, drums start everything but Moth
        begins.append(begin)
    return begins


def _drops_next(line: ScannedLine, at: int, end: int) -> int:
    """Return where the words after a key begin that drop the next song: is g we leave out number four; 0 elsewhere."""
    dropped = {one.end for one in line.items if isinstance(one.what, StatedFact) and one.what.field == "dropped"}
    ends = [one for one in range(at + 1, end + 1) if line.words[one - 1].low in DROPPERS or one in dropped]
    is_next = bool(ends) and all(word.low in _LEADS for word in line.words[ends[-1] : end])
    return at if is_next else 0


def _leaves_out(line: ScannedLine, song: ReplyItem) -> bool:
    """Return whether "except" stands right after what names songs, so that what follows is said of others."""
    return low(line.words, song.end) in EXCEPTS


def _after_sign(words: Sequence[ReplyWord], begin: int, end: int) -> int:
    """Return where the words after the last sign begin; 0 if no sign is there."""
    return next((at + 1 for at in range(end - 1, begin - 1, -1) if words[at].kind == SIGN), 0)


def _ands(words: Sequence[ReplyWord], begin: int, end: int) -> list[int]:
    ands = (one for one in range(begin, end) if _is_of(words[one], _ANDS))
    return [one for one in ands if not (len(words[one].low) == 1 and _may_be_key(words, one))]


def _is_of(word: ReplyWord, joining: frozenset[str]) -> bool:
    """Return whether a word is "and"; è and é are verbs."""
    return word.low in joining and word.text.casefold() not in ("è", "é")


def _may_be_key(words: Sequence[ReplyWord], at: int) -> bool:
    is_before_and = low(words, at + 1) in ("and", "then", "und", "dann")  # twenty three e and straight into
    return low(words, at - 1) in BEFORE_KEYS or is_before_and or low(words, at + 1) in MINOR | MAJOR | FLATS | SHARPS


_ANDS: Final = folded_words("and und et y e og och oraz")


def _has_fact(line: ScannedLine, at: int, end: int) -> bool:
    """Return whether a fact stands before a song, of which it may be: drop 5, Em for 10, and I count Moth in."""
    if any(at <= one.at < end and isinstance(one.what, KeyFact | StatedFact) for one in line.items):
        return True
    return any(word.low in COUNTS | DROPPERS | START_VERBS for word in line.words[at:end])


def _points_back(line: ScannedLine, at: int, end: int) -> bool:
    """Return whether a song is as the record has it, or is passed on: number five we play like the record."""
    kinds = {one.what.kind for one in line.items if at <= one.at < end and isinstance(one.what, TurnOfPhrase)}
    return bool(kinds & {AS_RECORD, UNKNOWN_TO_LEADER})


def _songs(item: ReplyItem) -> tuple[tuple[int, ...], tuple[int, ...], str]:
    meant = item.what
    return (meant.songs, meant.sets, meant.no_song) if isinstance(meant, SongsMeant) else ((), (), "")


def _of_song(
    line: ScannedLine, song: ReplyItem, begin: int, end: int, notation: Notation
) -> Iterator[tuple[int, int, bool]]:
    """Yield the clauses about one song: from, to, and whether it is another than the first."""
    words = line.words
    cuts = [begin]
    key_end = max(_key_end(words, song.end, end, notation), _dealt_end(line, song, end))
    key_end = key_end or (song.end + 1 if _is_lone_key(words, song) else 0)
    if key_end and key_end < end and words[key_end].low not in _CHANGES:
        cuts.append(key_end)
    cuts += _ends_of_drops(line, key_end or song.end, end)
    last = key_end or song.end
    farewell = next((at for at in range(last, end) if phrase_of(words, at, FAREWELLS)), end)
    if farewell < end:
        cuts = [*(one for one in cuts if one < farewell), farewell]
    if into := next((one for one in _gone_into(line, song.end, end) if low(words, one[1]) in _WHICH), None):
        yield from _spans([*(one for one in cuts if one < into[0]), into[1]])
        yield into[0], end, False
        return
    yield from ((one, to, goes_on and one != farewell) for one, to, goes_on in _spans([*cuts, end]))


def _ends_of_drops(line: ScannedLine, begin: int, end: int) -> list[int]:
    """Return where another sentence follows "leave it out": number eight leave it out we never get that right."""
    dropped = (
        one.end
        for one in line.items
        if begin <= one.at and one.end < end and isinstance(one.what, StatedFact) and one.what.field == "dropped"
    )
    return [at for at in dropped if low(line.words, at) in _SUBJECTS]


_SUBJECTS: Final = folded_words(
    "we i it they you he she nobody that's it's we've i've we're they're wir ich sie es das der die er on je il elle "
    "ils nous ça lo la no nos io noi non nós eu ik wij we het hij vi jag jeg det den han hun nie my to ja"
)


def _spans(cuts: Sequence[int]) -> Iterator[tuple[int, int, bool]]:
    for at, (one, to) in enumerate(pairwise(cuts)):
        yield one, to, at > 0


def _key_end(words: Sequence[ReplyWord], begin: int, end: int, notation: Notation) -> int:
    """Return where the key of a song ends, with the doubt or the "as always" that follows it; 0 if it has none."""
    return next((one.end for one in said_keys(words, begin, end, notation) if not one.is_denied), 0)


def _dealt_end(line: ScannedLine, song: ReplyItem, end: int) -> int:
    """Return where the last key ends of those dealt out to several songs: the first four are in e g a and d."""
    dealt = [one.at for one in line.items if one.end == one.at and isinstance(one.what, SongsMeant) and one.what.songs]
    keys = (one.end for one in line.items if one.at in dealt and one.end > one.at and isinstance(one.what, KeyFact))
    return max((one for one in keys if song.end < one <= end), default=0)


def _is_named(item: ReplyItem, line: ScannedLine) -> bool:
    """Return whether an item names a song or a set of which the clause speaks; not the one that a song goes into."""
    meant = item.what
    if not isinstance(meant, SongsMeant) or not (meant.songs or meant.sets or meant.no_song):
        return False
    if meant.no_song and all(len(line.words[at].low) < MIN_NAME for at in range(item.at, item.end)):
        return False
    is_called = line.words[item.at].low in CALLED
    if meant.is_word and not is_called and low(line.words, item.end) not in BEFORE_KEYS | GOES | _AFTER_NUMBER:
        return False
    is_between = any(word.low in BETWEEN - _FROM for word in line.words[max(item.at - MAX_BETWEEN, 0) : item.at])
    return not (is_between or is_gone_into(item, line))


_FROM: Final = set_of("from von")  # I talk from the car, number one is in G
MAX_BETWEEN: Final = 5  # words from "between" to the second song: between the moth and number six
_AFTER_NUMBER: Final = set_of("we you starts ends has")


def _gone_into(line: ScannedLine, begin: int, end: int) -> Iterator[tuple[int, int]]:
    """Yield where the name of each song begins and ends that another one goes into."""
    for item in line.items:
        if not begin <= item.at < end:
            continue
        if is_gone_into(item, line):
            yield item.at, item.end
        elif isinstance(item.what, StatedFact) and item.what.field == "into":
            into = next((at for at in range(item.at, item.end) if line.words[at].low in INTO), item.end - 1)
            yield into + 1, item.end


def _begins(words: Sequence[ReplyWord], at: int, songs: Sequence[ReplyItem]) -> int:
    """Return where the clause of a song begins: with the small words before its name."""
    ends = {one.end for one in songs}
    least = max(at - MAX_LEADS, 0)
    while at > least and at not in ends and words[at - 1].low in _LEADS and not _is_key_before(words, at - 1):
        if _ends_number(words, at - 1):
            break
        at -= 1
    return at


def _ends_number(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a small word is the end of a number: one hundred and ten number three fades."""
    before = at - 1 - (low(words, at - 1) == "and")
    return words[at].low in COUNTED and low(words, before) == "hundred"


def _is_key_before(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a small word before a song is the key of the one before: seven is a number nine is e minor."""
    is_key = is_small_key(words, at) or is_lone_key(words, at)
    is_capital = words[at].text in _CAPITALS and low(words, at - 1) in BEFORE_KEYS | _LEADS_TO_KEYS
    return is_key or is_capital or (low(words, at - 1) in _IS and words[at].low in _LETTERS)


_IS: Final = set_of("is ist ar er")
_LETTERS: Final = set_of("a e")
_CAPITALS: Final = ("A", "E")
_LEADS_TO_KEYS: Final = set_of("to now still down up of")  # number three has moved to E number five fades
