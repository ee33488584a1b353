"""The rig file: what may stand in it, and each fault with its place and its fix."""

from pathlib import Path

import pytest

from companion.changes import Change
from companion.errors import FaultyFile
from companion.rig import (
    Action,
    BankMessage,
    HowTransposed,
    Keyboard,
    Numbering,
    Pedal,
    Rig,
    Screen,
    Sound,
    Sustain,
    read_rig,
)

MSB, LSB = BankMessage.MSB, BankMessage.LSB

*_MOST, _LAST = [action.value for action in Action]
ACTIONS = f"{', '.join(_MOST)} or {_LAST}"

DESIGN_PAGE = """\
rig: Home, two tiers
keyboards:
  lower:
    port: Stage Piano            # part of the port's name as the system lists it
    channel: 1
    programs_from: 1             # how the panel counts: 1..128, 0..127, or banks of eight (A11..B88)
    bank_messages: [msb, lsb]    # which it wants: both, one, or none
    settle_ms: 0                 # pause that it needs after a bank change
    change: at once              # or: when hands lift; the rule above where nothing is said
    general_midi: false          # true: names that it lacks may be taken from the General MIDI list
    stands_for: [upper]          # on this one board, what the show gives to another keyboard
    transpose: tuning            # how a live key change reaches it
    sounds:
      grand piano: 1
      tonewheel organ: {program: 17, bank: [0, 32], controls: {volume: 110}}
      choir: {by_hand: "bank B, button 4"}   # no program change reaches it
sustain: {port: Stage Piano, control: 64}    # the player's own sustain: never a step
pedals:
  right: {port: Foot Box, channel: 1, control: 64, press: next}
  left:  {port: Foot Box, channel: 1, control: 67, press: back}
  page turner: {key: page down, press: next}
screen: {width_mm: 345, distance_m: 1.8}
"""


def rig_in(tmp_path: Path, text: str) -> Rig:
    file = tmp_path / "rig.yaml"
    file.write_text(text, encoding="utf-8")
    return read_rig(file).rig


def board_in(tmp_path: Path, text: str) -> Keyboard:
    lines = "".join(f"    {line}\n" for line in text.splitlines())
    (board,) = rig_in(tmp_path, f"rig: Home\nkeyboards:\n  lower:\n{lines}").keyboards
    return board


def faults_in(tmp_path: Path, text: str) -> list[str]:
    """Give the faults as a player reads them, without the path."""
    file = tmp_path / "rig.yaml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(FaultyFile) as told:
        read_rig(file)
    return [str(fault).removeprefix(f"{file}:") for fault in told.value.faults]


def warnings_in(tmp_path: Path, text: str) -> list[str]:
    file = tmp_path / "rig.yaml"
    file.write_text(text, encoding="utf-8")
    return [str(warning).removeprefix(f"{file}:") for warning in read_rig(file).warnings]


def marked(text: str) -> tuple[str, str]:
    """Give the text without its § mark, and the mark's line and column as an editor shows them."""
    before, _, after = text.partition("§")
    return before + after, f"{before.count(chr(10)) + 1}:{len(before.rpartition(chr(10))[2]) + 1}"


def test_the_rig_of_the_design_page_is_read_to_the_letter(tmp_path: Path) -> None:
    assert rig_in(tmp_path, DESIGN_PAGE) == Rig(
        name="Home, two tiers",
        keyboards=(
            Keyboard(
                name="lower",
                port="Stage Piano",
                channel=1,
                programs_from=Numbering.FROM_1,
                bank_messages=(MSB, LSB),
                settle_ms=0,
                change=Change.AT_ONCE,
                general_midi=False,
                stands_for=("upper",),
                transpose=HowTransposed.MASTER_TUNING,
                sounds=(
                    Sound("grand piano", program=0, panel="1"),
                    Sound("tonewheel organ", program=16, bank=(0, 32), controls=((7, 110),), panel="17"),
                    Sound("choir", by_hand="bank B, button 4"),
                ),
            ),
        ),
        sustain=(Sustain("Stage Piano", control=64),),
        pedals=(
            Pedal("right", port="Foot Box", channel=1, control=64, press=Action.NEXT),
            Pedal("left", port="Foot Box", channel=1, control=67, press=Action.BACK),
            Pedal("page turner", key="page down", press=Action.NEXT),
        ),
        screen=Screen(width_mm=345, distance_m=1.8),
    )
    assert warnings_in(tmp_path, DESIGN_PAGE) == []


def test_a_name_is_all_that_a_rig_needs(tmp_path: Path) -> None:
    assert rig_in(tmp_path, "rig: Nothing yet") == Rig("Nothing yet")
    assert rig_in(tmp_path, "rig: One\nkeyboards:\n  board:") == Rig("One", keyboards=(Keyboard("board"),))


