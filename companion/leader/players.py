"""The players of a band, as leaders call them in many languages."""

from typing import Final

THE_LEADER: Final = "the leader"
PLAYERS: Final = {
    word: player
    for player, words in {
        "keys": "keys keyboard keyboards tasten toetsen teclado teclados clavier tastiera you u yourself youve du toi "
        "jij",
        "piano": "piano klavier pianoforte",
        "organ": "organ orgel hammond orgue",
        "synth": "synth synths",
        "rhodes": "rhodes",
        "clav": "clav",
        "guitar": "guitar guitars gtr gtrs git gitarre guitare chitarra guitarra gitaar guitarist gitarr "
        "gitarren guitaren",
        "acoustic": "acoustic",
        "hi-hat": "hihat hat",
        "cymbal": "cymbal cymbals",
        "drums": "drums drum drummer dr schlagzeug batterie batteria bateria kit trommer trommerne trummor "
        "trummorna slagtoj "
        "drummen",
        "bass": "bass bassist basse basso bas bajo",
        "singer": "singer singers",
        "vocals": "vocals vocal vox voc voice voices gesang stimme voix zang voce voz choir",
        "sax": "sax saxes saxophone saxophones",
        "horns": "horns",
        "brass": "brass",
        "trumpet trumpets": "trumpet",
        "trombone": "trombone trombones bones posaune",
        "flute": "flute",
        "clarinet": "clarinet clarinets klarinette clarinette",
        "cello": "cello",
        "harmonica": "harmonica harp",
        "congas": "congas conga",
        "violin": "violin violins geige violino violon",
        "fiddle": "fiddle fiddles",
        "whistle": "whistle whistles",
        "banjo": "banjo",
        "mandolin": "mandolin mando",
        "tape": "tape",
        "strings": "strings",
        "accordion": "accordion accordeon akkordeon acordeon acordeao fisarmonica squeezebox",
        "percussion": "percussion perc shaker cowbell claps",
        "all": "all everyone everybody together tutti alle tous band",
        THE_LEADER: "me ill i myself ich moi",
        "nobody": "nobody",
    }.items()
    for word in words.split()
}
