"""The players of a band, as leaders call them in many languages."""

from typing import Final

THE_LEADER: Final = "the leader"
LEADER_COUNTS: Final = f"{THE_LEADER}'s count"
PLAYERS: Final = {
    word: player
    for player, words in {
        "keys": "keys keyboard keyboards keyboarder tastiere teclas klawisze claviers "
        "toetsenist tasten toetsen teclado teclados clavier tastiera you u yourself youve du toi "
        "jij",
        "piano": "piano pianist klavier klaver pianoforte pianino fortepian",
        "organ": "organ orgel hammond orgue",
        "synth": "synth synths",
        "rhodes": "rhodes",
        "clav": "clav",
        "guitar": "guitar guitars gtr gtrs git gitarre guitare chitarra guitarra gitaar guitarist gitarr "
        "gitarren guitaren gitara gitarzysta gitarristen chitarrista guitarrista kitara kytara",
        "acoustic": "acoustic",
        "hi-hat": "hihat hats",
        "cymbal": "cymbal cymbals",
        "drums": "drums drum drummer dr schlagzeug batterie batteria bateria kit trommer trommerne trummor "
        "trummorna slagtoj trum "
        "drummen perkusja perkusista bebny baterista batterista slagverk trommeslager schlagzeuger snare "
        "rummut",
        "bass": "bass bassist basse basso bas bajo baixo basisci basista basen bassen kontrabas kontrabass "
        "contrabasso contrabajo",
        "singer": "singer singers sanger sangerin sangaren sangeren chanteur chanteuse cantante zanger zangeres "
        "wokalista "
        "wokalistka cantor cantora",
        "vocals": "vocals vocal vox voc voice voices gesang stimme voix zang voce voz wokal glos spiew",
        "choir": "choir chor coro choeur koor kor chorale choirs",
        "sax": "sax saxes saxophone saxophones saxofon saxophon sassofono saxofone saksofon saxo",
        "horns": "horns blaser blazers",
        "brass": "brass metales cuivres ottoni",
        "trumpet": "trumpet trumpets trompete trompet trompette tromba trompeta trabka",
        "trombone": "trombone trombones bones posaune trombon puzon",
        "flute": "flute flauto flauta flote querflote dwarsfluit flet fletna",
        "clarinet": "clarinet clarinets klarinette clarinette clarinetto clarinete klarinet klarinett klarnet",
        "cello": "cello violoncello violoncelle violoncelo wiolonczela",
        "harmonica": "harmonica mundharmonika armonica mondharmonica munspel",
        "tambourine": "tambourine tambourin tamburin tamboerijn tamburyn tamburina",
        "tamburello": "tamburello",
        "pandereta": "pandereta",
        "pandeiro": "pandeiro",
        "harp": "harp harps arpa",
        "congas": "congas conga",
        "violin": "violin violins geige violino violon viool fiol skrzypce skrzypek violinist housle",
        "fiddle": "fiddle fiddles",
        "whistle": "whistle whistles",
        "banjo": "banjo",
        "steel": "steel",
        "mandolin": "mandolin mando",
        "tape": "tape",
        "strings": "strings",
        "accordion": "accordion accordeon akkordeon acordeon acordeao fisarmonica squeezebox akordeon "
        "dragspel harmonika accordeonist",
        "concertina": "concertina",
        "percussion": "percussion perc",
        "shaker": "shaker shakers maracas",
        "cowbell": "cowbell kuhglocke cencerro campanaccio koskalla",
        "claps": "claps handclaps",
        "all": "all everyone everybody together tutti alle tous band",
        THE_LEADER: "ik jag jeg me ill i myself ich moi",
        "nobody": "nobody",
        "reeds": "reeds",
        "woodwind": "woodwind woodwinds",
        "pipes": "pipes piper bagpipe bagpipes",
        "bodhran": "bodhran",
        "ukulele": "ukulele uke ukelele",
        "timple": "timple",
        "cornet": "cornet cornets",
        "flugel": "flugel flugelhorn",
        "tuba": "tuba tubas sousaphone",
        "viola": "viola violas",
        "oboe": "oboe",
        "cajon": "cajon",
    }.items()
    for word in words.split()
}
