"""The rig file: what may stand in it."""

from pathlib import Path

import pytest

from companion.changes import Change
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


def test_the_rig_of_the_design_page_is_read_in_full(tmp_path: Path) -> None:
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
    assert read_rig(tmp_path / "rig.yaml").warnings == ()


def test_a_rig_needs_only_a_name(tmp_path: Path) -> None:
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
def test_bank_messages_can_be_a_list_or_a_word(tmp_path: Path, written: str, halves: tuple[BankMessage, ...]) -> None:
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
def test_a_bank_is_two_numbers_or_the_one_that_is_sent(
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
def test_a_keyboard_takes_a_key_change_in_one_of_three_ways(tmp_path: Path, written: str, how: HowTransposed) -> None:
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
  stomp: {port: Stomp Box, control: 80, press: again, latching: yes}
""",
    )
    assert rig.sustain == (Sustain("Stage Piano"), Sustain("Synth", control=66, channel=2))
    assert rig.pedals == (
        Pedal("single", port="Foot Box", control=67, press=Action.NEXT, hold=Action.TAKE_BACK, reversed=True),
        Pedal("pad", port="Pads", channel=10, note=36, press=Action.ALL_OFF),
        Pedal("turner", key="page down", press=Action.NEXT_SONG),
        Pedal("stomp", port="Stomp Box", control=80, press=Action.AGAIN, latching=True),
    )


@pytest.mark.parametrize("action", Action)
def test_every_action_can_be_assigned_to_a_press_and_a_hold(tmp_path: Path, action: Action) -> None:
    rig = rig_in(tmp_path, f"rig: R\npedals: {{one: {{key: a, press: {action.value}, hold: {action.value}}}}}")
    assert (rig.pedals[0].press, rig.pedals[0].hold) == (action, action)


def test_each_part_of_a_rig_knows_its_place_in_the_file(tmp_path: Path) -> None:
    file = tmp_path / "rig.yaml"
    file.write_text(DESIGN_PAGE, encoding="utf-8")
    read = read_rig(file)
    (lower,) = read.rig.keyboards
    organ = lower.sounds[1]
    assert str(read.places.fault(organ, "bank", problem="here")) == f"{file}:15:44: here"
    assert str(read.places.fault(lower, "channel", problem="here")) == f"{file}:5:14: here"
    assert str(read.places.fault(read.rig.pedals[2], problem="here")) == f"{file}:21:16: here"


def test_a_rig_may_name_the_port_of_the_drummers_clock(tmp_path: Path) -> None:
    path = tmp_path / "rig.yaml"
    path.write_text("rig: Home\nclock_from: Drum Box\n")
    assert read_rig(path).rig.clock_from == "Drum Box"
