"""Words of hours, minutes and lengths in the languages of leaders, folded, by the number that they mean."""

from typing import Final

from companion.leader.reply_words import Phrases, phrases_by_first_word, set_of
from companion.show.titles import folded

# Hour by hour: Germanic, Romance, Slavic (Polish hours are ordinals), Finnish, Hungarian, Welsh.
_HOURS: Final = (
    "one duna eins een et ett une una uno uma pierwsza pierwszej jedna jedne jednej jedno jedan ena eno yksi "
    "yhdeltä yhteen egy | "
    "two zwei twee to två deux dos due duas duae dues druga drugiej druhe druhej dve dva dveh kaksi kahdelta "
    "kahteen kettő | "
    "three drei drie tre trois tres trzecia trzeciej tri treti tretej treh kolme kolmelta kolmeen három tři | "
    "four vier fyra fire quatre cuatro quattro quatro czwarta czwartej čtyři čtvrté štyri štvrtej četiri "
    "štiri štirih neljä neljältä neljään négy pedwar | "
    "five fünf vijf fem cinq cinco cinque cinc piąta piątej pět páté pěti päť piatej pet petih viisi viideltä"
    " viiteen öt pump | "
    "six sechs zes sex seks seis sei sis szósta szóstej šest šesté šesti šesť šiestej šestih kuusi kuudelta "
    "kuuteen chwech | "
    "seven sieben zeven sju syv sept siete sette sete siódma siódmej sedm sedmé sedmi sedem siedmej sedam "
    "sedmih seitsemän seitsemältä seitsemään hét saith | "
    "eight acht åtta otte åtte huit ocho otto oito vuit ósma ósmej osm osmé osmi osem ôsmej osam osmih "
    "kahdeksan kahdeksalta kahdeksaan nyolc wyth | "
    "nine neun negen nio ni neuf nueve nove nou dziewiąta dziewiątej devět deváté devíti deväť deviatej devet"
    " devetih yhdeksän yhdeksältä yhdeksään kilenc naw | "
    "ten zehn tien tio ti dix diez dieci dez deu dziesiąta dziesiątej deset desáté deseti desíti desať "
    "desiatej desetih kymmenen kymmeneltä kymmeneen tíz deg | "
    "eleven donze elf elva elleve onze once undici jedenasta jedenastej jedenáct jedenácté jedenácti jedenásť "
    "jedenástej jedanaest enajst enajstih yksitoista yhdeltätoista yhteentoista tizenegy | "
    "twelve zwölf twaalf tolv douze doce dodici doze dotze dwunasta dwunastej dvanáct dvanácté dvanácti "
    "dvanásť dvanástej dvanaest dvanajst dvanajstih kaksitoista kahdeltatoista tizenkettő deuddeg | "
    "thirteen dreizehn dertien tretten tretton treize trece tredici treze trzynasta trzynastej třináct | "
    "fourteen vierzehn veertien fjorten fjorton quatorze catorce quattordici catorze czternasta czternastej "
    "čtrnáct | "
    "fifteen fünfzehn vijftien femten femton quinze quince quindici piętnasta piętnastej patnáct pätnásť "
    "petnaest | "
    "sixteen sechzehn zestien seksten sexton seize dieciséis sedici dezesseis szesnasta szesnastej šestnáct "
    "šesnaest | "
    "seventeen siebzehn zeventien sytten sjutton diecisiete diciassette dezassete siedemnasta siedemnastej "
    "sedmnáct sedamnaest | "
    "eighteen achtzehn achttien atten arton dieciocho diciotto dezoito osiemnasta osiemnastej osmnáct "
    "osemnásť osamnaest | "
    "nineteen neunzehn negentien nitten nitton diecinueve diciannove dezanove dziewiętnasta dziewiętnastej "
    "devatenáct devätnásť devetnaest | "
    "twenty zwanzig twintig tyve tjugo vingt veinte venti vinte vint dwudziesta dwudziestej dvacet dvadsať "
    "dvadeset húsz | "
    "einundzwanzig eenentwintig enogtyve tjugoett veintiuna ventuno huszonegy | "
    "zweiundzwanzig tweeëntwintig toogtyve tjugotvå veintidós ventidue huszonkettő | "
    "dreiundzwanzig drieëntwintig treogtyve tjugotre veintitrés ventitre huszonhárom"
)
_MORE_MINUTES: Final = {
    5: "pięć",
    10: "dziesięć desať",
    15: "piętnaście viisitoista tizenöt petnajst pymtheg",
    20: "dwadzieścia kaksikymmentä ugain",
    25: "vijfentwintig fünfundzwanzig femogtyve tjugofem veinticinco venticinque huszonöt",
    30: "thirty dreißig dertig tredive tretti trettio trente treinta trenta trinta trzydzieści třicet tridsať trideset "
    "harminc kolmekymmentä",
    35: "fünfunddreißig vijfendertig",
    40: "forty fourty vierzig veertig fyrre førti fyrtio quarante cuarenta quaranta quarenta czterdzieści čtyřicet "
    "štyridsať četrdeset štirideset negyven neljäkymmentä",
    45: "fünfundvierzig vijfenveertig femogfyrre fyrtiofem førtifem quarantacinque negyvenöt neljäkymmentäviisi "
    "pětačtyřicet",
    50: "fifty fünfzig vijftig halvtreds femti femtio cinquante cincuenta cinquanta cinquenta pięćdziesiąt padesát "
    "päťdesiat pedeset petdeset ötven viisikymmentä",
    55: "fünfundfünfzig vijfenvijftig",
    60: "sixty sechzig zestig tres seksti sextio soixante sesenta sessanta sessenta sześćdziesiąt šedesát hatvan",
    70: "seventy siebzig zeventig septante setenta settanta siedemdziesiąt sedmdesát",
    75: "fünfundsiebzig vijfenzeventig",
    80: "eighty achtzig tachtig ochenta oitenta ottanta huitante octante osiemdziesiąt osmdesát",
    90: "ninety neunzig negentig halvfems nitti nittio nonante novanta noventa dziewięćdziesiąt devadesát kilencven",
}
_HUNGARIAN: Final = (
    "egy",
    "kettő",
    "három",
    "négy",
    "öt",
    "hat",
    "hét",
    "nyolc",
    "kilenc",
    "tíz",
    "tizenegy",
    "tizenkettő",
)
_HUNGARIAN_ENDS: Final = ("kor", "tól", "től", "ig", "ra", "re")


