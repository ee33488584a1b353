"""Words that suggest a fact: of starting, counting in, ending and leaving out, and players, by their first letters.

A stem stands for all its forms: "kytar" for kytara, kytarou and kytary. A word that only suggests a fact makes a guess,
which the player confirms; it never lands by itself.
"""

from typing import Final

from companion.leader.players import PLAYERS
from companion.leader.reply_words import phrases, set_of

MAX_FORM: Final = 5  # letters of a form after its stem

# Verbs of starting, and words that say where in the song somebody plays.
BEGINS: Final = set_of(
    "lancia stacca stacchi kreni krece zet zetten inzet zacni rusza wchodzi wchodza nastupuje nastupuji lahtee alkaa "
    "legger lægger laegger vstupuje vstupuju zapocinje setzt setzen fange beginne beginnst startest start starts "
    "starting begin begins beginning opens attack attacks kick kicks enter enters begint beginnt beginnen starten "
    "startet startar starter inleder entra entran ataca attacca attaque attaquent lance lancent arranca arrancan "
    "empieza empiezan empiezas comeca comecam comecas comienza comenca entren inizi inizia iniziano parte partono "
    "commencez commencons debutes debutez attaques attaquez lances lancez demarre demarrent demarres demarrez ouvres "
    "ouvrez attacchi iniziate cominciate empezais comenzais anfangst abres "
    "commence commencent commences anfangt fangt fangst fangen borja borjar begynder begynner zaczyna zaczynaja "
    "zaczynasz zacina zacinaji zacinas zacne zacnou zacnes zacinaju zacinaja pocinje pocinjes pocinju krene krenu "
    "zacnete kezd kezdi kezdik kezded kezdek aloittaa aloitat aloittavat aloitan hasten walks opener brushes "
    "empezamos comenzamos arrancamos entramos iniziamo cominciamo partiamo attacchiamo comecamos iniciamos demarrons "
    "lancons attaquons borjar starter begynder zaczynamy zaciname"
)
AT_START: Final = set_of(
    "vorspiel auftakt einsatz predehra predohra predigra wstep uvod forspil forspill forspel optakt opptakt upptakt "
    "alkusoitto elojatek bevezeto introduzione introduccion introducao introduccio introduction ouverture felutes "
    "sparto depart piano-intro comeco comienzo intro intros first opening pickup entrada entree ingang debut debute "
    "anfang aafang alone solo sola seul seule seuls seules allein alleine eleige alleen alene ensam sozinho sozinha "
    "sam sama sami principio inicio inizio zaciatku zacatku poczatku poczatek alku alussa vooraf vorweg opener front "
    "vorneweg zuerst voran voorop forrest framst forst eerst"
)
STARTS: Final = BEGINS | AT_START
IN_ENGLISH: Final = set_of(
    "start starts starting begin begins beginning opens attack attacks kick kicks enter enters walks brushes"
)
AFTER_VERB: Final = set_of("with mit met con avec med com z s amb")
PLAYS: Final = set_of("plays play does takes gives")
COUNTS: Final = set_of(
    "einzahler counted stacco beszamol beszamolom laskee lasken odklepe odklepava odtuka odsteje einzahle vorzahle "
    "compta comptes raknas potatoes count-off countin telle tæller-for count counts counting countoff countoffs offs "
    "count-in zahlt zahle zahlen einzahlen vorzahlen aftellen telt tel tellen teller tæller tæl raknar cuenta cuento "
    "cuentan conta conto contano compte comptent bats bat odlicza odliczam nabija nabijam odpocita odpocitava "
    "pocitam "
    "odbroji lask clicks click anzahlen zahlst"
)
_BRINGS: Final = (
    "hit it together | hits it together | from bar one | from bar 1 | from the off | from the word go | "
    "from you | from me | uit de startblokken | kicks off | kick off | kicks it off | kicks that off | "
    "kicks us off | bring in | brings in | brings us in | come in together | comes in | drar igang | "
    "satter igang | setzt ein | setzen ein | comes in first | on their own | on her own | on his own | "
    "on its own | on your own | by itself | in front | from the top | joue seul | fangt an | fangst an | "
    "fangen an | kommt rein | hits together | straight in | leads off | start off | in from the"
)
BRINGS: Final = phrases(_BRINGS)
# Forms that only "you" has.
YOU: Final = set_of(
    "you youre youll yours commencez debutez attaquez lancez demarrez du tu ti ty te sina toi jij vous sie "
    "ihr vosotros usted aloitat empiezas entras comecas "
    "comienzas zaczynasz zacinas zacnes pocinjes kezded commences cominci inizi fangst"
)
ME: Final = set_of(
    "mir mig meg mij minulta i ill ich je moi yo io jag jeg ik eu ja mina me myself conto cuento zahle nabijam "
    "odliczam pocitam"
)
ALL_OF_BAND: Final = set_of(
    "tout monde mundo mondo hele everyone everybody tutti alle alli allesamt tous toutes todos todas allemaal "
    "iedereen "
    "alla vsichni vsici wszyscy mindenki kaikki svi vsi tots band company together zusammen zame ensemble juntos "
    "insieme razem spolu sammen tillsammans samen"
)
_STEMS: Final = {
    stem: player
    for player, stems in {
        "keys": "klawisz klaves keyb tastier teclad tocset tangent kosket klavijat",
        "piano": "pian klavir klavier fortepi zongor",
        "organ": "orgel orgue varhan orgon orgul urku",
        "synth": "synt",
        "guitar": "kytar gitar guitar chitarr gitaar kitar",
        "drums": "bici buban bubn bubeni perkusi drum tromm trumm batter bater schlagz tambor tambur rumm rumpu "
        "dobos "
        "dobok tapan tupan",
        "bass": "basov basgit basist baskyt kontrab contrab baix baixo bajo basso bassen",
        "percussion": "percus perkuss percuss perkusion",
        "singer": "zpev spevac wokal chanteu cantant zanger sanger vokal pjevac laula enekes",
        "vocals": "voc voix voz gesang",
        "choir": "choir choeur coro chor sbor zbor koor korus kuoro",
        "sax": "sax saks szax",
        "horns": "blaser blazer horns puhalt",
        "brass": "brass cuivr metai metal ottoni blech zest dech messing lechosn",
        "trumpet": "trumpet trompet tromb trub trab truba",
        "trombone": "trombon puzon pozoun posaun bazun",
        "flute": "flut flaut flet flot fuvol huil floyt",
        "clarinet": "clarin klarin",
        "violin": "violin violon violi viul viool geig skrzyp hegedu fiol husl housl",
        "fiddle": "fiddl fele spelm",
        "cello": "cell violonc",
        "accordion": "accord acord akord haitar dragsp fisarm harmonik trikiti trekz squeez bandone concertin handork",
        "whistle": "whistl",
        "strings": "string streich cuerd archi smycc strijk strak",
        "harp": "harp arp",
        "harmonica": "harmonica armonic",
        "banjo": "banj",
        "mandolin": "mandol",
        "ukulele": "ukul",
        "timpani": "timp pauk",
        "tambourine": "tambourin",
        "backing track": "track backing playb",
        "children": "child kids kinder",
        "conductor": "conduct dirig chef",
    }.items()
    for stem in stems.split()
}
# Words that begin like a player and are none.
_NO_PLAYERS: Final = set_of(
    "chord chords chorus choruses acord acorde acordes accord accords accordi according accordingly chore tracked "
    "arpeggio arpeggios harpoon batter metalwork cello's chorale stringent organise organised vocation sangen "
    "drummed "
    "chefs tracking keyboardless metal corner core corona coral baton cellar celler track's playbook violet violent "
    "akkord akkorde akkoord akkoorden akord akordy akordem pause corny arpege arpegios chorister harmonika's"
)


