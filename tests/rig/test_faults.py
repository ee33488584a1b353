"""The rig file: each fault with its place and its fix, and what is probably not meant."""

from pathlib import Path

import pytest

from companion.errors import FaultyFile
from companion.rig import Action, read_rig

*_MOST, _LAST = [action.value for action in Action]
ACTIONS = f"{', '.join(_MOST)} or {_LAST}"


def faults_in(tmp_path: Path, text: str) -> list[str]:
    """Return the faults as a player reads them, without the path."""
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
    """Return the text without its § mark, and the mark's line and column as an editor shows them."""
    before, _, after = text.partition("§")
    return before + after, f"{before.count(chr(10)) + 1}:{len(before.rpartition(chr(10))[2]) + 1}"


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
            "program 0, but this panel counts from 1. Write: 1 to 128, or programs_from: 0",
        ),
        (
            "rig: R\nkeyboards: {lower: {sounds: {organ: §129}}}",
            "program 129, but this panel counts from 1 to 128. Write: 1 to 128",
        ),
        (
            "rig: R\nkeyboards: {lower: {sounds: {organ: {program: §A19}}, programs_from: banks of eight}}",
            '"A19": digits go from 1 to 8, not 9. Write: A11 to B88 or 1-1 to 16-8',
        ),
        (
            "rig: R\nkeyboards: {lower: {programs_from: §2}}",
            '"2" is not one of 1, 0 or banks of eight. Write: 1, 0 or banks of eight',
        ),
        (
            "rig: R\nkeyboards: {lower: {bank_messages: §one}}",
            '"one" is not both, msb, lsb or none. Write: msb or lsb, whichever it takes',
        ),
        (
            "rig: R\nkeyboards: {lower: {sounds: {organ: {program: 1, bank: §3}}}}",
            'one number, but "lower" takes both halves. Write: [3, 0] or [0, 3]',
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
            "a bank takes effect with the program change after it, and there is no program. Write: program: 1",
        ),
        (
            "rig: R\nkeyboards: {lower: {sounds: {choir: §{controls: {volume: 90}}}}}",
            (
                'nothing selects the sound "choir". '
                'Write: choir: 17 (the program, as the panel shows it), or {by_hand: "bank B, button 4"}'
            ),
        ),
        (
            "rig: R\nkeyboards: {lower: {sounds: {a: {program: §[1], by_hand: B}}}}",
            "the program, as the panel shows it, is one number. Write: 17, or {program: 17, bank: [0, 32]}",
        ),
        (
            "rig: R\nkeyboards: {lower: {sounds: {a: {program: 1, controls: {§volum: 90}}}}}",
            'there is no controller named "volum". Write: volume',
        ),
        (
            "rig: R\nkeyboards: {lower: {sounds: {a: {program: 1, controls: {volume: §128}}}}}",
            "128 is out of range: a controller's value, 0 to 127. Write: 127",
        ),
        (
            "rig: R\nkeyboards: {lower: {sounds: {a: {program: 1, controls: §{volume: 1, 7: 2}}}}}",
            "controller 7 is under controls twice. Write: it once",
        ),
        (
            "rig: R\nkeyboards: {lower: {sounds: {a: {program: 1, before: {§32: 1}}}}}",
            "controller 32 selects the bank. Write: bank: [MSB, LSB]",
        ),
        (
            'rig: R\nkeyboards: {lower: {sounds: {a: {program: 1, send: [§"B0 5B"]}}}}',
            "B0 takes 2 data bytes but has 1. Write: the whole message",
        ),
        (
            'rig: R\nkeyboards: {lower: {sounds: {a: {program: 1, send: ["B0 5B §80"]}}}}',
            "80 is not a data byte. Write: 00 to 7F: B0 takes 2 of them",
        ),
        (
            "rig: R\nkeyboards:\n  lower:\n    sounds:\n      Organ: 1\n      organ : §2",
            'this keyboard has two sounds "organ". Write: another name for one of them',
        ),
        ("rig: R\nsustain: §{control: 64}", 'a sustain pedal has no "port". Write: port: a text'),
        (
            "rig: R\npedals: {one: §{port: Box, press: next}}",
            'the pedal "one" has no control, note or key. Write: control: 64, or key: page down',
        ),
        (
            "rig: R\npedals: {one: {port: Box, control: 64, note: §3, press: next}}",
            'the pedal "one" has a control and a note. Write: only one of them',
        ),
        (
            "rig: R\npedals: {one: {control: 64, key: §a, press: next}}",
            'the pedal "one" has a control and a key. Write: only one of them',
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
        (
            "rig: R\npedals: {one: {key: a, latching: §yes, press: next}}",
            "a computer key has no latching. Write: control or note, or leave latching out",
        ),
        (
            "rig: R\npedals: {one: {port: Box, control: 80, press: next, latching: yes, hold: §back}}",
            "a latching switch cannot report a hold. Write: leave hold out",
        ),
        ("rig: R\npedals: {one: {key: §page dwn, press: next}}", 'there is no key "page dwn". Write: page down'),
        (
            "rig: R\npedals: {one: {key: a, press: §nxt}}",
            f'"nxt" is not one of {ACTIONS}. Write: next',
        ),
        (
            "rig: R\npedals: {one: {port: Box, control: §120, press: next}}",
            ("there is no controller 120; the last is 119. Write: a controller, 0 to 119, or its name such as volume"),
        ),
        (
            "rig: R\npedals: {one: {key: a, press: next}, two: {key: §A, press: back}}",
            'the key a is already "one". Write: another key',
        ),
        ("rig: R\nscreen: {width_mm: §3}", "3 is out of range: a width in mm, 50 to 5000. Write: 50"),
        ("rig: R\nscreen: {monitor: §17}", "17 is out of range: a monitor, 1 to 16. Write: 16"),
        (
            "rig: R\npedals: {one: {port: Box, note: §128, press: next}}",
            "128 is out of range: a note, 0 to 127. Write: 127",
        ),
        (
            f"rig: R\nkeyboards: {{lower: {{sounds: {{{'o' * 60}§o: 1}}}}}}",
            f'61 characters, at most 60 fit here. Write: "{"o" * 59}…"',
        ),
    ],
)
def test_each_fault_has_a_place_and_a_fix(tmp_path: Path, text: str, fault: str) -> None:
    unmarked, place = marked(text)
    assert faults_in(tmp_path, unmarked) == [f"{place}: {fault}"]


def test_all_faults_of_a_file_are_reported_together(tmp_path: Path) -> None:
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
            '"lower" does not take the msb, so 8 is not sent. Write: bank_messages: both',
        ),
        (
            "rig: R\nkeyboards: {lower: {port: Stage Piano}}\npedals: {one: {port: stage, control: §64, press: next}}",
            (
                'control 64 on a keyboard\'s port is probably its sustain, but "one" steps the show. '
                "Write: another control, if this pedal can send one"
            ),
        ),
    ],
)
def test_a_probable_slip_is_a_warning(tmp_path: Path, text: str, warning: str) -> None:
    unmarked, place = marked(text)
    assert warnings_in(tmp_path, unmarked) == [f"{place}: {warning}"]


@pytest.mark.parametrize("hostile", ["", "rig: [", "- a list", "just words", "rig: R\nkeyboards: [lower]", "\x00"])
def test_a_file_that_is_not_a_rig_is_a_fault(tmp_path: Path, hostile: str) -> None:
    assert faults_in(tmp_path, hostile)