def numbered_words(text: str) -> dict[str, int]:
    """Return each word, folded, with the number of its row, from 1; a bar ends each row."""
    return {folded(word): number for number, words in enumerate(text.split("|"), start=1) for word in words.split()}


_IN_HUNGARIAN: Final = {
    folded(hour + end): number for number, hour in enumerate(_HUNGARIAN, start=1) for end in _HUNGARIAN_ENDS
}
HOURS: Final = _IN_HUNGARIAN | numbered_words(_HOURS)
# Hours of which the ending says "at" or "from": nyolckor, kilenctől, kahdeksalta.
HOURS_IN_CASE: Final = _IN_HUNGARIAN.keys() | {
    one for one in HOURS if one.endswith(("delta", "salta", "selta", "alta"))
}
# Hours of which the words are common ones of another language: only after "half", "quarter to" or a word such as "kl".
WEAK_HOURS: Final = set_of(
    "to et ett en ti ni het ot tre sex sei sis once ena eno deg naw pump tri pet set un une una um uma uno egy jedna "
    "jedno druga druhe dva dve sept dues deu nou dix"
)
MINUTES_SAID: Final = {one: number for one, number in HOURS.items() if number in (5, 10, 15, 20)} | {
    folded(word): number for number, words in _MORE_MINUTES.items() for word in words.split() if folded(word) != "tres"
}
DUTCH_HOURS: Final = set_of("een twee drie vier vijf zes zeven acht negen tien elf twaalf")


def folded_words(words: str) -> frozenset[str]:
    """Return words as those of a reply are compared."""
    return frozenset(folded(word) for word in words.split())


def each_folded(text: str) -> list[str]:
    """Return the phrases between bars, each word folded as the words of a reply are; signs stay."""
    return [" ".join(folded(word) for word in one.split()) for one in text.split("|") if one.strip()]


def folded_phrases(text: str) -> Phrases:
    """Return the phrases between bars, to be compared with the words of a reply."""
    return phrases_by_first_word(each_folded(text))
