"""Words that join songs or point to the next: la 4 et la 10, Moth and the Tango, no chart for 2 or 5, next two."""

from typing import Final

from companion.leader.parting_signs import states_fact
from companion.leader.reply_items import ReplyItem
from companion.leader.reply_words import NUMBER, ReplyWord, counted, low, set_of
from companion.leader.songs_meant import SongNames, SongsMeant


def foreign_and(words: list[ReplyWord], at: int, before: list[ReplyItem]) -> int:
    """Return the end of "and" in another language before a number: 3 en la y 5 en mi, la 4 et la 10; 0 elsewhere."""
    after_song = bool(before) and isinstance(before[-1].what, SongsMeant)
    is_counted = low(words, at + 1) in _THE and at + 2 < len(words) and words[at + 2].kind == NUMBER
    if after_song and is_counted and words[at].low in _AND:
        return at + 2
    is_number = at + 1 < len(words) and words[at + 1].kind == NUMBER
    is_dutch = words[at].text == "en" and bool(before) and isinstance(before[-1].what, SongsMeant)
    is_italian = words[at].text == "e" and (states_fact(before) or low(words, at + 2) in _OF_LISTS)  # 1 e 2 in Sol
    is_and = words[at].text == "y" or is_dutch or is_italian
    return at + 1 if is_number and before and is_and else 0


def stands_before_title(words: list[ReplyWord], at: int, before: list[ReplyItem]) -> bool:
    """Return whether "and the" stands here, right after a song."""
    is_and_the = words[at].low in (*_AND, "and", "&", "en") and low(words, at + 1) in ("the", *_THE)
    return is_and_the and at + 2 < len(words) and bool(before) and isinstance(before[-1].what, SongsMeant)


def end_of_and(words: list[ReplyWord], at: int, before: list[ReplyItem], names: SongNames) -> int:
    """Return the end of an "and" that joins two songs: la 4 et la 10, Moth and the Tango, Moth y Tango; 0 elsewhere."""
    if end := foreign_and(words, at, before):
        return end
    if stands_before_title(words, at, before) and names.titled(words, at + 2, haste=False):
        return at + 2
    is_and = words[at].text in _BETWEEN_TITLES and bool(before) and isinstance(before[-1].what, SongsMeant)
    title = names.titled(words, at + 1, haste=False) if is_and and at + 1 < len(words) else None
    return at + 1 if title and not _is_key(words, at, title.end) else 0


def _is_key(words: list[ReplyWord], at: int, end: int) -> bool:
    """Return whether the "e" of Italian or the "a" of Czech is a key: no "in" stands after the title that ends there.

    A small letter as the key of that title shows that keys are typed so: moth e tango in g.
    """
    end += low(words, end) == ","
    key = words[end + 1].text if end + 1 < len(words) else ""
    is_and = low(words, end) in _IN_BESIDE.get(words[at].text, ()) and (len(key) > 1 or not key.islower())
    return words[at].text in _IN_BESIDE and not is_and


_BETWEEN_TITLES: Final = ("y", "en", "i", "e", "a", "ja", "és", "oraz")
_IN_BESIDE: Final = {
    "e": ("in", "em", "sono", "sao", "entrambe", "entrambi", "ambas", "ambos"),
    "a": ("v", "ve", "jsou"),
}
_AND: Final = ("et", "y", "e", "und", "og", "och")
_THE: Final = set_of("la le el il die das les las los den det")
_OF_LISTS: Final = ("in", "em", "en", "sono", "le", "li", "as", "os", ",")


def is_verb_of_song(words: list[ReplyWord], at: int, before: list[ReplyItem]) -> bool:
    """Return whether a verb stands right after a song, where a title may have that word: Moth staat in A."""
    return low(words, at) in _COPULAS and bool(before) and isinstance(before[-1].what, SongsMeant)


_COPULAS: Final = set_of(
    "is are was goes going sits lives stays comes starts ends staat staan steht stehen star stands gaat geht gar va "
    "vai ligt liegt ligger blijft bleibt blir bliver est er ar reste suona sta rimane esta queda sigue fica je jest"
)


def is_denied_list(words: list[ReplyWord], at: int) -> bool:
    """Return whether "or" stands between two numbers after a "no": no chart for 2 or 5."""
    has_number = 0 < at < len(words) - 1 and words[at - 1].kind == words[at + 1].kind == NUMBER
    return has_number and any(word.low in ("no", "not", "dont", "never") for word in words[:at])


def next_few(words: list[ReplyWord], at: int) -> tuple[int, int] | None:
    """Read "next two" or "the following 3 songs": how many, and how many words it takes."""
    begins = at + (low(words, at) == "the")
    if low(words, begins) not in ("next", "following") or begins + 1 >= len(words):
        return None
    number = counted(words, begins + 1)
    if number is None or not 1 < number[0] <= MAX_NEXT:
        return None
    end = begins + 1 + number[1]
    return number[0], end + (low(words, end) in ("songs", "tunes", "numbers", "ones")) - at


MAX_NEXT: Final = 8  # songs
