"""Words that join songs or point to the next: la 4 et la 10, Moth and the Tango, no chart for 2 or 5, next two."""

from typing import Final

from companion.leader.hour_words import HOURS, folded_phrases, folded_words
from companion.leader.key_words import CAPITAL
from companion.leader.numbers_meant import UNITS
from companion.leader.parting_signs import states_fact
from companion.leader.reply_items import ReplyItem
from companion.leader.reply_words import NUMBER, ReplyWord, counted, low, phrase_of, set_of
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
    if title and _is_key_in_front(words, at + 1, title, names):
        return 0
    return at + 1 if title and not _is_key(words, at, title.end) else 0


def _is_key_in_front(words: list[ReplyWord], at: int, title: SongsMeant, names: SongNames) -> bool:
    """Return whether a key in a capital letter stands before a title that does not begin so: lyktan i A valsen i D."""
    begins = any(names.titles[song].split()[0] == words[at].low for song in title.songs)
    return CAPITAL.match(words[at].text) is not None and not begins


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


def next_named(
    words: list[ReplyWord], at: int, before: list[ReplyItem], spoken_of: int, total: int
) -> SongsMeant | None:
    """Read "the one after that", the song after the one that is named last, with a doubt; or "those three".

    ``spoken_of``: the place of the song that the lines above spoke of last, or -1; ``total``: how many songs there are.
    """
    if (those := _those_named(words, at, before)) is not None:
        return those
    many, count = phrase_of(words, at, _NEXT_ONE), 1
    if not many and (several := _next_few(words, at)):
        count, many = several
    if not many:
        return None
    named = [song for item in before if isinstance(item.what, SongsMeant) for song in item.what.songs[-1:]]
    place = (named[-1] if named else spoken_of) + 1
    if not 0 < place <= total - count or (not named and spoken_of < 0):
        return None
    said = " ".join(word.text for word in words[at : at + many])
    doubt = f"which song is {said}?" if count == 1 else _WHICH_SONGS.format(said)
    return SongsMeant((*range(place, place + count),), at, at + many, doubt)


_NEXT_ONE: Final = folded_phrases(
    "the next one | the next song | the one after | the one after that | the one after it | the following one | "
    "next one | next song | the song after | the song after that"
)


def _next_few(words: list[ReplyWord], at: int) -> tuple[int, int] | None:
    """Read "next two", "the following 3 songs" or "the two after that": how many, and how many words it takes."""
    begins = at + (low(words, at) in _ARTICLES_OF_NEXT)
    is_before = low(words, begins) in _NEXT
    begins += is_before
    many = _many(words, begins)
    if many is None:
        return None
    number, end = many
    end += low(words, end) in _SONGS
    is_behind = low(words, end) in _NEXT and begins > at
    end += is_behind
    end += low(words, end) in _SONGS
    after = phrase_of(words, end, _AFTER_THAT)
    is_behind = is_behind or (after > 0 and begins > at)
    return (number, end + after - at) if is_before or is_behind else None


def _those_named(words: list[ReplyWord], at: int, before: list[ReplyItem]) -> SongsMeant | None:
    """Read "those three" as the last three songs that the line names, in doubt if it names more of them."""
    many = _many(words, at + 1) if low(words, at) in _THOSE else None
    meant = [item.what for item in before if isinstance(item.what, SongsMeant)]
    songs = list(dict.fromkeys(song for one in meant for song in one.songs))
    if many is None or len(songs) < many[0] or any(one.sets for one in meant) or low(words, many[1]) in UNITS:
        return None
    number, end = many
    end += low(words, end) in _SONGS
    end += low(words, end) == "all"
    said = " ".join(word.text for word in words[at:end])
    return SongsMeant(tuple(songs[-number:]), at, end, _WHICH_SONGS.format(said) if len(songs) > number else "")


_WHICH_SONGS: Final = "which songs are {}?"
_THOSE: Final = set_of("those these diese ces estas estos esas esos queste questi estes essas deze dessa disse")


def _many(words: list[ReplyWord], at: int) -> tuple[int, int] | None:
    """Read how many songs follow, and where that ends."""
    if at >= len(words):
        return None
    number, end = counted(words, at) or (HOURS.get(low(words, at), 0), 1)
    return (number, at + end) if 1 < number <= MAX_NEXT else None


_ARTICLES_OF_NEXT: Final = set_of("the die les las los le gli i de os as den")
_NEXT: Final = folded_words(
    "next following nächsten folgenden nächste prochains prochaines suivants suivantes siguientes próximas próximos "
    "seguintes prossimi prossime successivi successive seguenti volgende nästa följande næste neste następne další"
)
_SONGS: Final = folded_words(
    "songs tunes numbers ones songs lieder stücke titel morceaux titres chansons canciones temas canzoni brani músicas "
    "nummers liedjes låtar låtarna sange sanger låter utwory piosenki písničky skladby"
)
_AFTER_THAT: Final = folded_phrases(
    "after that | after those | after it | after them | danach | darauf | après ça | después | dopo | daarna"
)
MAX_NEXT: Final = 8  # songs
