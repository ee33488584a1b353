"""Words that say that somebody starts a song, in many languages, and words beside them."""

from typing import Final

from companion.leader.reply_words import phrases_by_first_word, set_of

# "Starts", right before who does it.
FOREIGN_STARTS: Final = set_of(
    "entra entran abre abren "
    "zaczyna zaczynaja empeza empezan empieza empiezan comeza comezan comeca comecam arranca arrancan inicia comincia "
    "cominciano parte partono inizia attacca inleder borjar begynder beginnt beginnen startet starten commence "
    "commencent begint"
)
STARTS: Final = FOREIGN_STARTS | set_of(
    "commences start starts starting intro intros begin begins open opens count counts riff pickup first lead leads "
    "beginnt "
    "begint beginnen comeca comecas comecam starten "
    "fangt fangst fangen anfangt startet startar starter borjar begynder commence commencent inizia empieza "
    "empiezan abre lick fill pad hook alone picking strumming groove beat loop swell arpeggio chords roll stab vamp "
    "montuno gliss glissando ostinato drone fanfare "
    "together"
)
LONE: Final = set_of(
    "you youve u me i ill all everyone everybody band ich moi alle tous together kit yourself myself lead"
)
ALL_OF_US: Final = phrases_by_first_word(
    (
        "all together",
        "everyone together",
        "whole band",
        "full band",
        "all of us",
        "the whole band",
        "allemaal tegelijk",
        "alle gleichzeitig",
        "alle tillsammans",
        "tutti insieme",
        "tous ensemble",
        "alle zusammen",
        "todos juntos",
        "alla tillsammans",
        "allemaal samen",
        "alle sammen",
        "wszyscy razem",
    )
)
START_VERBS: Final = set_of(
    "start starts begin begins open opens count counts lead leads kick kicks beginnt begint commence "
    "commencent inizia empieza empiezan "
    "beginnen comeca comecas comecam starten fangt fangen startet startar starter borjar begynder"
)
NOT_BEFORE_PLAYER: Final = set_of("for of to like as than")
WITHOUT_OTHERS: Final = phrases_by_first_word(
    ("without us", "with no band", "without the band", "without you", "before us", "before the band")
)
ON_CUE: Final = phrases_by_first_word(
    (
        *(f"on {whose} {cue}" for whose in ("my", "the") for cue in ("count", "count in", "cue", "nod", "signal")),
        *("auf mein zeichen", "auf mein einzahlen", "a mon signal", "a mi senal", "al mio segnale", "al mio cenno"),
        *("op mijn teken", "pa mitt tecken", "pa mit tegn", "ao meu sinal", "na moj znak", "na muj pokyn"),
    )
)
STARTED_BY: Final = set_of(
    "w with by on from is are mit met avec con of for the a an just only = : la le el il los las das die lo o os as "
    "l' i gli de den det het en ett"
)
PLAYS: Final = set_of("play plays playing is are has have had solo solos only part parts sits needs wants")
TAIL: Final = set_of(
    "unaccompanied it in us off this that one first on its their your own the song alone by itself themselves me"
)
NOT_NAMES: Final = set_of(
    "doors door bar barn hall house venue building kitchen gate gates club room pub shop office reception school "
    "church music show gig party dinner service food catering buffet tent marquee wir er sie man vi jag han hon ze "
    "nous on je ils noi lui nosotros nos eu oni it that this which what who when where there the a and or but so then "
    "song set everything we they he she one number no not please intro chorus verse bridge ending ask call check "
    "trumpet key keys songs"
)
NO_NAMES: Final = set_of(
    "not never always just also still now usually only sometimes somebody someone nobody each both set sets show gig "
    "dance dancing party dinner band bride service party music night evening half first second third last next will "
    "would can could may might should must are was were has have had does did please maybe perhaps probably"
)
ALL_IN: Final = phrases_by_first_word(
    f"in {when}"
    for when in (
        "from the top",
        "from the start",
        "from bar 1",
        "from bar one",
        "at once",
        "together",
        "on one",
        "on 1",
        "on the 1",
        "on the one",
        "on beat 1",
        "on beat one",
        "on the downbeat",
    )
)
_BRINGS_IN: Final = tuple(
    f"{verb} {whom} {into}"
    for verb, into in (("brings", "in"), ("bring", "in"), ("kicks", "off"), ("takes", "in"), ("plays", "in"))
    for whom in ("us", "it", "everyone", "the band")
)
_HAS_INTRO: Final = tuple(
    f"{verb} the {part}"
    for verb in ("got", "have", "has", "take", "takes", "do", "does", "play", "plays", "are", "is")
    for part in ("intro", "start", "opening", "beginning", "top", "riff", "first riff", "opening riff", "first bars")
)
BRINGS_IN: Final = phrases_by_first_word(_BRINGS_IN)
HAS_INTRO: Final = phrases_by_first_word((*_HAS_INTRO, *_BRINGS_IN))
KICKS: Final = ("kicks off", "kick off", "kicks it off", "starts off", "sets off", "kicked off")
YOURS: Final = phrases_by_first_word(
    (
        *(
            f"{are} {first}"
            for are in ("youre", "you are", "your")
            for first in ("first in", "in first", "on your own first")
        ),
        *(
            f"{thats} your {part}"
            for thats in ("thats", "that is", "its")
            for part in ("intro", "start", "riff", "opening")
        ),
        "your intro",
        "over to you",
        *(
            said
            for you, verbs in (
                ("du", "fangst an|fangst bei|beginnst|startest|legst los|zahlst ein|zahlst an"),
                ("tu", "commences|demarres|attaques|lances|debutes"),
                ("tu", "empiezas|comienzas|arrancas|inicias|entras"),
                ("ti", "empezas|comezas"),
                ("tu", "inizi|cominci|parti|attacchi"),
                ("tu", "comecas|inicias|arrancas"),
                ("jij", "start|begint|begin|telt af"),
                ("du", "startar|borjar|starter|begynder|begynner"),
                ("ty", "zaczynasz|zacinas"),
            )
            for verb in verbs.split("|")
            for said in (f"{you} {verb}", " ".join((*verb.split()[:1], you, *verb.split()[1:])))
        ),
        *(
            f"{said} {verb}"
            for said in ("c'est toi qui", "cest toi qui", "c'est a toi de", "a toi de")
            for verb in (
                "commences",
                "commence",
                "commencer",
                "demarres",
                "demarrer",
                "attaquer",
                "lancer",
                "jouer l'intro",
            )
        ),
        "zaczynasz",
        "tocca a te",
        "commence toi",
        "te toca empezar",
    )
)
BEGINS: Final = phrases_by_first_word(
    (
        "pick up",
        "pick - up",
        *("tellen af", "telt af", "tel af", "zahlt ein", "zahlen ein", "teller op", "teller inn", "raknar in"),
        "kick off",
        "kicks off",
        "kicks it off",
        "kick it off",
        "kick us off",
        "kicks us off",
        "start us off",
        "starts us off",
        "sets it off",
        "starts off",
        "sets off",
        "a cappella",
        "a capella",
        "acappella",
        "on their own",
        "on her own",
        "on his own",
        "on its own",
    )
)
