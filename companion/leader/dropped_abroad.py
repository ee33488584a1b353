"""Songs that are not played, in other languages than English: doen we niet, saltiamola, går ud, no va."""

from collections.abc import Iterator
from typing import Final

from companion.leader.hour_words import each_folded, folded_phrases

# Not played, in Dutch, German, the languages of the south, of the north and of the east.
_PHRASES: Final = (
    "doen we niet meer | doen we niet | spelen we niet meer | spelen we niet | valt af | vervalt | fallt weg | "
    "fällt weg | fallt aus | fällt aus | entfallt | entfällt | lassen wir weg | spielen wir nicht mehr | "
    "on la fait plus | on la joue plus | on le joue plus | on la fait pas | on la joue pas | on le joue pas | "
    "spielen wir nicht | on ne la fait plus | on ne la fait pas | on ne la joue plus | on ne la joue pas | "
    "on la laisse tomber | non la facciamo più | non la facciamo piu | non la facciamo | la togliamo | fuera | "
    "no la tocamos | la quitamos | no la hacemos | vi spiller den ikke | vi spelar den inte | utgar | udgar | "
    "vi dropper | vi stryger | vi springer | stryker vi | vi stryker | vi hoppar over | on saute | on enleve | "
    "on ne fait pas | on ne joue pas | on supprime | quitamos | no tocamos | no hacemos | saltiamo | togliamo | "
    "ja nao tocamos | ja não tocamos | nao tocamos | não tocamos | on ne joue plus | on ne fait plus | "
    "streichen wir | wir streichen | wir lassen | stryk | vi skippar | ta bort | vi tar bort | utgår | ryger ud | "
    "droppes | vi skipper | streich | streicht | fliegt raus | entfallen | wir verzichten auf | schrap | schrappen | "
    "we schrappen | slaan we over | we slaan over | laten we vallen | on enlève | enlevez | supprimez | on coupe | "
    "on vire | on oublie | togliete | eliminiamo | eliminata | tolta | tagliamo | quita | quitad | eliminamos | "
    "fica fora | ficam fora | fica de fora | sai | non a facemos | non a tocamos | nao a fazemos | não a fazemos | "
    "não a tocamos | nao a tocamos | la sautons | on la saute | on la passe | quedou fora | queda fora | "
    "ska bort | skal ud | muss weg | muss raus | moet weg | moet eruit | va tolta | doit sauter | "
    "spielen wir diesmal nicht | spielen wir heute nicht | gooien we eruit | gooien we er uit | "
    "valt uit | vallen uit | streichen | spielen wir nicht | lassen wir aus | "
    "saltamos | tiramos | wypada | wyrzucamy | nie gramy | skreślamy | skreslamy | pomijamy | "
    "nehrajeme | nehrajem | vynechame | vynechavame | vyskrtni | skrtame | nem jatsszuk | kihagyjuk | kimarad | "
    "spiller vi ikke | spelar vi inte | vi spiller ikke | vi spelar inte | kutter vi | vi kutter | strykes | "
    "slojfes | sloyfes | dropper vi | hopper vi over | vi hopper over | wird gestrichen | ist gestrichen | "
    "nicht zu spielen | nicht gespielt werden | darf nicht gespielt werden | soll nicht gespielt werden | "
    "à ne pas jouer | a ne pas jouer | ne doit pas être jouée | ne doit pas être joué | no debe tocarse | "
    "da non suonare | niet te spelen | mag niet gespeeld worden | får inte spelas | ska inte spelas | "
    "må ikke spilles | skal ikke spilles | "
    "kommt raus | lassen wir raus | spielen wir doch nicht | wird nicht gespielt | fallt flach | machen wir nicht | "
    "gaat eruit | gaat er uit | mag eruit | mag weg | laten we weg | skippen we | we skippen | valt weg | "
    "vallen weg | wordt geschrapt | spelen we dus niet | spelen we toch niet | doen we toch niet | "
    "on laisse tomber | est supprime | est supprimee | est annule | est annulee | passe a la trappe | on zappe | "
    "a supprimer | on retire | se cae | la saltamos | la eliminamos | la dejamos fuera | dejamos fuera | no entra | "
    "la sacamos | no vamos a tocar | non si fa | non si suona | la saltiamo | la tagliamo | la eliminiamo | "
    "on loublie | "
    "on les enleve | on l'enleve | on lenleve | on la vire | on le vire | on les vire | on la retire | "
    "on le retire | "
    "on les retire | on la coupe | on le coupe | on lenlève | on l'enlève | on les enlève | overslaan | weglaten | "
    "schrappen | eruit | überspringen | uberspringen | auslassen | weglassen | streichen wir | kann weg | "
    "die sluiten we | "
    "la omitimos | la dejamos | los quitamos | las quitamos | lo quitamos | la leviamo | lo leviamo | li saltiamo | "
    "lo saltiamo | le saltiamo | stryks | hoppar vi over | hoppar vi över | skippar vi | tar vi bort | tager vi ud | "
    "springer vi over | dropper vi | tar vi ut | pomijamy | opuszczamy | wyrzucone | vypustime | vypustíme | "
    "škrtáme | "
    "niet meer spelen | niet spelen | lassen wir diesmal aus | no la hacemos | no se toca | no la vamos a tocar | "
    "går ud | går ut | går bort | går vi forbi | ryger | er ude | är ute | er ute | nos la saltamos | "
    "laisse tomber | laissez tomber | à enlever | à supprimer | annulée | annulé | supprimée | supprimé | "
    "a gente pula | pulamos | a gente corta | cortamos | não vai rolar | odpada | odpadá | vypadne | ne sviramo | "
    "ne igramo | izpade | jätetään pois | ei soiteta | jää pois | elmarad | nem játszunk"
)
# Verbs of leaving out, before the pronoun that is written with them or behind a dash: saltiamola, sautons-la.
_WITH_PRONOUN: Final = (
    ("saltiamo togliamo tagliamo eliminiamo leviamo lasciamo salta togli taglia elimina", "la lo li le", "", "fuori"),
    (
        "saltemos quitemos cortemos saltamos saltemonos salta quita corta elimina dejemos deja",
        "la lo las los",
        "",
        "fuera",
    ),
    ("tiremos cortemos pulemos tira corta", "a o as os", " - ", "fora"),
    (
        "sautons enlevons supprimons retirons coupons laissons saute enlève supprime retire vire laisse",
        "la le les",
        " - ",
        "tomber",
    ),
)
_NEEDS_ADVERB: Final = ("lasciamo", "dejemos", "deja", "laissons", "laisse")


