"""Songs by their place, as other languages say it: nummer twee, la siete, sista låten, l'ultima, die letzte Zugabe."""

from collections.abc import Sequence
from typing import Final

from companion.leader.hour_words import HOURS, folded_words
from companion.leader.key_joins import TOO
from companion.leader.key_words import LETTER, SOLFEGE
from companion.leader.numbers_meant import is_set_with_time
from companion.leader.reply_words import COUNTED, NUMBER, SIGN, ReplyWord, low, set_of
from companion.leader.set_names import ENCORES
from companion.leader.songs_meant import SongNames, SongsMeant

CALLED_ABROAD: Final = folded_words(
    "nummer number numero número nº numéro numer číslo cislo broj nro numere szám nr chanson morceau titre canción "
    "tema canzone brano pezzo música låt låten sang song lied liedje utwór piosenka píseň skladba kappale biisi"
)
SONG_WORDS: Final = folded_words(
    "song tune number one nummer stück lied titel zugabe morceau titre chanson rappel canción tema pieza número bis "
    "canzone brano pezzo numero música låten låt numret nummret sangen sang nummeret melodien liedje toegift utwór "
    "piosenka kawałek numer píseň písnička skladba pjesma pesem kappale biisi"
)
LASTS: Final = folded_words(
    "last letzte letzter letztes letzten dernier dernière última último ultimo ultima lultima lultimo sista sidste "
    "siste laatste ostatni ostatnia ostatnią ostatnim poslední posledná posledni zadnja viimeinen"
)
_FIRSTS: Final = folded_words(
    "first erste erster erstes ersten premier première primera primero primer prima primo första første eerste "
    "pierwszy pierwsza první prva ensimmäinen"
)
# After these an ordinal number alone is a song: the second is in G, la segunda va en sol, l'ultima rallenta.
_SAYS_MORE: Final = folded_words(
    "is in ist est es è é är er jest je an en em va la lo on wird geht går begint inizia empieza começa finisce acaba "
    "endet slutar slutter fade fades rallenta finit termina wir we vi on si se ends starts börjar begynder begynner "
    "rallentando vai na ha har hat has we we're he she they he's spielen machen "
    "wie comme come como som zoals jak jako like as w we v ve zaczyna kończy wypada gramy teraz "
    "maintenant ahora agora adesso nu nå on c'est ça se démarre commence attaque passe reste joue "
    "arranca toca queda parte comincia attacca resta rimane começa fica fängt beginnt startet stopt eindigt begint "
    "gaat blijft klinkt"
)
_SWEDISH: Final = {
    word: number
    for number, words in enumerate(
        (
            "ettan", "tvåan", "trean", "fyran", "femman", "sexan", "sjuan", "åttan", "nian", "tian", "elvan",
            "tolvan", "trettonet",
        ),
        start=1,
    )
    for word in folded_words(words)
}  # fmt: skip
ARTICLES_OF_PLACE: Final = set_of("la el il lo le die der das de het a o i den")
_NUMBER_AFTER_ARTICLE: Final = {
    word: number
    for number, words in enumerate(
        (
            "uno una un une um jeden", "dos due dois duas deux dwa zwei twee",
            "tres tre três trois trzy drei drie",
            "cuatro quattro quatro quatre cztery vier",
            "cinco cinque cinq pięć fünf vijf", "seis sei six sześć sechs zes",
            "siete sette sete sept siedem sieben zeven", "ocho otto oito huit osiem acht",
            "nueve nove neuf dziewięć neun negen",
            "diez dieci dez dix dziesięć zehn tien", "once undici onze elf", "doce dodici doze douze zwölf twaalf",
            "trece tredici treze treize dreizehn dertien",
            "catorce quattordici quatorze vierzehn veertien", "quince quindici quinze fünfzehn vijftien",
            "dieciséis sedici dezasseis seize sechzehn zestien",
        ),
        start=1,
    )
    for word in folded_words(words)
}  # fmt: skip
ORDINALS_ABROAD: Final = {
    word: number
    for number, words in enumerate(
        (
            (
                "erste erster erstes ersten premier premiere primera primero prima primo forsta forste eerste "
                "pierwszy pierwsza prvni prva"
            ),
            (
                "second zweite zweites zweiten zweiter deuxieme segunda segundo seconda secondo andra anden andre "
                "tweede drugi druga druhy"
            ),
            (
                "third dritte drittes dritten troisieme tercera tercero terza terzo tredje derde trzeci trzecia "
                "treti terceira terceiro"
            ),
            (
                "fourth vierte viertes vierten quatrieme cuarta cuarto quarta quarto fjarde fjerde vierde czwarty "
                "czwarta ctvrty ctvrta"
            ),
            "fifth fünfte fünftes fünften cinquieme quinta quinto femte vijfde piaty piata paty pata",
            "sixth sechste sechstes sechsten sixieme sexta sexto sesta sesto sjatte zesde szosty szosta sesty",
            (
                "seventh siebte siebtes siebten septieme septima septimo settima settimo sjunde zevende siodmy "
                "siodma sedmy"
            ),
            "eighth achte achtes achten huitieme octava octavo ottava ottavo attonde achtste osmy osma",
            "ninth neunte neuntes neunten neuvieme novena noveno nona nono nionde negende dziewiaty dziewiata devaty",
            "tenth zehnte zehntes zehnten dixieme decima decimo tionde tiende dziesiaty dziesiata desaty",
        ),
        start=1,
    )
    for word in folded_words(words)
}


