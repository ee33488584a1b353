"""Words that say how a song is otherwise than on its record, or than last time: not E like the album, anders als sonst.

They state the record's key, or are a note as they stand: read in part, they would say the opposite.
"""

from collections.abc import Callable, Iterator, Sequence
from typing import Final, NamedTuple

from companion.leader.hour_words import folded_phrases, folded_words
from companion.leader.numbers_meant import CALLED
from companion.leader.phrase_lists import AS, AS_SHOWN, DONT_KNOW, HEDGES, LAST_TIME, NOTS, RECORDS
from companion.leader.reply_items import KeyFact, ReplyItem
from companion.leader.reply_words import COUNTED, SIGN, WORD, ReplyWord, low, phrase_of
from companion.leader.stated_fact import StatedFact

UNLIKE: Final = "unlike"  # the field of these words, which go into the notes
RECORD_KEY: Final = "record_key"
OF_ONE_SONG: Final = (UNLIKE, RECORD_KEY)  # said of all songs, it is no note of each
MOST_BETWEEN: Final = 4  # words between "not" and "like": don't play it like
_DENYING: Final = (NOTS - {"if", "unless", "without", "avoid"}) | folded_words(
    "não non niet ikke inte ikkje nie ne ei nem geen ingen"
)
_OTHERWISE: Final = folded_phrases(
    "a change from | changed from | a departure from | differs from | differing from | not taken from | "
    "eine änderung gegenüber | eine abweichung von | weicht ab von | un changement par rapport à | "
    "un changement par rapport au | un cambio respecto a | un cambio respecto al | un cambiamento rispetto a | "
    "un cambiamento rispetto al | uma mudança em relação a | uma mudança em relação ao | "
    "een verandering ten opzichte van | "
    "en ändring från | en ændring fra | en endring fra | "
    "unlike | different from | different to | different than | differently from | differently to | anders als | "
    "im gegensatz zu | contrairement à | contrairement au | différent de | différemment de | a diferencia de | "
    "a diferencia del | diferente de | diferente del | distinto de | distinto del | a differenza di | "
    "a differenza del | a differenza della | diverso da | diversamente da | ao contrário de | ao contrário do | "
    "diferente do | anders dan | in tegenstelling tot | till skillnad från | annorlunda än | til forskel fra | "
    "i modsætning til | i motsetning til | anderledes end | annerledes enn | inaczej niż | jinak než | "
    "drugače kot | drugačije nego | drukčije nego | toisin kuin | eri tavalla kuin | másképp mint"
)
_REPLACING: Final = folded_phrases(
    "instead of | rather than | statt | anstatt | au lieu de | en vez de | en lugar de | invece di | invece che | "
    "em vez de | in plaats van | i stället för | i stedet for | zamiast | místo | umjesto | namesto"
)
_PAST: Final = folded_phrases(
    "last time | last year | last gig | last week | usual | usually | always | before | we used to | "
    "we normally do | normal | letztes mal | letzten mal | letztes jahr | letzte mal | beim letzten mal | sonst | "
    "früher | immer | la dernière fois | d'habitude | avant | la última vez | el año pasado | siempre | antes | "
    "l'ultima volta | ultima volta | di solito | sempre | prima | da última vez | vorige keer | altijd | vroeger | "
    "förra gången | senast | alltid | förut | vanligt | sidste gang | sidst | altid | forrige gang | sist | alltid | "
    "før | ostatnio | zawsze | minule | vždycky | viimeksi | aina | múltkor | prošli put | zadnjič"
)
_LINKS: Final = folded_words(
    "the a our on in of it is its it's they for at der die das dem den auf im in von le la les l' sur du de dans "
    "el los en del il lo sul nel dal da o os no na do op het i på den det na w en a az"
)
_AFTER: Final = folded_words("version key one is was does did goes has anymore fassung versión versione versão versie")
_OF_KEY: Final = folded_words("key tonart tonalité tonalidad tonalità tonalidade toonsoort toneart tonacja tónina")
# A thought or a wish to leave it denies nothing: don't think it's like, don't change it as on the record.
_NO_DENIAL: Final = folded_words(
    "think know believe remember mind care reckon sure idea clue worry change alter touch bother hear have wait"
)


_THAT_IS: Final = folded_phrases(
    "that is | that's | thats | this is | it is | it's | its | which is | so it's | das ist | was | es ist | c'est | "
    "ce n'est | ce qui est | ce qui n'est | eso es | que es | es | questo è | che è | è | dat is | det är | det er | "
    "som är | som er | isso é | to jest | to je"
)


class UnlikeRecord(NamedTuple):
    """Where such words begin and end; ``key`` is the key that they deny, ``of_record`` if it is the record's."""

    at: int
    end: int
    key: str
    of_record: bool


def unlike_record(
    words: Sequence[ReplyWord], key_in: Callable[[Sequence[ReplyWord], int], tuple[str, int] | None]
) -> Iterator[UnlikeRecord]:
    """Yield what a line says so. ``key_in`` reads a key from a place of words: its name, and where its words end."""
    at = 0
    while at < len(words):
        leads = phrase_of(words, at, _THAT_IS) if at and words[at - 1].kind == SIGN else 0
        found = _unlike(words, at + leads, key_in) if at + leads < len(words) else None
        if found is not None:
            found = found._replace(at=at) if not found.key else found
            yield found
        at = found.end if found is not None else at + 1