@pytest.mark.parametrize(
    ("counts", "written", "program"),
    [
        ("1", "17", 16),
        ("'1'", "017", 16),
        ("0", "17", 17),
        ("0", "0", 0),
        ("banks of eight", "B37", 86),
        ("Banks of  Eight", "3-1", 16),
    ],
)
def test_programs_are_counted_as_the_panel_counts(tmp_path: Path, counts: str, written: str, program: int) -> None:
    board = board_in(tmp_path, f"sounds: {{organ: {written}}}\nprograms_from: {counts}")
    assert [(sound.program, sound.panel) for sound in board.sounds] == [(program, written)]


@pytest.mark.parametrize(
    ("written", "halves"),
    [
        ("[msb, lsb]", (MSB, LSB)),
        ("[lsb, msb]", (MSB, LSB)),
        ("[lsb, lsb]", (LSB,)),
        ("[msb]", (MSB,)),
        ("[]", ()),
        ("both", (MSB, LSB)),
        ("MSB", (MSB,)),
        ("lsb", (LSB,)),
        ("none", ()),
        ("", (MSB, LSB)),
    ],
)
def test_bank_messages_are_a_list_or_a_word(tmp_path: Path, written: str, halves: tuple[BankMessage, ...]) -> None:
    assert board_in(tmp_path, f"bank_messages: {written}").bank_messages == halves


@pytest.mark.parametrize(
    ("halves", "bank", "expected"),
    [
        ("both", "[0, 32]", (0, 32)),
        ("msb", "81", (81, 0)),
        ("lsb", "3", (0, 3)),
        ("msb", "[81, 0]", (81, 0)),
    ],
)
def test_a_bank_is_two_numbers_or_the_one_that_is_wanted(
    tmp_path: Path, halves: str, bank: str, expected: tuple[int, int]
) -> None:
    board = board_in(tmp_path, f"bank_messages: {halves}\nsounds:\n  organ: {{program: 1, bank: {bank}}}")
    assert board.sounds[0].bank == expected


@pytest.mark.parametrize(
    ("written", "how"),
    [
        ("tuning", HowTransposed.MASTER_TUNING),
        ("master coarse tuning", HowTransposed.MASTER_TUNING),
        ("channel tuning", HowTransposed.CHANNEL_TUNING),
        ("none", HowTransposed.NONE),
        ("", HowTransposed.NONE),
    ],
)
def test_a_key_change_reaches_it_in_one_of_three_ways(tmp_path: Path, written: str, how: HowTransposed) -> None:
    assert board_in(tmp_path, f"transpose: {written}").transpose is how


def test_a_sound_has_controls_before_and_after_and_raw_messages(tmp_path: Path) -> None:
    board = board_in(
        tmp_path,
        """\
sounds:
  pad:
    program: 90
    before: {expression: 0}
    controls: {11: 127, reverb: 40}
    send: ["F0 7E 7F 09 01 F7", "B0 5B 28 B0 5D 10"]
  effect: {send: FA}
""",
    )
    assert board.sounds == (
        Sound(
            "pad",
            program=89,
            before=((11, 0),),
            controls=((11, 127), (91, 40)),
            send=(bytes.fromhex("f07e7f0901f7"), bytes.fromhex("b05b28"), bytes.fromhex("b05d10")),
            panel="90",
        ),
        Sound("effect", send=(b"\xfa",)),
    )


def test_a_sustain_may_be_a_list_and_a_pedal_may_be_held(tmp_path: Path) -> None:
    rig = rig_in(
        tmp_path,
        """\
rig: Home
sustain:
  - {port: Stage Piano}
  - {port: Synth, control: sostenuto, channel: 2}
pedals:
  single: {port: Foot Box, control: soft, press: next, hold: take back, reversed: yes}
  pad: {port: Pads, channel: 10, note: 36, press: all off}
  turner: {key: PgDn, press: next song}
""",
    )
    assert rig.sustain == (Sustain("Stage Piano"), Sustain("Synth", control=66, channel=2))
    assert rig.pedals == (
        Pedal("single", port="Foot Box", control=67, press=Action.NEXT, hold=Action.TAKE_BACK, reversed=True),
        Pedal("pad", port="Pads", channel=10, note=36, press=Action.ALL_OFF),
        Pedal("turner", key="page down", press=Action.NEXT_SONG),
    )


