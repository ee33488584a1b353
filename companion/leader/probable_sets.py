"""Which set a leader probably means where no name is said in full: the second, dancing, dinner music, druhá série."""

import operator
from collections.abc import Sequence
from typing import Final, NamedTuple

from companion.leader.event_words import OTHER_EVENTS, STARTING_SAID
from companion.leader.hour_words import folded_words, numbered_words
from companion.leader.reply_words import NUMBER, WORD, ReplyWord, low, phrase_of
from companion.leader.set_names import SetNames

# The first, the second ... in the languages of leaders; alone they name a set only beside a time.
ORDINALS_SAID: Final = numbered_words(
    "first 1st erste erster erstes ersten primer primero primera primo prima premier première primeiro "
    "primeira eerste første första ensimmäinen eka první prvý prvá prvé pierwszy pierwsza pierwsze pierwszego"
    " első prvi prva prvo cyntaf | "
    "second 2nd zweite zweiter zweites zweiten segundo segunda secondo seconda deuxième seconde second tweede"
    " anden andet andre andra toinen toka druhá druhý druhé druhej drugi druga drugie drugiego második drugo "
    "segon segona ail | "
    "third 3rd dritte dritter drittes dritten tercer tercero tercera terzo terza troisième terceiro terceira "
    "derde tredje kolmas třetí tretí tretia trzeci trzecia trzecie harmadik treći treća tretji tretja trydydd"
)
# What sets are for, in the languages of leaders: "dinner music" is the set "Cena".
_KINDS: Final = numbered_words(
    "dinner cena middag middagen večera večeře večeri obiad obiadu obiadem diner dîner abendessen essen "
    "jantar vacsora supper meal sopar illallinen mad cinio swper | "
    "dance dancing dances dans dansen danse dansant ples plesu baile bal ball tanz tanzen danza ballo tanec "
    "taniec tańce tánc tanssit tanssi dawns dansmusik tanzmusik danspasset | "
    "cocktail cocktails drinks reception receptie empfang sektempfang apero apéro apéritif aperitif aperitivo"
    " recepcja fogadás mingling mingel canapes | "
    "ceremony ceremonie cérémonie ceremonia trauung vielse vigsel obřad cerimonia cerimónia szertartás | "
    "encore encores zugabe zugaben toegift ekstranummer extranummer přídavek ráadás | "
    "service gottesdienst culte culto gudstjeneste gudstjänst kerkdienst oedfa | "
    "party evening abend soirée buli fest feest fiesta festa zábava impreza juhlat parti"
)
_COMMON: Final = folded_words(
    "set sets part parte partie teil half halves block round act série serie pase pass session music songs the and "
    "first second third after before late early main one two three"
)
# Words for a set after "first" and so on; any other single word may be one as well where a time follows.
SET_NOUNS: Final = folded_words(
    "set sets half part parte partie teil block blok spot slot stint session série serie pase pass passet danspasset "
    "setti rundn runde ronde round serija dio część kör blokk sæt sett omgang one lot bit go turn tura kolo vstup "
    "manga tanda actuación show dawns hanner rész avdeling avdelning afdeling"
)
# After an ordinal number: parts of a song, and what else is counted at a show.
_OF_MUSIC: Final = folded_words(
    "verse chorus bridge bar bars time times solo beat note line ending intro song tune number page car door floor "
    "strophe takt mal lied couplet refrain mesure fois morceau verso strofa ritornello estrofa estribillo compás vez "
    "refrein maat keer vers omkvæd refräng gång sloka zwrotka"
)
_AFTER_NAME: Final = ("set", "sets", "music", "songs", "spot", "session")
SHORTEST_STEM: Final = 4


class ProbableSet(NamedTuple):
    """The sets that words may mean, and where the words end. ``is_named``: by a name, not by an ordinal number."""

    places: tuple[int, ...]
    end: int
    is_named: bool = True


def probable_set(words: Sequence[ReplyWord], at: int, names: SetNames) -> ProbableSet | None:
    """Return the set that the words from here on may mean."""
    meant = names.meant(words, at)
    if meant is not None and meant.places:
        return ProbableSet(meant.places, meant.end)
    for found in (_by_ordinal(words, at, names), _lettered(words, at, names)):
        if found is not None:
            return found
    place = _by_word(words[at], names) if words[at].kind == WORD else None
    end = at + 1
    is_event = phrase_of(words, at, OTHER_EVENTS) > 0 and low(words, end) not in _AFTER_NAME
    if place is None or (is_event and not any(words[at].low in name.split() for name in names.names)):
        return None  # staff meal at 18:45, where a set is called Dinner
    while low(words, end) in _AFTER_NAME:
        end += 1
    return ProbableSet((place,), end)


def _by_ordinal(words: Sequence[ReplyWord], at: int, names: SetNames) -> ProbableSet | None:
    which, end = ORDINALS_SAID.get(words[at].low), at + 1
    if words[at].kind == NUMBER and len(words[at].text) == 1:
        is_tight = end < len(words) and words[end].start == words[at].end
        if words[at].is_ordinal:
            which = int(words[at].text)
        elif (
            is_tight
            and low(words, end) in ("e", "er", "a", "o", ".", "º", "ª", "°", "eme", "re")
            and (low(words, end + 1) in SET_NOUNS)
        ):
            which, end = int(words[at].text), end + 1
    place = names.numbered(which) if which else None
    if place is None or low(words, end) in _OF_MUSIC:
        return None
    return ProbableSet((place,), end + (low(words, end) in SET_NOUNS), is_named=False)


def _lettered(words: Sequence[ReplyWord], at: int, names: SetNames) -> ProbableSet | None:
    place = names.lettered(words, at)
    follows = words[at + 1].kind if at + 1 < len(words) else WORD
    return ProbableSet((place,), at + 1) if place is not None and follows != WORD else None


def _by_word(word: ReplyWord, names: SetNames) -> int | None:
    """Return the one set of which the name has this word, its stem, or a word for the same in another language."""
    if word.low in _COMMON or word.low in STARTING_SAID or len(word.low) < SHORTEST_STEM - 1:
        return None
    own = [[one for one in name.split() if one not in _COMMON] for name in names.names]
    for is_like in (operator.eq, _has_stem, _is_of_kind):
        found = [at for at, name in enumerate(own) if any(is_like(word.low, one) for one in name)]
        if len(found) == 1:
            return found[0]
    return None


def _has_stem(said: str, name: str) -> bool:
    """Return whether two words begin alike, up to an ending: dancing and dances, receptie and reception."""
    shorter = min(len(said), len(name))
    stem = max(SHORTEST_STEM, shorter - 2)
    return shorter >= SHORTEST_STEM and said[:stem] == name[:stem] and abs(len(said) - len(name)) <= SHORTEST_STEM


def _is_of_kind(said: str, name: str) -> bool:
    return said in _KINDS and _KINDS[said] == _KINDS.get(name)
