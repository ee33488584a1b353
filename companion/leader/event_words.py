"""Words beside the times of a night, in the languages of leaders: from, till, doors, back on, same length."""

from typing import Final

from companion.leader.hour_words import folded_phrases, folded_words
from companion.leader.reply_words import set_of

FROM_SAID: Final = folded_phrases(
    "at | from | am | @ | around | about | um | ab | von | gegen | circa | ca | à partir de | à | a | dès | vers | "
    "de | alle | dalle | dalle ore | alle ore | ore | a las | las | a les | les | desde las | de las | sobre las | "
    "a la | à la | às | as | das | pelas | da | desde as | a partir das | om | vanaf | rond | kl | kl . | klokken | "
    "klokka | klockan | klo | klo . | kello | från | fra | vid | runt | omkring | w | o | od | około | v | ve | "
    "asi v | u | oko | ob | alkaen | ungefär | cirka | ongeveer | omstreeks | verso le"
)
UP_TO_SAID: Final = folded_phrases(
    "till | til | until | to | - | – | — | while | thru | through | bis | bis um | jusqu à | jusquà | jusqua | à | a | "
    "às | até | até às | até as | até a | hasta | hasta las | a las | fino | fino alle | alle | tot | do | až do | "
    "až | asti | saakka | till kl | til kl | til kl . | fins | fins a les | fins a | a les | hyd | finishing at | "
    "finishing | ending at | tan | i | na | -tot | klo | za"
)
# Those of them that need no time before: "then the jam till eleven".
UNTIL: Final = folded_phrases(
    "till | til | until | bis | bis um | jusqu à | jusquà | jusqua | hasta | hasta las | até | até às | até as | "
    "fino | fino alle | tot | až do | asti | saakka | fins | fins a les | fins a"
)
NEXT_SET: Final = folded_phrases(
    "then | again | back on | back at | back | afterwards | later | and then | dann | danach | wieder | puis | "
    "ensuite | après | luego | después | poi | dopo | depois | daarna | vervolgens | dan | sen | sedan | därefter | "
    "derefter | så | potem | później | znowu | pak | potom | poté | zase | azután | utána | aztán | majd | sitten | "
    "onda | zatim | poslije | nato | després | llavors | wedyn | next | resume | resume at | restart | kick off again"
)
STARTING_SAID: Final = folded_phrases(
    "start | starts | starting | begin | begins | kick off | kicks off | kick | kicks | on at | on stage | goes up | "
    "go up | curtain | curtain up | go on | we're on | were on | we are on | we play | we start | downbeat | "
    "showtime | show time | stage time | music starts | beginnt | beginnen | beginn | los | fängt | fangen | spielen | "
    "commence | commençons | début | debut | on joue | on attaque | empieza | empezamos | comienza | tocamos | "
    "comença | comencem | toquem | inizia | iniziamo | si comincia | si suona | suoniamo | começa | começamos | "
    "início | begint | spelen | we spelen | aanvang | starter | begynder | vi spiller | begynner | börjar | "
    "vi spelar | kör vi | zaczynamy | gramy | początek | začínáme | hrajeme | začátek | začíname | hráme | začiatok | "
    "kezdünk | kezdés | játszunk | aloitamme | alkaa | aloitus | soitamme | počinjemo | sviramo | početak | začnemo | "
    "igramo | dechrau | on from | first note | band on | on the stand | start time | opens | kicks in | gets going | "
    "inizio | anfang | empezar | comenzar | get going | going on | on | hit | hit it | we hit | geht's los | "
    "gehts los | los geht's | los gehts | proceedings open"
)
ENDING: Final = folded_phrases(
    "finish | finishes | finishing | end | ends | off | off at | off stage | stop | stops | done | done by | done at | "
    "over | ende | schluss | fertig | fin | finit | on finit | fini | terminamos | termina | acaba | acabamos | fine | "
    "finiamo | finisce | einde | klaar | stoppen | slut | slutter | slutar | ferdig | koniec | kończymy | konec | "
    "končíme | vége | befejezés | loppu | lopetamme | kraj | završavamo | fi | acabem | diwedd | we're off | home by | "
    "wrap | wrap up"
)
OTHER_EVENTS: Final = folded_phrases(
    "doors | doors open | door | soundcheck | sound check | sound - check | line check | load in | load - in | "
    "loading | get in | get - in | set up | setup | rig | curfew | arrival | arrive | arriving | call | band call | "
    "half hour call | meet | meeting | rehearsal | rehearse | practice | mass | ceremony | speeches | speech | quiz | "
    "buffet | first dance | vows | cake | meal | dinner | toast | raffle | bingo | carriages | fireworks | tea | "
    "lunch | food | be there | bar | hall | room | venue | access | parking | park | van | bus | train | taxi | "
    "support | dj | disco | bells | warm up | warm - up | einlass | aufbau | treffpunkt | treffen | anpfiff | essen | "
    "portes | balances | ouverture | repas | rendez - vous | rdv | répétition | puertas | prueba | prueba de sonido | "
    "montaje | ensayo | portas | ensaio | montagem | porte | prova | montaggio | deuren | opbouw | soundchecken | "
    "repetitie | dørene | dører | lydprøve | opstilling | oppmøte | dörrar | dörrarna | insläpp | ljudkoll | bygga | "
    "drzwi | próba | montaż | obiad | zvukovka | zkouška | sraz | stavba | skúška | kapunyitás | beállás | ovet | "
    "ovi | kuuntelutesti | roudaus | vrata | tonska | tonska proba | proba | prova de so | portes obertes | "
    "opbouwen | inladen | inrichten | aufbauen | reinkommen | einladen | monter | installation | installer | montar | "
    "allestimento | allestire | montare | descarga | carga | opbygning | rigge | opprigg | rigga | riggning | "
    "see you | to set up | to load in | to soundcheck | to sound check | barn | building | venue opens | "
    "rehearsed | packed up | pack down | get out | get - out | load out | load - out"
)
BREAKS_SAID: Final = folded_phrases(
    "break | breaks | interval | intervals | intermission | pause | pausen | pauses | paus | pauza | pauzu | pausa | "
    "przerwa | przerwy | prestávka | přestávka | přestávku | szünet | tauko | odmor | stanka | entracte | entr'acte | "
    "descanso | descans | pauze | intervallo | intervalo | toriad | halftime"
)
# "Moved to 7.45 from 8.15", "moved from 8 to 8.30": of two times, the one after "to".
MOVED: Final = folded_words(
    "moved moves changed shifted brought pushed verschoben verlegt vorverlegt déplacé reporté décalé avancé cambiado "
    "movido adelantado retrasado spostato anticipato posticipato mudado verplaatst verschoven flyttet flyttat rykket "
    "przesunięty przesunięte posunuto přesunuto"
)
# A time beside these is that of another show, or a bound.
PAST_SAID: Final = folded_phrases(
    "last year | last time | years ago | letztes jahr | letztes mal | l'an dernier | la dernière fois | "
    "el año pasado | la última vez | l'anno scorso | l'altra volta | ano passado | vorig jaar | vorige keer | "
    "sidste år | sist år | förra året | i fjol | i fjor | w zeszłym roku | loni | minulý rok | tavaly | viime vuonna | "
    "prošle godine | lani"
)
# Beside these a time is one within a song.
PARTS_OF_SONG: Final = folded_words(
    "verse verses chorus chorusses bridge solo riff coda strophe refrain couplet verso strofa ritornello estribillo "
    "estrofa refrein omkvæd refräng vers sloka zwrotka refren"
)
LIMITING: Final = frozenset(
    folded_words("over under than max maximum most über unter als höchstens maximal moins plus más menos più meno")
)
EACH_SAID: Final = folded_phrases(
    "each | both | all | all of them | apiece | each set | per set | both sets | every set | each of them | for each | "
    "minute sets | min sets | mins sets | sets of | jeweils | je | beide | beide sets | jeder | jede | jedes | "
    "jeder set | jedes set | jede runde | jeder block | chacun | chacune | chaque fois | les deux | tous les deux | "
    "chaque set | par set | cada uno | cada una | cada | los dos | las dos | ambos | ambas | cada pase | ciascuno | "
    "ciascuna | ognuno | entrambi | tutti e due | ogni set | cada um | cada uma | os dois | as duas | elk | per stuk | "
    "telkens | allebei | elke set | hver | hvert | begge | begge to | hvert sæt | hver gang | vardera | båda | varje | "
    "varje set | każdy | każda | oba | obie | obydwa | każdy set | po | každý | každá | obě | obidva | každé | obe | "
    "mindkettő | egyenként | mindegyik | molemmat | kumpikin | molemmissa | svaki | svaka | obje | vsak | vsaka | "
    "obakrat | cadascun | cadascuna | ambdós | tots dos | yr un | y ddau"
)
SAME_LENGTH: Final = folded_phrases(
    "same length | same again | the same again | same | the same | ditto | idem | likewise | gleich lang | "
    "genauso lang | lo mismo | igual | la stessa durata | uguale | o mesmo | même durée | pareil | even lang | "
    "zelfde | lige så længe | samma | lika länge | samme | tyle samo | stejně dlouhá | stejně | rovnako | ugyanannyi | "
    "saman verran | isto | also"
)
DENYING: Final = folded_phrases(
    "not | not at | no | no a | isnt | is not | isnt at | aint | no longer | instead of | rather than | et non | "
    "et pas | pas | nicht | statt | anstatt | und nicht | y no | en vez de | non | e non | invece di | invece delle | "
    "e não | não | em vez de | niet | in plaats van | ikke | i stedet for | inte | istället för | nie | zamiast | ne | "
    "místo | a nie | namiesto | nem | ei | eikä | umjesto | namesto | ni | en lloc de | was | it was | used to be"
)
BEFORE_LENGTH: Final = folded_words(
    "for runs run lasts lasting last goes another dure dauert dura durata duración für pendant durante per voor duurt "
    "varer varar i po trwa trvá trajanje kestää length länge lang"
)
PARTING: Final = set_of(
    ", ; . ! ? … and & + / so but comma und et y e en og och a i es ja in aber mais pero ma mas maar men ale"
)
AMONG: Final = folded_words(
    "set sets we we're were are is it's its it the a an of for will be our us one long with gig show tonight sharp "
    "prompt each please x wir der die das den um ist sind il le la el los las les lo un una o os det er vi en et ett "
    "är w z na se si je to że jest az van het ons dat minutes mins min hours hour uhr band music about around roughly "
    "ca circa approx ish another up down time times stage playing play plays and's durata dura dure dauert duur duurt "
    "whole spiller spelar kör"
)
# Words that mean nothing beside the times of sets.
FILLING: Final = set_of(
    "erst tarde noche pomeriggio sera abends avonds soir kvelden aftenen kvallen de la del di du el het die der das il "
    "lo den tol ora orakor a i potom pak suonando si suona suoniamo poi puis wir fangen an jeder jede vanaf service "
    "sermon spelar spiller kör kor vi sen sedan spelen spielen youre you're you is are its it's it the we were we're "
    "play playing on go for and then with of in one we'll will be runs lasting lasts lang long sharp set times time "
    "stage again until dancing music band uhr h e og och y et und dann luego per totale uur total sæt sets also auch "
    "durata dura dure off kick kicks up first's please thanks"
)
