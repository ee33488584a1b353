"""The published list, in its order, under every name that is understood."""

import pretty_midi
import pytest

from companion.rig.general_midi import NAMES, OTHER_SPELLINGS, PLAYERS_SAY, family_of, known_names, program_named


def only_letters(name: str) -> str:
    return "".join(sign for sign in name.casefold() if sign.isalnum())


def test_there_are_128_programs_with_unique_names() -> None:
    assert len(NAMES) == 128
    assert len({only_letters(name) for name in NAMES}) == 128


def test_the_list_agrees_with_an_independent_one() -> None:
    spelled_otherwise = {  # as the independent library (pretty_midi) spells them; the number is the wire's
        7: "Clavinet",
        54: "Synth Choir",
        83: "Lead 4 (chiff)",
        109: "Bagpipe",
    }
    theirs = {number: only_letters(name) for number, name in enumerate(pretty_midi.INSTRUMENT_MAP)}
    ours = {number: only_letters(spelled_otherwise.get(number, name)) for number, name in enumerate(NAMES)}
    assert {number for number in ours if ours[number] != theirs[number]} == set()


def test_every_published_name_is_found_however_it_is_spaced() -> None:
    for program, name in enumerate(NAMES):
        assert program_named(name) == program
        assert program_named(name.upper().replace(" ", "").replace("-", " ")) == program


@pytest.mark.parametrize(
    ("name", "panel_program"),
    [  # General MIDI System Level 1 (MMA0007/RP003), sound set; counted from 1
        ("Acoustic Grand Piano", 1),
        ("Honky-tonk Piano", 4),
        ("Clavi", 8),
        ("Celesta", 9),
        ("Drawbar Organ", 17),
        ("Acoustic Guitar (nylon)", 25),
        ("Acoustic Bass", 33),
        ("Violin", 41),
        ("String Ensemble 1", 49),
        ("Trumpet", 57),
        ("Soprano Sax", 65),
        ("Piccolo", 73),
        ("Lead 1 (square)", 81),
        ("Pad 1 (new age)", 89),
        ("FX 1 (rain)", 97),
        ("Sitar", 105),
        ("Tinkle Bell", 113),
        ("Guitar Fret Noise", 121),
        ("Gunshot", 128),
        # the same list as other public copies spell it
        ("Clavinet", 8),
        ("Harp", 47),
        ("Synth Strings 1", 51),
        ("Synth Choir", 55),
        ("Synth Brass 2", 64),
        ("Lead 4 chiff", 84),
        ("Bagpipe", 110),
        ("Shenai", 112),
        # by hand, from the names above
        ("lead 2", 82),
        ("sawtooth lead", 82),
        ("Warm Pad", 90),
        ("pad 4", 92),
        ("nylon guitar", 25),
        ("FX 8", 104),
        # common practice, no source
        ("organ", 17),
        ("strings", 49),
        ("lead", 82),
        ("pad", 90),
        ("piano", 1),
        ("electric piano", 5),
        ("choir", 53),
    ],
)
def test_a_name_means_the_program_of_its_number(name: str, panel_program: int) -> None:
    assert program_named(name) == panel_program - 1


@pytest.mark.parametrize(
    ("published", "said"),
    [  # the first four are spellings of public copies of the list; the others are common practice, no source
        ("Clavi", ["Clavinet", "Clav"]),
        ("Orchestral Harp", ["Harp"]),
        ("Synth Voice", ["Synth Choir"]),
        ("Lead 4 (chiff)", ["Lead 4 chiff"]),
        ("Acoustic Grand Piano", ["grand", "grand piano", "acoustic piano"]),
        ("Bright Acoustic Piano", ["bright piano"]),
        ("Electric Grand Piano", ["electric grand"]),
        ("Honky-tonk Piano", ["honky-tonk"]),
        ("Electric Piano 1", ["e-piano", "ep", "tine piano"]),
        ("Electric Piano 2", ["fm piano", "digital piano"]),
        ("Vibraphone", ["vibes"]),
        ("Tubular Bells", ["chimes"]),
        ("Drawbar Organ", ["tonewheel organ"]),
        ("Percussive Organ", ["jazz organ"]),
        ("Church Organ", ["pipe organ"]),
        ("Reed Organ", ["harmonium"]),
        ("Acoustic Guitar (steel)", ["acoustic guitar"]),
        ("Electric Guitar (clean)", ["electric guitar"]),
        ("Distortion Guitar", ["distorted guitar"]),
        ("Acoustic Bass", ["upright bass", "double bass"]),
        ("Electric Bass (finger)", ["bass", "electric bass"]),
        ("Slap Bass 1", ["slap bass"]),
        ("Synth Bass 1", ["synth bass"]),
        ("Pizzicato Strings", ["pizzicato", "pizz"]),
        ("Timpani", ["kettle drums"]),
        ("String Ensemble 1", ["string section"]),
        ("String Ensemble 2", ["slow strings"]),
        ("SynthStrings 1", ["synth strings"]),
        ("Choir Aahs", ["aahs"]),
        ("Voice Oohs", ["oohs"]),
        ("Brass Section", ["brass", "horns", "horn section"]),
        ("SynthBrass 1", ["synth brass"]),
        ("Lead 2 (sawtooth)", ["synth lead", "saw lead"]),
        ("Pad 2 (warm)", ["synth pad"]),
        ("Steel Drums", ["steel pans"]),
    ],
)
def test_players_words_find_published_instruments(published: str, said: list[str]) -> None:
    assert [NAMES[program_named(word) or 0] for word in said] == [published] * len(said)


@pytest.mark.parametrize("name", ["kazoo", "", "  ", "()", "17", "lead 9"])
def test_an_unusual_word_finds_no_program(name: str) -> None:
    assert program_named(name) is None


def test_no_two_spellings_contradict_each_other() -> None:
    meant: dict[str, set[int]] = {}
    for table in (OTHER_SPELLINGS, PLAYERS_SAY, {name: program + 1 for program, name in enumerate(NAMES)}):
        for name, panel_program in table.items():
            meant.setdefault(only_letters(name), set()).add(panel_program)
    assert {name for name, programs in meant.items() if len(programs) > 1} == set()
    assert all(program_named(name) in range(128) for name in known_names())


@pytest.mark.parametrize(
    ("name", "family"),
    [  # General MIDI System Level 1: sixteen groups of eight programs; by hand
        ("Acoustic Grand Piano", 0),
        ("Clavi", 0),
        ("Celesta", 1),
        ("Drawbar Organ", 2),
        ("Contrabass", 5),
        ("String Ensemble 1", 6),
        ("Gunshot", 15),
        ("dirty synth arp", 10),
        ("warm pad", 11),
        ("kazoo", None),
    ],
)
def test_a_sound_belongs_to_one_of_sixteen_families(name: str, family: int | None) -> None:
    assert family_of(name) == family
