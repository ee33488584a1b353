"""The keys of all songs from their records, where "keys" is the subject: "Keys from the recordings, please"."""

from collections.abc import Sequence
from typing import Final

from companion.leader.hour_words import folded_words
from companion.leader.phrase_lists import RECORDS
from companion.leader.reply_lines import ReplyLine
from companion.leader.reply_words import NUMBER, SIGN, ReplyWord, low, phrase_of, set_of, words_of
from companion.leader.songs_meant import SongNames

_KEYS: Final = folded_words(
    "keys tonarten tonalités tonos tonalidades tonalità toonsoorten tonarter tonarterna tonacje tóniny"
)
# What takes a key from a record; "like" and "as" may be about how the keyboard is played.
_FROM: Final = set_of("from off of per aus von de des du da dai dalle del dal van fran fra z ze")
_LIKE: Final = set_of("as like on wie auf comme sur como en come su sui zoals op som pa jak na")
_PLAIN: Final = set_of(
    "the den dem das der het all i we you your to take taken use learn trust get please straight just are those "
    "these them is my our same is can will ll alle die bitte nehmen nimm "
    "sind les toutes prendre prenez prends sont las los todos todas "
    "le tutte i prendi de alla alle neem ta tag och so ok okay right well"
)
_EXCEPT: Final = set_of("but except apart bar aber ausser mais sauf pero salvo menos ma tranne maar behalve men utom")
MAX_WORDS: Final = 14  # of such a clause


def keys_of_record(lines: Sequence[ReplyLine], names: SongNames) -> list[ReplyLine]:
    """Say of everything that it is as on the record, where a clause says so of the keys and names no song."""
    return [line if line.is_quoted else line._replace(text=_reworded(line.text, names)) for line in lines]


def _reworded(text: str, names: SongNames) -> str:
    words = words_of(text)
    begin = 0
    for at in range(len(words) + 1):
        if at < len(words) and not (words[at].text in (".", ",", ";", "!", "–", "—") or words[at].low in _EXCEPT):
            continue
        if says := _says(words, begin, at, names):
            last = words[at - 1].end
            return f"{text[: words[begin].start]}{says}{text[last:]}"
        begin = at + 1
    return text


def _says(words: Sequence[ReplyWord], begin: int, end: int, names: SongNames) -> str:
    """Return what a clause says in plainer words; "" if it says more or something else."""
    clause = words[begin:end]
    named = next((at for at in range(begin, end) if words[at].low in _KEYS), -1)
    if not 0 < len(clause) <= MAX_WORDS or named < 0 or any(word.kind == NUMBER for word in clause):
        return ""
    record = next((at for at in range(named + 1, end) if phrase_of(words, at, RECORDS)), -1)
    if record < 0:
        return ""
    ends = record + phrase_of(words, record, RECORDS)
    others = [word for at, word in enumerate(clause, begin) if at != named and not record <= at < ends]
    if any(word.kind != SIGN and word.low not in _PLAIN | _FROM | _LIKE for word in others):
        return ""
    if any(word.low not in _PLAIN for word in words[begin:named]):
        return ""  # I like the keys on the record
    if any(names.titled(words, at, haste=False) for at in range(begin, end)):
        return ""
    between = [low(words, at) for at in range(named + 1, record)]
    is_from = any(word in _FROM for word in between)
    if not is_from and not any(word in _LIKE for word in between):
        return ""
    is_whole = named > begin and low(words, named - 1) in ("all", "the", "alle", "die", "les", "las", "los", "le")
    return f"{'' if is_from or is_whole else 'i think '}everything as on the record"
