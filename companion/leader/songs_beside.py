"""Songs named by another one beside them, or from the end of a set: the two before the closer, the penultimate one."""

from collections.abc import Sequence
from typing import Final

from companion.leader.hour_words import HOURS, WEAK_HOURS, folded_phrases
from companion.leader.reply_words import COUNTED, NUMBER, ReplyWord, low, phrase_of, set_of
from companion.leader.songs_by_place import song_by_place
from companion.leader.songs_meant import SongNames, SongsMeant

_MAX_BESIDE: Final = 6  # songs
_ARTICLES: Final = set_of("the die das der den dem les le la las los el il lo i gli as os o a de het det")
_ONE: Final = set_of(
    "one song tune number lied stuck nummer song titel celle celui morceau chanson titre cancion tema canzone brano "
    "musica quella quello lat laten sang sangen nummeret utwor piosenka pisen skladba"
)
_BOTH: Final = set_of("beiden beide couple pair")
_NOUNS: Final = set_of(
    "ones songs tunes numbers lieder stucke titel morceaux chansons titres canciones temas canzoni brani latar "
    "latarna sange nummers liedjes"
)
_BEFORE: Final = folded_phrases(
    "before | right before | just before | ahead of | preceding | vor | direkt vor | avant | juste avant | antes de | "
    "antes da | antes do | antes del | prima di | prima della | prima del | före | innan | før | voor | przed | před"
)
_AFTER: Final = folded_phrases(
    "after | right after | just after | following | behind | nach | direkt nach | après | juste après | después de | "
    "después del | dopo | dopo la | dopo il | depois de | depois da | depois do | efter | etter | na | po"
)
_NEXT_TO_LAST: Final = folded_phrases(
    "penultimate | second to last | second - to - last | second last | next to last | last but one | one before last | "
    "one before the last | vorletzte | vorletzten | vorletztes | vorletzter | zweitletzte | avant dernier | "
    "avant dernière | avant - dernier | avant - dernière | avant-dernier | avant-dernière | penúltima | penúltimo | "
    "penultima | penultimo | näst sista | näst sist | næstsidste | næst sidste | nest siste | voorlaatste | "
    "op een na laatste | przedostatni | przedostatnia | przedostatnią | předposlední"
)
_THIRD_TO_LAST: Final = folded_phrases(
    "third to last | third - to - last | third last | last but two | drittletzte | drittletzten | antepenúltima | "
    "antepenúltimo | terzultima | terzultimo | op twee na laatste"
)


def song_placed(words: Sequence[ReplyWord], at: int, names: SongNames, within: int | None) -> SongsMeant | None:
    """Read songs by their own place, or by a song beside them."""
    return song_by_place(words, at, names, within) or songs_beside(words, at, names, within)


def songs_beside(words: Sequence[ReplyWord], at: int, names: SongNames, within: int | None) -> SongsMeant | None:
    """Read songs by one that is named after them, or by their place from the end of the set, or of the show."""
    begins = at + (low(words, at) in _ARTICLES)
    if begins >= len(words):
        return None
    return (
        _from_end(words, at, begins, names, within)
        or _beside(words, at, begins, names, within)
        or _with_record_key(words, at, begins, names, within)
    )


def _from_end(
    words: Sequence[ReplyWord], at: int, begins: int, names: SongNames, within: int | None
) -> SongsMeant | None:
    for back, said in ((2, _NEXT_TO_LAST), (3, _THIRD_TO_LAST)):
        if not (many := phrase_of(words, begins, said)):
            continue
        songs = names.in_set(within) if within is not None else list(range(len(names.songs)))
        if len(songs) < back or low(words, begins + many) in _OF_MUSIC:
            return None
        end = begins + many + (low(words, begins + many) in _ONE)
        is_unclear = within is None and len(names.sets) > 1
        text = " ".join(word.text for word in words[begins:end])
        return SongsMeant((songs[-back],), at, end, f"{text} of which set?" if is_unclear else "")
    return None


_OF_MUSIC: Final = set_of("verse chorus bar bars line beat time chord strophe takt refrain couplet estrofa strofa vers")


def _beside(
    words: Sequence[ReplyWord], at: int, begins: int, names: SongNames, within: int | None
) -> SongsMeant | None:
    said = words[begins].low
    many = 1 if said in _ONE else 2 if said in _BOTH else COUNTED.get(said, 0)
    many = many or (HOURS.get(said, 0) if begins > at and (said not in WEAK_HOURS or said in _TWOS) else 0)
    if words[begins].kind == NUMBER and begins > at:
        many = int(words[begins].text)
    side = begins + 1 + (low(words, begins + 1) in _ONE | _NOUNS)
    if not 0 < many <= _MAX_BESIDE or (many > 1 and begins == at) or side >= len(words):
        return None
    before, after = phrase_of(words, side, _BEFORE), phrase_of(words, side, _AFTER)
    other = side + max(before, after)
    if other == side or other >= len(words):
        return None
    named = other + (low(words, other) in _ARTICLES)
    found = [
        one
        for place in {other, named}
        if place < len(words)
        for one in (names.numbered(words, place, within), names.titled(words, place, haste=False))
        if one is not None and len(one.songs) == 1
    ]
    if not found:
        return None
    meant = max(found, key=lambda one: one.end)
    first = meant.songs[0] - many if before else meant.songs[0] + 1
    if first < 0 or first + many > len(names.songs):
        return None
    sets = {names.songs[one][0] for one in (first, first + many - 1, meant.songs[0])}
    text = " ".join(word.text for word in words[begins : meant.end])
    doubt = meant.doubt or (f"{text}, over the break?" if len(sets) > 1 else "")
    return SongsMeant((*range(first, first + many),), at, meant.end, doubt)


def _with_record_key(
    words: Sequence[ReplyWord], at: int, begins: int, names: SongNames, within: int | None
) -> SongsMeant | None:
    """Read "the two with a record key"; how many they are must be right."""
    many = COUNTED.get(words[begins].low, 0)
    side = begins + (bool(many) or words[begins].low in _ONE | _NOUNS | _THOSE)
    side += bool(many) and low(words, side) in _NOUNS
    end = side + phrase_of(words, side, _RECORD_KEY) if begins < side < len(words) else side
    if end == side:
        return None
    places = names.in_set(within) if within is not None else range(len(names.songs))
    songs = tuple(place for place in places if names.songs[place][2].record_key is not None)
    if not songs or (many or len(songs)) != len(songs):
        return None
    return SongsMeant(songs, at, end)


_THOSE: Final = set_of("those all everything any")
_RECORD_KEY: Final = folded_phrases(
    "with a record key | with record keys | with the record key | with a key from the record | "
    "that have a record key | which have a record key | where there is a record key | where you have a record key | "
    "that have record keys"
)
_TWOS: Final = set_of("dos dve dva dues due")