def player_of(low: str) -> str:
    """Return the player that a word names in one of its forms; "" if it names none."""
    if low == "hat":
        return ""  # German for "has"
    if low in PLAYERS:
        return PLAYERS[low]
    bare = low.removeprefix("l") if low[:2] in _ELIDED else low
    bare = bare.removeprefix("d") if low[:2] in _ELIDED_D else bare
    if bare in _NO_PLAYERS or low in _NO_PLAYERS:
        return ""
    if bare in PLAYERS:
        return PLAYERS[bare]
    for many in range(min(len(bare), 9), 2, -1):
        if (player := _STEMS.get(bare[:many])) and len(bare) - many <= MAX_FORM and (many > 3 or len(bare) > 3):
            return player
    return ""


_ELIDED: Final = ("la", "lo", "lh")  # l'acordió, l'orgue
_ELIDED_D: Final = ("da", "do")

# ------------------------------------------------------------------ endings

ENDS: Final = set_of(
    "avslutt avslutter slutt arrete arretons arretez sacaba sacaben coupons-net hors zavrsi konci kone "
    "chiusura arret "
    "terminamos acabamos sluttes avslutas avslut afslutning lopetus lopussa koncza zakonczymy skonci stopper stopt "
    "stoppa stoppar stopp stoppi end ends ending endings finish finishes finishing stop stops schluss endet "
    "enden ende "
    "aufhoren hort fin finit finissent finale final termina terminan termine acaba acaban acabem finisce finiscono "
    "finis chiude chiudiamo chiusa konec koncime koniec koncu konczy konczymy zakonczenie zaver zaverem slut slutar "
    "slutter slutet slutning eindigt eindigen einde slot loppuu loppu loppuun vege vegzodik zavrsava kraj konca "
    "zakljuci"
)
_MANNERS: Final = {
    stem: manner
    for manner, stems in {
        "fade": "fades fading ausklin verklin utkling uitfad feidaa fejdas dissol desapar desaparec "
        "apagand zvucne utisa ztisi halkul fadeo ausblen ausgebl fondu dofunde sfuma wycisz "
        "vytrat stisz elhalk haipu hiljene",
        "ritard": "ritard ritenu langsomm lassit usporen saktna frenand frenando zatah vertraag rallent "
        "slows slowing langsamer verlangs zwalnia zwoln zpomal spomal hidast abrand ralent "
        "lassul uspor vertrag saktar saktas sakne",
        "cold": "abrupt schlagart plotz plotse tvarstop ostre useknout naglo aprupt hirtelen akisti",
    }.items()
    for stem in stems.split()
}
_EXACTLY: Final = {
    **dict.fromkeys(("fade", "tonar", "toner", "tonas", "wycisza"), "fade"),
    **dict.fromkeys(("rit", "rall", "ritard", "zwalnia", "zwalniamy"), "ritard"),
    **dict.fromkeys(set_of("brat tvart tvært tvert nagły nagle secco seco secca sec koud kalt cold tronco"), "cold"),
}
# In the leader's own words: the first alone, the others only beside a word of ending.
_OWN: Final = set_of("calderon corona fermate fermaty tenuto fermata button crawl blackout held holds hold klap corte")
_OWN_BESIDE: Final = set_of(
    "zeichen signal segnale senal tegn znak cop net nette brag knall schlag golpe colpo halt lang langer "
    "langen lange "
    "dlouhy dlugi akkoord ton tone tono toon nota note cadence largo corto tenu long slutakkord schlusschlag "
    "dies away "
    "bang crash strum strums chord akkord acorde accord slag smack proper cut cutoff dead ring rings big short stop "
    "corte huge nothing quietly turnaround cue nod stab vamp vamps tag downbeat hit hits"
)


