"""General MIDI level 1: the 128 published names, their other spellings, and what players call them.

The list is the sound set of "General MIDI System Level 1" (MMA0007/RP003), as printed by public copies. The copies
differ only in spelling, so names are compared without case, spaces and punctuation.
"""

import functools
from collections.abc import Mapping
from typing import Final

# Two lines for each family of eight; the first name is program 0 on the wire, 1 on most panels.
_PUBLISHED: Final = """
Acoustic Grand Piano, Bright Acoustic Piano, Electric Grand Piano, Honky-tonk Piano
Electric Piano 1, Electric Piano 2, Harpsichord, Clavi
Celesta, Glockenspiel, Music Box, Vibraphone
Marimba, Xylophone, Tubular Bells, Dulcimer
Drawbar Organ, Percussive Organ, Rock Organ, Church Organ
Reed Organ, Accordion, Harmonica, Tango Accordion
Acoustic Guitar (nylon), Acoustic Guitar (steel), Electric Guitar (jazz), Electric Guitar (clean)
Electric Guitar (muted), Overdriven Guitar, Distortion Guitar, Guitar Harmonics
Acoustic Bass, Electric Bass (finger), Electric Bass (pick), Fretless Bass
Slap Bass 1, Slap Bass 2, Synth Bass 1, Synth Bass 2
Violin, Viola, Cello, Contrabass
Tremolo Strings, Pizzicato Strings, Orchestral Harp, Timpani
String Ensemble 1, String Ensemble 2, SynthStrings 1, SynthStrings 2
Choir Aahs, Voice Oohs, Synth Voice, Orchestra Hit
Trumpet, Trombone, Tuba, Muted Trumpet
French Horn, Brass Section, SynthBrass 1, SynthBrass 2
Soprano Sax, Alto Sax, Tenor Sax, Baritone Sax
Oboe, English Horn, Bassoon, Clarinet
Piccolo, Flute, Recorder, Pan Flute
Blown Bottle, Shakuhachi, Whistle, Ocarina
Lead 1 (square), Lead 2 (sawtooth), Lead 3 (calliope), Lead 4 (chiff)
Lead 5 (charang), Lead 6 (voice), Lead 7 (fifths), Lead 8 (bass + lead)
Pad 1 (new age), Pad 2 (warm), Pad 3 (polysynth), Pad 4 (choir)
Pad 5 (bowed), Pad 6 (metallic), Pad 7 (halo), Pad 8 (sweep)
FX 1 (rain), FX 2 (soundtrack), FX 3 (crystal), FX 4 (atmosphere)
FX 5 (brightness), FX 6 (goblins), FX 7 (echoes), FX 8 (sci-fi)
Sitar, Banjo, Shamisen, Koto
Kalimba, Bag pipe, Fiddle, Shanai
Tinkle Bell, Agogo, Steel Drums, Woodblock
Taiko Drum, Melodic Tom, Synth Drum, Reverse Cymbal
Guitar Fret Noise, Breath Noise, Seashore, Bird Tweet
Telephone Ring, Helicopter, Applause, Gunshot
"""

NAMES: Final[tuple[str, ...]] = tuple(
    name for half_family in _PUBLISHED.split("\n") if half_family for name in half_family.split(", ")
)

# Counted from 1, as printed: spellings in public copies of the list.
OTHER_SPELLINGS: Final[Mapping[str, int]] = {
    "Clavinet": 8,
    "Clav": 8,
    "Harp": 47,
    "Synth Strings 1": 51,
    "Synth Strings 2": 52,
    "Synth Choir": 55,
    "Synth Brass 1": 63,
    "Synth Brass 2": 64,
    "Lead 4 chiff": 84,
    "Bagpipe": 110,
    "Shenai": 112,
}