def _with_pronouns() -> Iterator[str]:
    for verbs, pronouns, joint, adverb in _WITH_PRONOUN:
        for verb in verbs.split():
            for pronoun in pronouns.split():
                if verb not in _NEEDS_ADVERB:
                    yield f"{verb}{joint}{pronoun}"
                yield f"{verb}{joint}{pronoun} {adverb}"


OTHER_TONGUES: Final = (*_PHRASES.split(" | "), *each_folded(_PHRASES), *each_folded("|".join(_with_pronouns())))
# These say so only where the clause ends: "no va en sol" is about the key, "we make not too slow" about the tempo.
LAST_OF_CLAUSE: Final = folded_phrases(
    "no va | no van | non va | não vai | nao vai | no entra | we make not | we play not | we do not | we make it not | "
    "we play it not | we do not make | we dont make | we dont make it | we do not make it | "
    "pas celle - là | pas celle ci | cette fois non | esta no | questa no | essa não | die nicht | deze niet | "
    "den inte | den ikke | ta nie | tuhle ne | pass | we pass"
)
# For this night only.
FOR_NOW: Final = folded_phrases(
    "this year | this time | this week | this season | this once | tonight | today | for tonight | this evening | "
    "diesmal | heute | dieses mal | dieses jahr | ce soir | cette fois | cette année | esta noche | esta vez | "
    "este año | stasera | questa volta | quest'anno | esta noite | desta vez | deze keer | vanavond | dit jaar | "
    "ikväll | i kväll | den här gången | i år | i aften | denne gang | dziś | dzisiaj | dnes"
)