def manner_of(low: str, *, ends: bool) -> str:
    """Return how a word says that a song ends: fade, ritard, cold, or in its own words ("own"); "" if it does not.

    ``ends``: whether a word of ending is beside it.
    """
    if low in _EXACTLY:
        return _EXACTLY[low]
    if low in _OWN or (ends and low in _OWN_BESIDE):
        return "own"
    for many in range(min(len(low), 8), 4, -1):
        if manner := _MANNERS.get(low[:many]):
            return manner
    return ""


SLOWED: Final = set_of("down up right way it again lots end into gradually")
HELD: Final = set_of("chord note last it on that final one long akkord")

# ------------------------------------------------------------------ songs that are left out

DENIES: Final = set_of(
    "not no dont doesnt didnt wouldnt shouldnt wont arent isnt cant cannot never without nicht kein keine nix pas ne "
    "nie nem ei ikke inte ej niet geen non nao"
)
DOING: Final = set_of(
    "play playing doing having perform sing spielen spielt spiele machen spelar spelen speler spiller spiler jouons "
    "jouerons jouera jouent joue fais faisons ferons fait facciamo suoniamo tocamos tocaremos hacemos hacem hrajeme "
    "hrajem hrat gramy zagramy jatsszuk sviramo igramo soiteta kor spille kjorer tanzma spuima"
)
GONE: Final = set_of(
    "ditch coupe coupons nepujde nechame vynechat eliminamos eliminada suprimida suprimimos descartada descartamos "
    "quitad quiten zappe zappons supprime supprimons enlevons oublie oublions saute sautons abandonne saltiamo salta "
    "togliamo eliminata eliminiamo tagliata risca riscamos esquece esquecam cortada cortado odpadaji vypoustime "
    "skrtame rusime zrusili rezygnujemy wykreslamy odpuszczamy toroljuk kihuzzuk slopas ryker ryger struken stryker "
    "stryger hoppas droppas droppes sloyfes slojfes slojfer tiputetaan poistetaan perutaan izbacena izbacen otpada "
    "otkazano otkazana crtamo traiem saltem suprimim pulled benched nixed spiked shelved chopped parked "
    "retired vetoed "
    "entfallen gekippt gekillt gecancelt geschmissen wegfallen weggelaten overgeslagen skippen aflyst abgesagt "
    "installt instalt zruseno zrusena zrusen zrusime odwolane odpada odpadne cancelled canceled banned forbidden "
    "streiche streichen gestrichen foit foellt cortamos cortem cortar quitamos quita tira tiramos fuera fora "
    "springer "
    "springs hopper hoppar kihagyjuk kimarad elmarad utgar udgar bortfaller strykes stryks verfallt verfalt entfallt "
    "vervalt geschrapt skreslamy wypada vynechame vypada preskocime preskakujemo izbacujemo ispada odpade "
    "jatetaan pois"
)
GONE_PHRASES: Final = phrases(
    "cant do | cannot do | cant play | cannot play | got to go | needs to go | have to lose | must lose | "
    "pas cette fois | pas ce soir | can go | is a no | niente | lets park | wont need | dont need | wont be needed | "
    "not required | surplus to | we can live without | dont do | wont do | take it out | take that out | goes as well "
    "| not needed | no longer needed | says no to | say no to | says no | say no | definitely no | springer vi over | "
    "hopper vi over | misschien niet | vielleicht nicht | peut etre pas | quiza no | forse no | mozna ne | kanske inte "
    "| maske ikke | we wont | is for the chop | leave out | leaving out | see how we go | if theres time | falls weg | "
    "fallt aus | fallt weg | drew a cross | put a cross | a cross through | a line through | aus dem programm | aus "
    "dem set | von der liste | hors programme | du programme | fuori dal programma | fuori dalla scaletta | fuera del "
    "programa | fuera del repertorio | uit de set | van de lijst | uit het programma | ur programmet | ur setet | ud "
    "af programmet | ut av programmet | z programu"
)
# At the end of a clause: a song may be dropped.
MAY_GO: Final = phrases(
    "might go | may go | could go | might have to go | may have to go | might not make it | may not make it | "
    "fallt vielleicht weg | fallt eventuell weg | fallt evtl weg | saute peut etre | forse salta | valt misschien af | "
    "utgar kanske | utgar maske | quiza no va | talvez saia | moze wypadnie | mozna vypadne"
)
NOT_GONE: Final = set_of(
    "back only fade fades in dont off-beat solo verse chorus intro bar bars drums bass keys tag button after "
    "fast faster high higher low lower loud long"
)