# Counted from 1: the program that a player would accept for the bare word (common practice, no source).
PLAYERS_SAY: Final[Mapping[str, int]] = {
    "piano": 1,
    "grand": 1,
    "grand piano": 1,
    "acoustic piano": 1,
    "bright piano": 2,
    "electric grand": 3,
    "honky-tonk": 4,
    "electric piano": 5,
    "e-piano": 5,
    "ep": 5,
    "tine piano": 5,
    "fm piano": 6,
    "digital piano": 6,
    "vibes": 12,
    "chimes": 15,
    "organ": 17,
    "tonewheel organ": 17,
    "jazz organ": 18,
    "pipe organ": 20,
    "harmonium": 21,
    "acoustic guitar": 26,
    "electric guitar": 28,
    "distorted guitar": 31,
    "upright bass": 33,
    "double bass": 33,
    "bass": 34,
    "electric bass": 34,
    "slap bass": 37,
    "synth bass": 39,
    "pizzicato": 46,
    "pizz": 46,
    "kettle drums": 48,
    "strings": 49,
    "string section": 49,
    "slow strings": 50,
    "synth strings": 51,
    "choir": 53,
    "aahs": 53,
    "oohs": 54,
    "brass": 62,
    "horns": 62,
    "horn section": 62,
    "synth brass": 63,
    "lead": 82,
    "synth lead": 82,
    "saw lead": 82,
    "pad": 90,
    "synth pad": 90,
    "steel pans": 115,
}


USUAL: Final = (
    *("grand piano", "electric piano", "tonewheel organ", "strings", "brass section", "choir", "synth lead"),
    *("warm pad", "clavinet", "accordion"),
)
"""What cover bands ask their keyboard player for (common practice, no source)."""

# Words for a sound that no list has, and the sound that comes nearest (common practice, no source).
NEAREST_KNOWN: Final[Mapping[str, str]] = {
    **dict.fromkeys(("arp", "arpeggio", "pluck", "sequence", "seq", "saw", "square", "wobble"), "synth lead"),
    **dict.fromkeys(("sweep", "wash", "drone", "swell", "atmos"), "pad"),
    **dict.fromkeys(("keys", "pno", "upright", "klavier"), "piano"),
    **dict.fromkeys(("epiano", "tines"), "electric piano"),
    **dict.fromkeys(("orgel", "drawbars"), "organ"),
    **dict.fromkeys(("str", "strs", "strg", "violins", "orchestra", "streicher"), "strings"),
    **dict.fromkeys(("vox", "voices", "ahs", "chor"), "choir"),
    **dict.fromkeys(("hns", "bones", "saxes", "stabs"), "brass"),
    **dict.fromkeys(("gtr", "guitar"), "electric guitar"),
}
FAMILY: Final = 8  # programs; the list has 16 families of eight


def family_of(name: str) -> int | None:
    """Return the family, 0..15, of a sound as the list or players call it, by its whole name or its last known word.

    >>> family_of("synth arp"), family_of("warm pad"), family_of("grand piano"), family_of("kazoo")
    (10, 11, 0, None)
    """
    for word in (name, *reversed(name.casefold().split())):
        program = program_named(NEAREST_KNOWN.get(word.casefold().strip(), word))
        if program is not None:
            return program // FAMILY
    return None


def program_named(name: str) -> int | None:
    """Return the program, 0..127 as on the wire, that the published list or players call this; else None.

    >>> program_named("Church Organ"), program_named("ORGAN"), program_named("warm pad"), program_named("kazoo")
    (19, 16, 89, None)
    """
    return _by_letters().get(_letters_of(name))


def known_names() -> tuple[str, ...]:
    """Return every known name, the published ones first."""
    return (*NAMES, *OTHER_SPELLINGS, *PLAYERS_SAY)


def _letters_of(name: str) -> str:
    """Return a name for comparison: letters and digits only, since players space and hyphenate names freely."""
    return "".join(sign for sign in name.casefold() if sign.isalnum())


def _spoken(published: str) -> tuple[str, ...]:
    """Return the shorter forms of a name with brackets: warm pad, pad 2, nylon guitar."""
    what, _, kind = published.removesuffix(")").partition(" (")
    if not kind:
        return ()
    *_, family, last = what.split()
    return (f"{kind} {family}", what) if last.isdigit() else (f"{kind} {last}",)


@functools.cache
def _by_letters() -> Mapping[str, int]:
    programs = {_letters_of(spoken): program for program, name in enumerate(NAMES) for spoken in _spoken(name)}
    programs |= {_letters_of(name): panel - 1 for name, panel in PLAYERS_SAY.items()}
    programs |= {_letters_of(name): panel - 1 for name, panel in OTHER_SPELLINGS.items()}
    return programs | {_letters_of(name): program for program, name in enumerate(NAMES)}