@pytest.mark.parametrize("action", Action)
def test_every_action_can_be_put_on_a_press_and_on_a_hold(tmp_path: Path, action: Action) -> None:
    rig = rig_in(tmp_path, f"rig: R\npedals: {{one: {{key: a, press: {action.value}, hold: {action.value}}}}}")
    assert (rig.pedals[0].press, rig.pedals[0].hold) == (action, action)


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("§keyboards:", 'a rig has no "rig". Write: rig: a text'),
        ("rig: R\n§keybords:", 'a rig has no key "keybords". Write: keyboards'),
        (
            "rig: R\nkeyboards: {lower: {channel: §17}}",
            "17 is out of range: a MIDI channel, 1 to 16. Write: 16",
        ),
        ("rig: R\nkeyboards: {lower: {channel: §0}}", "0 is out of range: a MIDI channel, 1 to 16. Write: 1"),
        (
            "rig: R\nkeyboards: {lower: {sounds: {organ: §0}}}",
            "program 0, and this panel counts from 1. Write: 1 to 128, or programs_from: 0",
        ),
        (
            "rig: R\nkeyboards: {lower: {sounds: {organ: §129}}}",
            "program 129, and this panel counts from 1 to 128. Write: 1 to 128",
        ),
        (
            "rig: R\nkeyboards: {lower: {sounds: {organ: {program: §A19}}, programs_from: banks of eight}}",
            '"A19": a digit counts from 1 to 8, and 9 is none. Write: A11 to B88 or 1-1 to 16-8',
        ),
        (
            "rig: R\nkeyboards: {lower: {programs_from: §2}}",
            '"2" is none of 1, 0 or banks of eight. Write: 1, 0 or banks of eight',
        ),
        (
            "rig: R\nkeyboards: {lower: {bank_messages: §one}}",
            '"one" is none of both, msb, lsb, none. Write: msb or lsb, the one that it wants',
        ),
        (
            "rig: R\nkeyboards: {lower: {sounds: {organ: {program: 1, bank: §3}}}}",
            'one number, and "lower" wants both halves. Write: [3, 0] or [0, 3]',
        ),
        (
            "rig: R\nkeyboards: {lower: {bank_messages: none, sounds: {organ: {program: 1, bank: §[0, 3]}}}}",
            '"lower" has bank_messages: none, so this bank is never sent. Write: bank_messages: both',
        ),
        (
            "rig: R\nkeyboards: {lower: {sounds: {organ: {program: 1, bank: [0, §128]}}}}",
            "128 is out of range: half of a bank, 0 to 127. Write: 127",
        ),
        (
            "rig: R\nkeyboards: {lower: {sounds: {organ: {program: 1, bank: §[1, 2, 3]}}}}",
            "a bank as [MSB, LSB], 0 to 127 each, is two numbers. Write: bank: [0, 32]",
        ),
        (
            "rig: R\nkeyboards: {lower: {sounds: {choir: {by_hand: B4, bank: §[0, 1]}}}}",
            "a bank is chosen by the program change after it, and there is no program. Write: program: 1",
        ),
        (
            "rig: R\nkeyboards: {lower: {sounds: {choir: §{controls: {volume: 90}}}}}",
            (
                'nothing puts the sound "choir" on. '
                'Write: choir: 17 (the program, as the panel shows it), or {by_hand: "bank B, button 4"}'
            ),
        ),
        (
            "rig: R\nkeyboards: {lower: {sounds: {a: {program: §[1], by_hand: B}}}}",
            "the program, as the panel shows it, is one number. Write: 17, or {program: 17, bank: [0, 32]}",
        ),
        (
            "rig: R\nkeyboards: {lower: {sounds: {a: {program: 1, controls: {§volum: 90}}}}}",
            'there is no controller called "volum". Write: volume',
        ),
        (
            "rig: R\nkeyboards: {lower: {sounds: {a: {program: 1, controls: {volume: §128}}}}}",
            "128 is out of range: a controller's value, 0 to 127. Write: 127",
        ),
        (
            "rig: R\nkeyboards: {lower: {sounds: {a: {program: 1, controls: §{volume: 1, 7: 2}}}}}",
            "controller 7 stands twice under controls. Write: it once",
        ),
        (
            "rig: R\nkeyboards: {lower: {sounds: {a: {program: 1, before: {§32: 1}}}}}",
            "controller 32 chooses the bank. Write: bank: [MSB, LSB]",
        ),
        (
            'rig: R\nkeyboards: {lower: {sounds: {a: {program: 1, send: [§"B0 5B"]}}}}',
            "B0 takes 2 data bytes, and here it has 1. Write: the whole message",
        ),
        (
            'rig: R\nkeyboards: {lower: {sounds: {a: {program: 1, send: ["B0 5B §80"]}}}}',
            "80 is no data byte. Write: 00 to 7F: B0 takes 2 of them",
        ),
        (
            "rig: R\nkeyboards:\n  lower:\n    sounds:\n      Organ: 1\n      organ : §2",
            'two sounds "organ" on one keyboard. Write: another name for one of them',
        ),
        ("rig: R\nsustain: §{control: 64}", 'a sustain pedal has no "port". Write: port: a text'),
        (
            "rig: R\npedals: {one: §{port: Box, press: next}}",
            'the pedal "one" has neither control, note nor key. Write: control: 64, or key: page down',
        ),
        (
            "rig: R\npedals: {one: {port: Box, control: 64, note: §3, press: next}}",
            'the pedal "one" has a control and a note. Write: one of them, the other left out',
        ),
        (
            "rig: R\npedals: {one: {control: 64, key: §a, press: next}}",
            'the pedal "one" has a control and a key. Write: one of them, the other left out',
        ),
        (
            "rig: R\npedals: {one: §{control: 64, press: next}}",
            (
                'the pedal "one" names no port, so the player\'s own sustain could step the show. '
                "Write: port: a part of the port's name, as companion ports lists it"
            ),
        ),
        (
            "rig: R\npedals: {one: {key: a, port: §Box, press: next}}",
            "a computer key has no port. Write: control or note, or leave port out",
        ),
        ("rig: R\npedals: {one: {key: §page dwn, press: next}}", 'there is no key "page dwn". Write: page down'),
        (
            "rig: R\npedals: {one: {key: a, press: §nxt}}",
            f'"nxt" is none of {ACTIONS}. Write: next',
        ),
        (
            "rig: R\npedals: {one: {port: Box, control: §120, press: next}}",
            ("there is no controller 120; they go to 119. Write: a controller, 0 to 119, or its name such as volume"),
        ),
        (
            "rig: R\npedals: {one: {key: a, press: next}, two: {key: §A, press: back}}",
            'the key a is "one" already. Write: another key',
        ),
        ("rig: R\nscreen: {width_mm: §3}", "3 is out of range: a width in mm, 50 to 5000. Write: 50"),
    ],
)
def test_a_fault_has_its_place_and_its_fix(tmp_path: Path, text: str, fault: str) -> None:
    unmarked, place = marked(text)
    assert faults_in(tmp_path, unmarked) == [f"{place}: {fault}"]