def song_by_place(words: Sequence[ReplyWord], at: int, names: SongNames, within: int | None) -> SongsMeant | None:
    """Read a song by its number or its place, in the languages of leaders."""
    return _numbered(words, at, names, within) or _first_or_last(words, at, names, within)


def _numbered(words: Sequence[ReplyWord], at: int, names: SongNames, within: int | None) -> SongsMeant | None:
    said, after = words[at].low, low(words, at + 1)
    number, end = 0, at + 1
    if said in CALLED_ABROAD and after in HOURS.keys() | COUNTED.keys() | _NUMBER_AFTER_ARTICLE.keys():
        number, end = HOURS.get(after) or COUNTED.get(after) or _NUMBER_AFTER_ARTICLE[after], at + 2
    elif said in _SWEDISH:
        number = _SWEDISH[said]
    elif said in ARTICLES_OF_PLACE and after in _NUMBER_AFTER_ARTICLE and _says_more(words, at + 2):
        number, end = _NUMBER_AFTER_ARTICLE[after], at + 2
    elif said in ORDINALS_ABROAD and after in SONG_WORDS:
        number, end = ORDINALS_ABROAD[said], at + 2
    elif said in ORDINALS_ABROAD and _begins_clause(words, at) and _says_more(words, at + 1):
        number = ORDINALS_ABROAD[said]
    if not number:
        return None
    song, doubt = names.number(number, within)
    if song is None:
        return None
    return SongsMeant((song,), at, end, doubt)


def _first_or_last(words: Sequence[ReplyWord], at: int, names: SongNames, within: int | None) -> SongsMeant | None:
    """Read the last song of the set that is spoken of, or of the show; the first only of the encores."""
    said, after = words[at].low, low(words, at + 1)
    is_last = said in LASTS
    if not (is_last or said in _FIRSTS):
        return None
    encores = [one for one, name in enumerate(names.sets) if name.split()[0] in ENCORES]
    if after in ENCORES and encores:
        songs = names.in_set(encores[-1])
        return SongsMeant((songs[-1 if is_last else 0],), at, at + 2) if songs else None
    is_bare = said == "last" and low(words, at - 1) == ","  # Hat: Dm, head twice, last A as ending
    is_alone = _begins_clause(words, at) and _says_more(words, at + 1) and not is_bare
    if not is_last or not (after in SONG_WORDS or is_alone) or is_set_with_time(words, at + 2):
        return None
    of_set = within if within is not None else _set_before(words, at, names)
    songs = names.in_set(of_set) if of_set is not None else list(range(len(names.songs)))
    return SongsMeant((songs[-1],), at, at + 1 + (after in SONG_WORDS)) if songs else None


def _set_before(words: Sequence[ReplyWord], at: int, names: SongNames) -> int | None:
    """Return the set that is named right before a place in it: from the second set the last one."""
    while at > 0 and (words[at - 1].low in ARTICLES_OF_PLACE | {"the"} or words[at - 1].text == ","):
        at -= 1
    for begin in range(max(at - MOST_OF_SET, 0), at):
        meant = names.set_meant(words, begin)
        if meant is not None and meant.end == at and len(meant.sets) == 1:
            return meant.sets[0]
    return None


MOST_OF_SET: Final = 3  # words of a set's name


def _begins_clause(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a clause begins with a word, after an article and "and"."""
    first = at
    while first > 0 and words[first - 1].low in ARTICLES_OF_PLACE | _JOINING:
        first -= 1
    return first == 0 or words[first - 1].kind == SIGN or (at - first > 1 and words[first].low in _JOINING)


_JOINING: Final = set_of("and und et y e en och og i a then dann puis poi luego the les")


def _says_more(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether what follows may be said of a song: a key, a verb, a comma."""
    if at >= len(words):
        return False
    at += words[at].low in TOO and at + 1 < len(words)  # letztes auch D
    follows = words[at]
    is_key = LETTER.match(follows.text) is not None or follows.low in SOLFEGE
    return is_key or follows.low in _SAYS_MORE or follows.text in (",", ":", "=", "-", "–") or follows.kind == NUMBER
