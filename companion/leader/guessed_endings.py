"""How a song probably ends, by phrases of many languages: hört hart auf, ça s'arrête net, den bromsar in på slutet."""

from collections.abc import Sequence
from typing import Final

from companion.leader.hour_words import folded_phrases, folded_words
from companion.leader.reply_words import ReplyWord, phrase_of, words_of

_COLD: Final = folded_phrases(
    "hört hart auf | hart auf | auf den punkt | auf den punkt auf | auf schlag | auf einen schlag | schlagartig | auf "
    "der eins auf | alle zusammen auf der eins | alle auf der eins | zusammen auf der eins auf | punkt aus | harter "
    "schluss | harter schnitt | harter stopp | kein ritardando | ohne ritardando | kein rit | s'arrête net | arrête "
    "net | arrêtons net | arrêtez net | arrêt net | coupé net | coupe net | finit net | fin nette | fin sèche | on "
    "coupe tous ensemble | coupe tous ensemble | coupons ensemble | tagliamo tutti insieme | cortamos todos juntos |  "
    "coup sec | d'un coup | d'un coup sec | arrêt brutal | sans ralentir | de repente | en seco | corte seco | corte "
    "en seco | cortamos en seco | de golpe | a golpe | en corto | sin ritardando | sin ralentizar | di botto | di "
    "colpo | finisce secco | taglio secco | taglio netto | stop secco | finale secco | finisce di netto | si ferma di "
    "colpo | si interrompe | senza rallentare | corta a seco | acaba a seco | corte a seco | para de repente | acaba "
    "de repente | pára de repente | tvärt | tvärstopp | tvärstannar | slutar rakt av | tar tvärt slut | abrupt | "
    "abrubt | brått slutt | brat slut | slutter brått | stopper brat | stopper brått | slutter pludselig | slutter "
    "pludseligt | stopper pludseligt | plötsligt slut | eindigt droog | stopt droog | droog einde | stopt ineens | "
    "stopt plotseling | houdt plotseling op | in één klap | in één keer stop | kończymy nagle | kończy się nagle | "
    "urywa się | urywamy | nagłe zakończenie | ostro ucinamy | ucinamy | utneme | končí naráz | končíme náhle | "
    "končíme naráz | náhlý konec | on a sixpence | on a dime | dead stop | hard stop | just stops | just stops dead | "
    "stops short | no rit | no ritardando | without slowing | without slowing down | no slowing down | all together on "
    "the one | ends hard | ends sharp | ends abruptly | ends suddenly | cuts dead | chops off | stops like a wall | "
    "aus auf die eins | schluss auf die eins | aus auf der eins | bråstopp | brå stopp | bråstopp til slutt | all stop "
    "| we all stop | everyone stops | straight stop | sudden end | sudden stop | clean stop | clean cut | "
    "hard stoppen | abrupt stoppen | meteen stoppen | plotseling stoppen | ineens stoppen | hart aufhören | "
    "abrupt aufhören | sofort aufhören | hart stoppen | arrêter net | s'arrêter d'un coup | parar en seco | "
    "cortar en seco | parar de golpe | terminar en seco | acabar en seco | fermarsi di colpo | chiudere secco | "
    "finire secco | parar a seco | acabar a seco | stoppa tvärt | sluta tvärt | stoppe brått | slutte brått | "
    "stoppe brat | slutte brat"
)
_SLOWER: Final = folded_phrases(
    "wird langsamer | wird am ende langsamer | wird am schluss langsamer | werden am ende langsamer | "
    "werden wir langsamer | am ende langsamer | am schluss langsamer | zum schluss langsamer | langsamer am ende | "
    "langsamer am schluss | immer langsamer | bremst ab | wir bremsen | werden langsamer | langsamer werden | "
    "ralentir | ralentit | ralentissons | ralentissez | on ralentit | en ralentissant | ralenti à la fin | "
    "ralentissement | rallenta | rallentiamo | rallentare | si rallenta | sempre più lento | sempre più lenta | "
    "frena al final | se frena | frenamos | va frenando | más lento al final | más despacio al final | ralentiza | "
    "ralentizamos | ralentizando | se ralentiza | cada vez más lento | abranda | abrandando | vai abrandando | "
    "abrandamos | mais devagar no fim | mais lento no fim | cada vez mais devagar | desacelera | "
    "bromsar in | bromsar vi in | saktar in | saktar ner | sakta in | saktar vi in | långsammare på slutet | "
    "långsammare mot slutet | sätter ner farten | sænker farten | langsommere til sidst | langsommere mot slutten | "
    "langsommere på slutten | bremser ned | bremser op | sakker ned | langzamer aan het eind | "
    "langzamer op het eind | "
    "langzamer aan het einde | wordt langzamer | wordt aan het eind langzamer | vertraagt | vertragen | remt af | "
    "zwalnia | zwalniamy | zwalnia na końcu | wolniej na końcu | coraz wolniej | zpomaluje | zpomalujeme | "
    "zpomalit | na konci pomaleji | pomaleji na konci | čím dál pomaleji | hidastuu | hidastetaan | lassul | "
    "big slow - down | slow - down | slows down | slow down | slows right down | slows up | big slow down | "
    "slowing down | slower and slower | "
    "slower at the end | getting slower | gets slower | grinds to a halt | put the brakes on | "
    "pulls back at the end | "
    "pull back at the end | drags out"
)
_FADE: Final = folded_phrases(
    "on baisse | baisse doucement | jusqu'à plus rien | baisse le son | bis nichts mehr | bis zum nichts | leiser "
    "werden | hasta nada | hasta que no se oye | fino a niente | fino a sparire | tot niets | down to nothing | turn "
    "down | wird leiser | immer leiser | klingt leise aus | klingt aus | ausklingen lassen | blenden aus | wird "
    "ausgeblendet | en fondu | en fundido | fundido | dissolvenza | fondu | fin en fondu | en diminuant | s'éteint "
    "doucement | se va apagando | se apaga | se desvanece | va desapareciendo | bajando el volumen | acaba en fade | "
    "termina en fade | sfumando | sfuma | va sfumando | sfumato | in dissolvenza | in sfumatura | va a sfumare | vai "
    "sumindo | vai desaparecendo | em fade | tonar ut | tonas ut | tonar bort | toner ut | toner ud | fader ud | fadar "
    "ut | dør ud | sterft weg | steeds zachter | wordt steeds zachter | sterft uit | wycisza się | wyciszamy | "
    "ściszamy | coraz ciszej | cichnie | utichá | ztišujeme | do ztracena | fades | fade | fades out | fade out | dies "
    "away | quieter and quieter | gets quieter and quieter | just fades | disappears into nothing"
)
_VAMP: Final = folded_phrases(
    "endlosschleife | loop the end | loop the ending | loop the outro | loop the last bars | loop it out | en loop | "
    "w pętli | ve smyčce | in een lus | boucler la fin | bucle final | "
    "keep the groove going | keep the vamp going | keep it going | keeps it going | blijft doorgaan | blijven doorgaan "
    "| im kreis bis | im kreis | just loop | keep looping | jam it out | jam out | goes on and on | on and on "
    "| on n on | "
    "on & on | round "
    "and round | goes round and round | keep going round | keeps going round | keep vamping | keeps vamping | vamp "
    "until | vamp till | vamps until | vamps till | vamp on | vamp out | until i cue | till i cue | until i give the "
    "sign | till i give the sign | until the cue | till the cue | in schleife | in dauerschleife | bis ich abwinke | "
    "bis ich ein zeichen gebe | bis ich das zeichen gebe | bis zum zeichen | bis auf zeichen | en boucle | on tourne "
    "jusqu | on boucle | tourne en rond | jusqu'à mon signe | jusqu'à mon signal | jusqu'au signal | dando vueltas | "
    "dar vueltas hasta | hasta mi señal | hasta que avise | hasta que yo avise | hasta que dé la señal | hasta la "
    "señal | en bucle | a oltranza | in loop | fino al mio segnale | fino al segnale | fino al mio cenno | gira finché "
    "| ad libitum | às voltas até | até ao meu sinal | até eu dar sinal | om och om igen | runt runt | rundgång | "
    "tills jag ger tecken | tills jag vinkar | til jeg giver tegn | til jeg gir tegn | blijven draaien | blijven we "
    "draaien | rondjes tot | tot ik een teken geef | tot mijn teken | w kółko | aż dam znak | do mojego znaku | dokola "
    "| dokud nedám znamení | až dám znamení | až mávnu"
)
AGAIN: Final = folded_words(
    "repeat repeats repeating round loop loops looping vamp vamps keep keeps wiederholen wiederholt wiederholung "
    "répète répétons répéter boucle tourne tournons repite repiten repetimos repetir vueltas repetindo repete "
    "repetimos ripete ripetiamo ripetere gira giriamo upprepar repeterar upprepas rundor gentager gentages gjentar "
    "herhalen herhaalt herhaal rondjes doorgaan doorspelen weiter weiterspielen continue continuons continuez sigue "
    "seguimos continua continuiamo continuamos fortsätter fortsetter fortsætter powtarzamy powtarza kręcimy opakujeme "
    "opakuje točíme"
)
UNTIL: Final = folded_words(
    "until till til bis jusqu'à jusqu'a jusqu jusqu'au hasta finché fino até tills til tot aż dokud až dopóki"
)
# These say it surely.
VAMPS: Final = folded_phrases(
    "vamp out | vamps out | vamp till cue | vamp until cue | vamp to cue | vamp to end | vamp to the end | "
    "vamp it out | vamp ending | end vamp | ends on a vamp | ends on a long vamp | ends with a vamp | "
    "ends with a long vamp | "
    "we vamp it | we vamp the end | vamp the end | loop out | loop the end | we loop the end | loops out | "
    "endlosschleife | als endlosschleife | on boucle la fin | boucle à la fin | en boucle à la fin | bucle al final | "
    "en bucle al final | loop alla fine | in loop alla fine | loop op het einde | loop aan het einde | loop på slutet"
)
_KINDS: Final = (("vamp-out", _VAMP), ("cold", _COLD), ("ritard", _SLOWER), ("fade", _FADE))
ENDING_PHRASES: Final = (*(many for _, many in _KINDS), VAMPS)


def ending_of(words: Sequence[ReplyWord], begin: int, end: int) -> str:
    """Return how some words say that a song ends: vamp-out, cold, ritard or fade; "" if they do not say one."""
    found = [kind for kind, many in _KINDS if any(phrase_of(words, at, many) for at in range(begin, end))]
    again = next((at for at in range(begin, end) if words[at].low in AGAIN), end)
    if any(words[at].low in UNTIL for at in range(again, end)):
        return "vamp-out"
    if len(found) > 1 and found[0] == "cold":
        return "cold"  # no slowing down
    return found[0] if len(found) == 1 else ""


def ending_in(text: str) -> str:
    """Return how a text says that a song ends, in its own words where no phrase of it is known."""
    words = words_of(text)
    return ending_of(words, 0, len(words)) or text