def _unlike(
    words: Sequence[ReplyWord], at: int, key_in: Callable[[Sequence[ReplyWord], int], tuple[str, int] | None]
) -> UnlikeRecord | None:
    if told := _told(words, at, key_in):
        return told
    if many := phrase_of(words, at, _OTHERWISE):
        end, of_record = _named(words, at + many)
        return UnlikeRecord(at, end, "", of_record) if end else None
    replaces = phrase_of(words, at, _REPLACING)
    if not replaces and (low(words, at) not in _DENYING or phrase_of(words, at, DONT_KNOW)):
        return None
    if phrase_of(words, at, HEDGES):
        return None
    begins = at + max(replaces, 1)
    for likens in range(begins, min(begins + MOST_BETWEEN, len(words) - 1) + 1):
        end, of_record = _likened(words, likens, is_first=likens == begins, denying=low(words, at))
        if end and low(words, end) != "?":
            key = next(
                (
                    found[0]
                    for place in range(begins, likens)
                    if (found := key_in(words[:likens], place)) is not None and found[1] == likens
                ),
                "",
            )
            is_same = low(words, likens) in _SAME and key
            return None if (replaces and not key) or is_same else UnlikeRecord(at, end, key, of_record)
        between = words[likens] if likens < len(words) else None
        if between is None or between.kind != WORD or between.low in _NO_DENIAL | CALLED or between.low in COUNTED:
            return None  # 5 doen we niet nummer 6 zoals op de plaat
    return None


def _told(
    words: Sequence[ReplyWord], at: int, key_in: Callable[[Sequence[ReplyWord], int], tuple[str, int] | None]
) -> UnlikeRecord | None:
    """Read the record's key where a clause says only that: (the record is in E); the record is in E but we do D."""
    begins = at
    while low(words, begins) in _LINKS or low(words, begins) == "on":
        begins += 1
    many = phrase_of(words, begins, RECORDS)
    if not many or not at:
        return None
    says = begins + many
    while low(words, says) in _SAYING:
        says += 1
    key = key_in(words, says) if begins + many < says < len(words) else None
    is_but = key is not None and low(words, key[1]) in _BUT  # the record is in E but we do D
    ends = key is not None and (key[1] >= len(words) or words[key[1]].kind == SIGN) and words[at - 1].kind == SIGN
    ends = ends or is_but
    return UnlikeRecord(at, key[1], key[0], of_record=True) if key and ends else None


_BUT: Final = folded_words("but aber mais pero ma maar men mas ale")
_SAYING: Final = folded_words("is in it's its was ist war est en es era è e está em är i er jest w je : =") - {"e"}
_COMING_FROM: Final = frozenset({"from", "off", "following"})  # up a tone from the record
_SAME: Final = folded_words("same identical igual pareil zelfde")


def _likened(words: Sequence[ReplyWord], at: int, *, is_first: bool, denying: str) -> tuple[int, bool]:
    """Return where "like the record" or "like last time" ends, and whether it names the record; 0 elsewhere."""
    if is_first and denying == "no" and low(words, at) in ("as", "like", "same"):
        return 0, False  # no, like the record
    if is_first and low(words, at) in ("the", "die", "la", "il", "den") and (many := phrase_of(words, at + 1, RECORDS)):
        end = at + 1 + many
        is_key = low(words, end) in _OF_KEY or low(words, end - 1) in _OF_KEY
        return (end + (low(words, end) in _OF_KEY), True) if is_key else (0, False)
    if low(words, at) not in _COMING_FROM and (many := phrase_of(words, at, AS)):
        end, of_record = _named(words, at + many)
        if end:
            return end, of_record
    many = max(phrase_of(words, at, LAST_TIME), phrase_of(words, at, AS_SHOWN))
    return (at + many, False) if many > 1 else (0, False)


def _named(words: Sequence[ReplyWord], at: int) -> tuple[int, bool]:
    """Return where the name of the record or of a time before ends, and whether it is the record; 0 for neither."""
    for begins in range(at, at + 4):
        if many := phrase_of(words, begins, RECORDS):
            end = begins + many
            return end + (low(words, end) in _AFTER), True
        if many := phrase_of(words, begins, _PAST):
            ends = begins + many >= len(words) or words[begins + many].kind != WORD  # not: before the chorus
            return (begins + many, False) if ends else (0, False)
        if low(words, begins) not in _LINKS and low(words, begins) not in ("'", "’"):
            return 0, False
    return 0, False


def with_unlike(before: list[ReplyItem], said: UnlikeRecord, words: Sequence[ReplyWord], text: str) -> list[ReplyItem]:
    """Return the items with these words: the record's key or a note. A key right before them replaces theirs."""
    if said.of_record and said.key:
        fact = StatedFact(RECORD_KEY, said.key, said.end)
    else:
        fact = StatedFact(UNLIKE, text[words[said.at].start : words[said.end - 1].end], said.end)
    item = ReplyItem(said.at, said.end, fact)
    if said.key and before and isinstance(key := before[-1].what, KeyFact) and not key.denied:
        return [*before[:-1], before[-1]._replace(what=key._replace(denied=said.key)), item]
    return [*before, item]
