"""Songs that a reply counts one after the other: "la prima in sol, la seconda in la minore, la terza ... l'ultima"."""

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from companion.leader.event_words import BREAKS_SAID
from companion.leader.hour_words import folded_words
from companion.leader.reply_lines import ReplyLine
from companion.leader.reply_words import CLOCK, COUNTED, NUMBER, ORDINALS, SIGN, ReplyWord, low, set_of, words_of
from companion.leader.said_keys import said_keys
from companion.leader.set_names import ENCORES, PARTS_OF_SHOW, POSSESSIVE
from companion.leader.songs_by_place import ARTICLES_OF_PLACE, LASTS, ORDINALS_ABROAD, SONG_WORDS
from companion.leader.songs_meant import SongNames
from companion.setlist import Notation
from companion.show.titles import folded

LEAST: Final = 3  # songs counted in turn; fewer ordinals may be of sets, verses or times
_REACH: Final = 6  # words after an ordinal among which its key stands
_ARTICLES: Final = ARTICLES_OF_PLACE | set_of("the les l beim")
_JOINING: Final = folded_words("and und et y e en och og i a then dann puis poi luego dan sen")
# What else is counted in turn.
_OTHERS: Final = (
    PARTS_OF_SHOW
    | BREAKS_SAID.keys()
    | folded_words(
        "set sets half halves time times verse chorus chord bar bars beat line page floor night day week dance act "
        "teil takt strophe refrain mal partie moitié fois couplet mesure parte mitad vez estrofa compás metà volta "
        "strofa deel helft keer couplet halva delen gången halvdel gang część połowa raz polovina půlka"
    )
)

_GERMAN: Final = {
    f"{stem}{ending}": number
    for number, stem in enumerate(
        ("erst", "zweit", "dritt", "viert", "funft", "sechst", "siebt", "acht", "neunt", "zehnt", "elft", "zwolft"),
        start=1,
    )
    for ending in ("e", "er", "es", "en", "em")
}
ORDINALS_IN_TURN: Final = {**ORDINALS_ABROAD, **_GERMAN, **ORDINALS}


class _Counted(NamedTuple):
    """One song by its place: the number, or 0 for the last; where its clause begins, its name begins and ends."""

    number: int
    begin: int
    at: int
    end: int


def counted_songs(lines: Sequence[ReplyLine], names: SongNames, notation: Notation) -> list[ReplyLine]:
    """Part lines that count at least three songs, and write each song as its number; other lines stay."""
    return [
        part for line in lines for part in ([line] if line.is_quoted or line.field else _parted(line, names, notation))
    ]


def _parted(line: ReplyLine, names: SongNames, notation: Notation) -> list[ReplyLine]:
    words = words_of(line.text)
    found = _in_turn(list(_all_counted(words)))
    rising = {one.number for one in found if one.number}
    if len(rising) < LEAST or max(rising) <= len(names.show.sets):
        return [line]
    ends = [*(one.begin for one in found[1:]), len(words)]
    clauses = [words[one.end : end] for one, end in zip(found, ends, strict=True)]
    if any(word.kind == CLOCK for clause in clauses for word in clause):
        return [line]
    if sum(_says_key(clause, notation) for clause in clauses) < max(LEAST, len(found) // 2):
        return [line]
    before = line.text[: words[found[0].begin].start].strip(" ,;")
    texts = [before] if before else []
    for one, end in zip(found, ends, strict=True):
        stop = words[end - 1].end if end < len(words) else len(line.text)
        name = str(one.number) if one.number else line.text[words[one.at].start : words[one.end - 1].end]
        rest = line.text[words[one.end - 1].end : stop].rstrip(" ,;")
        texts.append(f"{name}{rest}")
    return [line._replace(text=text) for text in texts]


def _in_turn(counted: Sequence[_Counted]) -> list[_Counted]:
    """Return the songs from the first one on whose numbers rise, each by one or two, and those named again."""
    found: list[_Counted] = []
    for one in counted:
        if not found:
            found = [one] if one.number == 1 else []
        elif one.number == 1:
            break  # of the next set
        elif one.number <= max(each.number for each in found) + 2:
            found.append(one)  # 0 is the last
    return found


def _all_counted(words: Sequence[ReplyWord]) -> Iterator[_Counted]:
    at = 0
    while at < len(words):
        if (one := _counted(words, at)) is not None:
            yield one
            at = one.end
        else:
            at += 1


def _counted(words: Sequence[ReplyWord], at: int) -> _Counted | None:
    """Read the song that an ordinal counts: the third, the third one's, la terza, 3rd, das dritte Lied."""
    said = _without_is(words, at)
    number = int(words[at].text) if words[at].is_ordinal else ORDINALS_IN_TURN.get(said, 0)
    if not number and said not in LASTS:
        return None
    end = at + 1
    if _without_is(words, end) in SONG_WORDS:
        end += 1
    after = low(words, end)
    is_several = end < len(words) and (words[end].kind == NUMBER or (after in COUNTED and end == at + 1))
    if is_several or after in _OTHERS or low(words, at + 1) in _OTHERS | ENCORES:
        return None
    name = at
    while name > 0 and words[name - 1].low in _ARTICLES:
        name -= 1
    has_article = name < at or "'" in words[at].text or "’" in words[at].text  # l'ultima
    is_apart = name == 0 or has_article or words[name - 1].kind == SIGN
    begin = name
    while begin > 0 and words[begin - 1].low in _JOINING:
        begin -= 1
    return _Counted(number, begin, name, end) if is_apart or begin < name else None


def _without_is(words: Sequence[ReplyWord], at: int) -> str:
    """Return a word without the "is" that is joined to it: the second's G, the third one's A."""
    said = words[at].text if at < len(words) else ""
    return folded(POSSESSIVE.sub("", said)) if POSSESSIVE.search(said) else low(words, at)


def _says_key(words: Sequence[ReplyWord], notation: Notation) -> bool:
    return any(not one.is_denied for one in said_keys(words, 0, min(len(words), _REACH), notation))