# ------------------------------------------------------------------ what is no fact

# A sentence with one of these tells of the past, or what somebody does not know.
PAST: Final = set_of(
    "was were used yesterday ago had gestern hier ayer ieri wczoraj vcera igar tegnap eilen sino remember waren war "
    "etait fue era byl byla bylo wasnt werent started ended finished stopped began learnt rehearsed"
)
PAST_PHRASES: Final = phrases(
    "last year | last week | last gig | last summer | last month | letztes jahr | lan dernier | el ano pasado | "
    "lanno scorso | ifjor | i fjol | loni | rok temu | w zeszlym roku | no matter | who starts | which start"
)
JOINS: Final = set_of("and & + und et y e og och en a i ja ve es in oder n")
SMALL: Final = set_of(
    "the a an it its is are in on at to of with for by from your our my das der die den dem des ein eine "
    "einen mit le "
    "la les un une de du au aux el los las lo il i gli o os as um uma det en ett et na w z s v do se sie ze "
    "jo az egy "
    "then just only also so full whole but and und och og y e da dann puis luego poi tam that this which who qui que "
    "che quien wo wie war sich si isch git d es c'est cest bei pour fur per por para door met bar bars"
)
UNITS: Final = set_of(
    "bar bars beats min mins minutes minuten minutos minuti minutter minuter minuut people guests pax euro euros "
    "quid pounds miles km sec seconds songs copies years st street road room takt takte compases mesures th nd rd "
    "am pm uhr h uur measures times x"
)
TEMPO_WORDS: Final = set_of(
    "mm mark bit quicker slower faster than say more nearer roughly about er ish gaat op auf bei pulsaciones battute "
    "takt tempot na tempo bpm around ca like at fast slow medium ballad swing shuffle latin bright noire crotchet "
    "quarter negra semiminima viertel speed now up"
)
EVERY: Final = set_of(
    "all always everything every alle alles allemaal alla allt todos todas todo toda tutti tutte tutto wszystkie "
    "wszystko vse vsechno vsechny vsetko everythings minden kaikki sve tous toutes tout alt ovriga others"
)
# Before the song or songs that a group leaves out.
EXCEPTS: Final = set_of(
    "except apart bar ausser sauf behalve salvo tranne utom undtagen unntatt oprocz krome okrem osim razen kiveve "
    "paitsi menos"
)
# They are no players.
NOBODY: Final = set_of(
    "we vi wir wij well on nous noi nos they he she it that this there okay ok off time om kl half halv halb kwart "
    "quarter um uhr clock song songs set sets everything something not never how when where what please now again "
    "doors music bands spu ma mia mir me us themselves herself himself itself yourself nio atta tio elva them "
    "him her "
    "barn bar hall house venue building kitchen door gate gates club pub office reception car buffet "
    "shell hell theyll were ill youll im verse chorus bridge sheet key keys em sondern aber mais pero but "
    "sino mas maar "
    "men ale"
)
# "Off" and "out" leave a song out only after these, or at the end of a clause.
IS: Final = set_of(
    "is are gaat valt falt faellt kommt geht muss moet ska skal bliver blir e est goes off out isnt its er ist"
)
# They point back to the songs that a group leaves out: "all but 3, there you start".
POINTING: Final = set_of("there those that these they which where da die dort dar der daar la li alli tam ott")
AFTERS: Final = set_of("after then until till before once")
OUT_FOR: Final = set_of("for tonight this today on as because again now")
OUT: Final = set_of("uit off out raus weg via fuori fora fuera dehors ud ut ute pois pryc bort eruit oot ki")
STATES: Final = set_of("no inicio principio comeco comienzo final fim fin")
DIES: Final = phrases(
    "peters out | fizzles out | dies away | dies down | trails off | tails off | drifts off | drifts away | "
    "blendet aus | blenden aus | langsam aus | fadet aus | "
    "klingt aus | verklingt | verhallt | lauft aus | fades away | se va apagando | sen va | going quiet"
)
BY: Final = set_of("by von vom av af door par da por od przez")