def test_all_faults_of_a_file_are_told_at_once(tmp_path: Path) -> None:
    text = """\
rig: R
keyboards:
  lower: {channel: 17, sounds: {organ: 0}}
  upper: {chanel: 2}
pedals:
  one: {port: Box, control: 64, press: nxt}
  two: {port: Box, control: 64, press: next}
"""
    assert [fault.partition(": ")[0] for fault in faults_in(tmp_path, text)] == [
        "3:20",
        "3:40",
        "4:11",
        "6:40",
        "7:29",
    ]


@pytest.mark.parametrize(
    ("text", "warning"),
    [
        ("rig: R\npedals: {one: §{key: a}}", 'the pedal "one" does nothing. Write: press: next'),
        (
            "rig: R\nkeyboards: {lower: {bank_messages: lsb, sounds: {organ: {program: 1, bank: §[8, 3]}}}}",
            '"lower" does not want the msb, so 8 is not sent. Write: bank_messages: both',
        ),
        (
            "rig: R\nkeyboards: {lower: {port: Stage Piano}}\npedals: {one: {port: stage, control: §64, press: next}}",
            (
                'control 64 of a keyboard\'s port is likely to be its own sustain, and "one" steps. '
                "Write: another control, if this pedal can send one"
            ),
        ),
    ],
)
def test_what_is_probably_not_meant_is_a_warning(tmp_path: Path, text: str, warning: str) -> None:
    unmarked, place = marked(text)
    assert warnings_in(tmp_path, unmarked) == [f"{place}: {warning}"]


def test_a_part_of_the_rig_is_found_again_in_its_file(tmp_path: Path) -> None:
    file = tmp_path / "rig.yaml"
    file.write_text(DESIGN_PAGE, encoding="utf-8")
    read = read_rig(file)
    (lower,) = read.rig.keyboards
    organ = lower.sounds[1]
    assert str(read.places.fault(organ, "bank", problem="here")) == f"{file}:15:44: here"
    assert str(read.places.fault(lower, "channel", problem="here")) == f"{file}:5:14: here"
    assert str(read.places.fault(read.rig.pedals[2], problem="here")) == f"{file}:21:16: here"


@pytest.mark.parametrize("hostile", ["", "rig: [", "- a list", "just words", "rig: R\nkeyboards: [lower]", "\x00"])
def test_what_is_no_rig_ends_in_a_fault(tmp_path: Path, hostile: str) -> None:
    assert faults_in(tmp_path, hostile)
