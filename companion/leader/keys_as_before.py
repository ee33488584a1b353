"""Keys of which a reply also says that they are as before, or as the message has them: "2 G, as you have it"."""

from collections.abc import Iterator, Sequence
from typing import Final

from companion.leader.hour_words import folded_phrases, folded_words
from companion.leader.reply_items import KeyFact, ReplyItem, Separator, is_filler
from companion.leader.reply_words import SIGN, ReplyWord, phrase_of
from companion.leader.songs_meant import SongsMeant
from companion.leader.turns_of_phrase import AS_RECORD, FILLER, LAST, THE_LIST, TurnOfPhrase

_SAME: Final = folded_phrases(
    "same | the same | same key | same again | still the same | stays the same | remains the same | stays same | "
    "idem | ditto | unchanged | no change | as before | "
    "gleich | bleibt gleich | wie gehabt | wie immer | wie vorher | wie bisher | unverändert | dieselbe | pareil | "
    "pareille | comme avant | inchangé | inchangée | pas de changement | igual | lo mismo | la misma | como antes | "
    "como siempre | sin cambios | uguale | come prima | come sempre | lo stesso | la stessa | invariata | igual | "
    "a mesma | o mesmo | sem mudança | hetzelfde | dezelfde | zelfde | als voorheen | zoals altijd | ongewijzigd | "
    "samma | samma som förut | som förut | oförändrad | samme | som før | uændret | uforandret | bez zmian | "
    "tak samo | beze změny | stejná | stejně"
)


def keys_as_before(words: Sequence[ReplyWord], items: Sequence[ReplyItem]) -> list[ReplyItem]:
    """Take "as before" for words that mean nothing beside a key, which says it all."""
    items = _with_left(words, _with_same(words, items))
    return [
        one._replace(what=TurnOfPhrase(FILLER, one.end)) if _is_as_before(one) and _has_key(items, at) else one
        for at, one in enumerate(items)
    ]


def _with_left(words: Sequence[ReplyWord], items: Sequence[ReplyItem]) -> list[ReplyItem]:
    """Take the words before a key that leave a song in it for words that mean nothing: "10 leave it in D"."""
    kept = list(items)
    for key, one in enumerate(items):
        if not isinstance(one.what, KeyFact):
            continue
        begins = key
        while begins and _is_lone(words, items[begins - 1], _IN_IT):
            begins -= 1
        if begins and _is_lone(words, items[begins - 1], _LEAVING):
            for at in range(begins - 1, key):
                kept[at] = items[at]._replace(what=TurnOfPhrase(FILLER, items[at].end))
    return kept


def _is_lone(words: Sequence[ReplyWord], item: ReplyItem, among: frozenset[str]) -> bool:
    """Return whether an item is one of some words, or more of them, and states nothing."""
    said = [words[at].low for at in range(item.at, item.end)]
    return (item.what is None or isinstance(item.what, TurnOfPhrase)) and bool(said) and among.issuperset(said)


_LEAVING: Final = folded_words(
    "leave leaving left lass lasst lassen gelassen laisse laissez laissons deja dejad dejamos lascia lasciate lasciamo "
    "deixa deixem laat laten lad låt jätä zostaw zostawmy nech nechte nechme hagyd"
)
_IN_IT: Final = folded_words(
    "it that this one them as in at es sie das den in auf la le lo les dans en em no het die dat den det i w v"
)


def _with_same(words: Sequence[ReplyWord], items: Sequence[ReplyItem]) -> list[ReplyItem]:
    """Join "same" and the sign behind it to one filler, right between a song and its key: "10 same, D"."""
    kept: list[ReplyItem] = []
    at = 0
    while at < len(items):
        end = _end_of_same(words, items, at) if kept and isinstance(kept[-1].what, SongsMeant) else at
        if end > at:
            kept.append(ReplyItem(items[at].at, items[end - 1].end, TurnOfPhrase(FILLER, items[end - 1].end)))
            at = end
        else:
            kept.append(items[at])
            at += 1
    return kept


def _end_of_same(words: Sequence[ReplyWord], items: Sequence[ReplyItem], at: int) -> int:
    """Return the place of the key that follows "same" and at most one sign; ``at`` if it is not so."""
    begins = at
    while begins < len(items) and words[items[begins].at].kind == SIGN and is_filler(items[begins]):
        begins += 1  # 10: same, D
    first = items[begins].at if begins < len(items) else len(words)
    stop = first + (phrase_of(words, first, _SAME) if first < len(words) else 0)
    end = next((one for one in range(begins, len(items)) if items[one].at >= stop), len(items))
    is_whole = stop > first and items[end - 1].end == stop
    as_other = _end_of_other(words, items, begins)
    if as_other:
        is_whole, end = True, as_other
    if end < len(items) and words[items[end].at].kind == SIGN:
        end += 1
    return end if is_whole and end < len(items) and isinstance(items[end].what, KeyFact) else at


def _end_of_other(words: Sequence[ReplyWord], items: Sequence[ReplyItem], at: int) -> int:
    """Return the place behind a song that this one is like: "10 same as 3, G"; 0 if no song follows "same as"."""
    first = items[at].at if at < len(items) else len(words)
    stop = first + (phrase_of(words, first, _SAME_AS) if first < len(words) else 0)
    song = next((one for one in range(at, len(items)) if stop > first and items[one].at >= stop), len(items))
    song += song < len(items) and is_filler(items[song])  # same as the last one
    is_song = song < len(items) and isinstance(items[song].what, SongsMeant)
    is_parted = is_song and song + 1 < len(items) and words[items[song + 1].at].text in (",", "-", "–", "(", ":")
    return song + 1 if is_parted else 0


_SAME_AS: Final = folded_phrases(
    "same as | the same as | same key as | like | wie | genau wie | comme | pareil que | como | igual que | come | "
    "uguale a | als | net als | samma som | samme som | som | jak | jako"
)


def _is_as_before(item: ReplyItem) -> bool:
    what = item.what
    return isinstance(what, TurnOfPhrase) and what.kind == AS_RECORD and what.says in (LAST, THE_LIST)


def _has_key(items: Sequence[ReplyItem], at: int) -> bool:
    """Return whether a key stands in the same clause: before the next song, or after the last one."""
    return any(isinstance(one.what, KeyFact) for one in (*_near(items[at + 1 :]), *_near(reversed(items[:at]))))


def _near(items: Sequence[ReplyItem] | Iterator[ReplyItem]) -> Iterator[ReplyItem]:
    for one in items:
        if isinstance(one.what, SongsMeant) or (isinstance(one.what, Separator) and one.what.is_strong):
            return
        yield one
