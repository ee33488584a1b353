"""What is kept in a rig file: levels, sounds, pedals. Each file is read again by another YAML reader, PyYAML."""

import re
from pathlib import Path
from typing import Any

import pytest
import yaml
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from companion.errors import CompanionError
from companion.rig import BUILT_IN, Action, Pedal, Rig, Sound, Sustain, find_sound, read_rig
from companion.soundcheck.rig_edits import keep_in_rig, kept
from companion.soundcheck.talk import KeepLevel, KeepLevels, KeepPedals, KeepSound, PedalSet, SustainSet

ROOT = Path(__file__).resolve().parents[2]
CONFIGS = sorted((ROOT / "config").glob("*.yaml"))

RIG = """\
# tonight's boards
rig: Hired
keyboards:
  lower:
    port: Stage Piano   # the left socket
    bank_messages: none
    sounds:
      grand piano: 1             # as the panel shows it
      Organ: {program: 17, controls: {reverb: 40}}   # mine
      strings: {program: 49, controls: {channel volume: 90}}
      pad:
        program: 90              # on its own line
      choir: {by_hand: "button #4"}   # no message
  upper: {port: Foldaway Synth, channel: 2, programs_from: banks of eight, bank_messages: [msb, lsb], general_midi: yes}
# the player's own
sustain: {port: Stage Piano, control: damper}   # never a step
# left and right
pedals:
  # the one that matters
  right: {port: Foot Box, channel: 1, control: 64, press: next}   # mine, too
  # and its brother
  left:
    port: Foot Box
    control: 67   # soft
    press: back

# how far
screen: {width_mm: 345, distance_m: 1.8}
"""


def comments(text: str) -> list[str]:
    """The comments of RIG and of the rigs that come with the program: their # begins no value but in quotes."""
    found = []
    for line in text.splitlines():
        plain = re.sub(r'"[^"]*"', lambda quoted: "_" * len(quoted[0]), line)
        if "#" in plain and (at := plain.index("#")) >= 0 and (at == 0 or plain[at - 1] == " "):
            found.append(line[at:])
    return found


def rig_in(text: str, folder: Path) -> Rig:
    file = folder / "rig.yaml"
    file.write_text(text, encoding="utf-8")
    return read_rig(file).rig


def as_yaml(text: str) -> Any:  # noqa: ANN401 - whatever is in the file
    """Read as another program would: every scalar as text, so that on and 010 stay what was typed."""
    return yaml.load(text, Loader=yaml.BaseLoader)  # noqa: S506 - BaseLoader makes texts only


def with_level(text: str, rig: Rig, board: int, sound: Sound, level: int) -> Any:  # noqa: ANN401 - same
    after = kept(text, KeepLevel(rig.keyboards[board], sound, level))
    assert not set(comments(text)) - set(comments(after)), "a comment is lost"
    return as_yaml(after)


@pytest.mark.parametrize(
    ("sound", "expected"),
    [
        ("grand piano", {"program": "1", "controls": {"volume": "80"}}),
        ("Organ", {"program": "17", "controls": {"reverb": "40", "volume": "80"}}),
        ("strings", {"program": "49", "controls": {"channel volume": "80"}}),
        ("pad", {"program": "90", "controls": {"volume": "80"}}),
        ("choir", {"by_hand": "button #4", "controls": {"volume": "80"}}),
    ],
)
def test_a_level_is_written_at_its_sound_in_any_form(sound: str, expected: dict[str, object], tmp_path: Path) -> None:
    rig = rig_in(RIG, tmp_path)
    found = find_sound(rig, sound)
    assert isinstance(found, tuple)
    before, after = as_yaml(RIG), with_level(RIG, rig, 0, found[1], 80)
    assert after["keyboards"]["lower"]["sounds"].pop(sound) == expected
    del before["keyboards"]["lower"]["sounds"][sound]
    assert after == before, "something else has changed"


def test_a_name_in_another_case_is_found_as_it_is_typed(tmp_path: Path) -> None:
    after = with_level(RIG, rig_in(RIG, tmp_path), 0, Sound("ORGAN", 16), 80)
    assert after["keyboards"]["lower"]["sounds"]["Organ"]["controls"]["volume"] == "80"
    assert "ORGAN" not in after["keyboards"]["lower"]["sounds"]


def test_a_sound_from_the_general_midi_list_gets_a_line_of_its_own_as_the_panel_counts(tmp_path: Path) -> None:
    after = with_level(RIG, rig_in(RIG, tmp_path), 1, Sound("church organ", 19), 80)
    # banks of eight (common practice, no source): 64 x 0 + 8 x 2 + 3 is byte 19, A34
    assert after["keyboards"]["upper"]["sounds"] == {"church organ": {"program": "A34", "controls": {"volume": "80"}}}


def test_the_line_of_a_sound_stays_one_line(tmp_path: Path) -> None:
    rig = rig_in(RIG, tmp_path)
    after = kept(RIG, KeepLevel(rig.keyboards[0], Sound("grand piano", 0), 80))
    assert "      grand piano: {program: 1, controls: {volume: 80}} # as the panel shows it\n" in after


@pytest.mark.parametrize("config", CONFIGS, ids=lambda path: path.stem)
def test_the_rigs_that_come_with_the_program_take_levels_and_lose_no_comment(config: Path) -> None:
    text, rig = config.read_text(encoding="utf-8"), read_rig(config).rig
    for number, board in enumerate(rig.keyboards):
        for sound in board.sounds[::4]:
            after = with_level(text, rig, number, sound, 33)
            assert after["keyboards"][board.name]["sounds"][sound.name]["controls"]["volume"] == "33"


def captured(text: str, request: KeepSound, folder: Path) -> tuple[Any, Rig]:
    after = kept(text, request)
    assert not set(comments(text)) - set(comments(after)), "a comment is lost"
    return as_yaml(after), rig_in(after, folder)


HIRED = """\
rig: Hired
keyboards:
  board:
    port: Club Workstation
    bank_messages: {bank_messages}
    programs_from: {counts}
"""


@pytest.mark.parametrize(
    ("bank_messages", "counts", "bank", "expected", "program", "in_rig"),
    [
        ("both", "1", (0, 32), {"program": "17", "bank": ["0", "32"]}, 16, (0, 32)),
        ("both", "0", (81, None), {"program": "16", "bank": ["81", "0"]}, 16, (81, 0)),
        ("both", "1", (None, None), "17", 16, None),
        ("msb", "banks of eight", (4, 0), {"program": "A31", "bank": "4"}, 16, (4, 0)),
        ("lsb", "1", (0, 3), {"program": "128", "bank": "3"}, 127, (0, 3)),
        ("none", "1", (0, 0), "17", 16, None),
        ("none", "1", (0, 32), {"program": "17", "bank": "32"}, 16, (0, 32)),  # what it sends it understands
        ("msb", "1", (4, 9), {"program": "17", "bank": ["4", "9"]}, 16, (4, 9)),
    ],
)
def test_what_a_board_sent_is_stored_so_that_it_reads_as_the_same(
    bank_messages: str,
    counts: str,
    bank: tuple[int | None, int | None],
    expected: object,
    program: int,
    in_rig: tuple[int, int] | None,
    tmp_path: Path,
) -> None:
    text = HIRED.format(bank_messages=bank_messages, counts=counts)
    board = rig_in(text, tmp_path).keyboards[0]
    written, rig = captured(text, KeepSound(board, "tonewheel organ", program, bank), tmp_path)
    assert written["keyboards"]["board"]["sounds"]["tonewheel organ"] == expected
    (sound,) = rig.keyboards[0].sounds
    assert (sound.name, sound.program, sound.bank) == ("tonewheel organ", program, in_rig)


def test_words_for_the_hand_are_stored_where_nothing_was_sent(tmp_path: Path) -> None:
    text = HIRED.format(bank_messages="both", counts="1")
    board = rig_in(text, tmp_path).keyboards[0]
    written, rig = captured(text, KeepSound(board, "choir", by_hand="bank B, button #4"), tmp_path)
    assert written["keyboards"]["board"]["sounds"] == {"choir": {"by_hand": "bank B, button #4"}}
    assert rig.keyboards[0].sounds[0].by_hand == "bank B, button #4"


def test_words_for_the_hand_leave_the_program_that_is_there(tmp_path: Path) -> None:
    board = rig_in(RIG, tmp_path).keyboards[0]
    written, _ = captured(RIG, KeepSound(board, "grand piano", by_hand="A, 1"), tmp_path)
    assert written["keyboards"]["lower"]["sounds"]["grand piano"] == {"program": "1", "by_hand": "A, 1"}


def test_another_program_keeps_the_controls_and_removes_the_old_bank(tmp_path: Path) -> None:
    text = HIRED.format(bank_messages="both", counts="1") + (
        "    sounds:\n      organ: {program: 5, bank: [0, 7], controls: {reverb: 9}}   # loud\n"
    )
    board = rig_in(text, tmp_path).keyboards[0]
    written, _ = captured(text, KeepSound(board, "organ", 16), tmp_path)
    assert written["keyboards"]["board"]["sounds"]["organ"] == {"program": "17", "controls": {"reverb": "9"}}


def test_a_bank_that_would_change_other_sounds_is_refused_with_what_to_write(tmp_path: Path) -> None:
    text = HIRED.format(bank_messages="msb", counts="1") + "    sounds:\n      organ: {program: 5, bank: 4}\n"
    board = rig_in(text, tmp_path).keyboards[0]
    with pytest.raises(CompanionError, match=r"lsb 9.*bank_messages: both"):
        kept(text, KeepSound(board, "lead", 80, (4, 9)))


def pedals_kept(text: str, *, pedals: tuple[PedalSet, ...] = (), **more: Any) -> Any:  # noqa: ANN401 - as KeepPedals
    return as_yaml(kept(text, KeepPedals(pedals, **more)))


def test_a_pedal_that_is_another_switch_now_keeps_its_name_its_comment_and_what_it_does(tmp_path: Path) -> None:
    right = rig_in(RIG, tmp_path).pedals[0]
    now = Pedal("right", port="Stage Piano", channel=2, control=80, press=Action.ALL_OFF, reversed=True)
    request = KeepPedals((PedalSet(now, right),))
    after = kept(RIG, request)
    assert as_yaml(after)["pedals"]["right"] == {
        "port": "Stage Piano",
        "channel": "2",
        "control": "80",
        "press": "next",
        "reversed": "yes",
    }
    assert "# mine, too" in after
    assert len(comments(after)) == len(comments(RIG))


def test_a_latching_switch_loses_its_hold(tmp_path: Path) -> None:
    text = RIG.replace("press: next}", "press: next, hold: again}")
    right = rig_in(text, tmp_path).pedals[0]
    after = kept(text, KeepPedals((PedalSet(replace(right, hold=None, latching=True), right),)))
    assert as_yaml(after)["pedals"]["right"] == {
        "port": "Foot Box",
        "channel": "1",
        "control": "64",
        "press": "next",
        "latching": "yes",
    }
    rig_in(after, tmp_path)  # it can be read


def test_an_unchanged_pedal_changes_nothing(tmp_path: Path) -> None:
    right, left = rig_in(RIG, tmp_path).pedals
    assert kept(RIG, KeepPedals((PedalSet(right, right), PedalSet(left, left)))) == RIG
    damper = Sustain("Stage Piano", 64)
    assert kept(RIG, KeepPedals(sustains=(SustainSet(damper, 0),))) == RIG, "damper is control 64 (MIDI 1.0, Table III)"


def test_a_control_becomes_a_key_and_the_port_goes(tmp_path: Path) -> None:
    left = rig_in(RIG, tmp_path).pedals[1]
    after = pedals_kept(RIG, pedals=(PedalSet(Pedal("left", key="page up", press=Action.BACK), left),))
    assert after["pedals"]["left"] == {"key": "page up", "press": "back"}


def test_a_new_pedal_is_one_line_and_a_first_one_makes_the_table() -> None:
    pad = Pedal("again", port="Pads", channel=10, note=51, press=Action.AGAIN)
    assert pedals_kept(RIG, pedals=(PedalSet(pad),))["pedals"]["again"] == {
        "port": "Pads",
        "channel": "10",
        "note": "51",
        "press": "again",
    }
    assert "again: {port: Pads, channel: 10, note: 51, press: again}" in kept(RIG, KeepPedals((PedalSet(pad),)))
    bare = "rig: bare\nkeyboards: {board: {general_midi: yes}}   # one\n"
    assert list(pedals_kept(bare, pedals=(PedalSet(pad),))["pedals"]) == ["again"]


def test_a_pedal_that_is_taken_out_goes_with_its_own_comment_and_no_other() -> None:
    after = kept(RIG, KeepPedals(out=("right",)))
    assert list(as_yaml(after)["pedals"]) == ["left"]
    assert set(comments(RIG)) - set(comments(after)) == {"# mine, too"}
    after = kept(RIG, KeepPedals(out=("left",)))
    assert set(comments(RIG)) - set(comments(after)) == {"# soft"}
    assert as_yaml(kept(RIG, KeepPedals(out=("left", "right"))))["pedals"] == ""


def test_a_pedal_inside_braces_with_others_is_taken_out_of_them() -> None:
    text = "rig: r\npedals: {a: {key: a, press: next}, b: {key: b, press: back}}   # two\n"
    assert kept(text, KeepPedals(out=("a",))) == "rig: r\npedals: {b: {key: b, press: back}}   # two\n"


def test_a_second_sustain_makes_a_list_and_a_third_joins_it() -> None:
    one = as_yaml(kept(RIG, KeepPedals(sustains=(SustainSet(Sustain("Foldaway Synth", 64, 2)),))))
    assert one["sustain"] == [
        {"port": "Stage Piano", "control": "damper"},
        {"port": "Foldaway Synth", "control": "64", "channel": "2"},
    ]
    two = (ROOT / "config/two-tiers.yaml").read_text(encoding="utf-8")
    three = kept(two, KeepPedals(sustains=(SustainSet(Sustain("Organ", 64)),)))
    assert as_yaml(three)["sustain"][2] == {"port": "Organ", "control": "64"}
    assert not set(comments(two)) - set(comments(three))


def test_a_first_sustain_and_a_changed_one() -> None:
    bare = "rig: bare\n"
    assert as_yaml(kept(bare, KeepPedals(sustains=(SustainSet(Sustain("A")),))))["sustain"] == {
        "port": "A",
        "control": "64",
    }
    after = as_yaml(kept(RIG, KeepPedals(sustains=(SustainSet(Sustain("Board", 66), 0),))))
    assert after["sustain"] == {"port": "Board", "control": "66"}


def test_a_change_that_would_be_a_fault_is_not_written(tmp_path: Path) -> None:
    file = tmp_path / "rig.yaml"
    file.write_text(RIG)
    same_switch = Pedal("twin", port="Foot Box", channel=1, control=64, press=Action.AGAIN)
    with pytest.raises(CompanionError, match=r"would have an error: .*right"):
        keep_in_rig(file, KeepPedals((PedalSet(same_switch),)))
    assert file.read_text() == RIG


def test_a_file_edited_meanwhile_is_read_again(tmp_path: Path) -> None:
    rig = rig_in(RIG, tmp_path)
    now = RIG.replace("grand piano: 1 ", "grand piano: 2 ").replace("lower:", "Lower:")
    request = KeepLevel(rig.keyboards[0], Sound("grand piano", 0), 80)
    assert as_yaml(kept(now, request))["keyboards"]["Lower"]["sounds"]["grand piano"]["program"] == "2"
    with pytest.raises(CompanionError, match='no longer has a keyboard "lower"'):
        kept(RIG.replace("lower:", "middle:"), request)


def test_a_level_that_was_changed_in_the_file_meanwhile_is_not_written_over(tmp_path: Path) -> None:
    rig = rig_in(RIG, tmp_path)
    strings = find_sound(rig, "strings")
    assert isinstance(strings, tuple)
    request = KeepLevels((KeepLevel(rig.keyboards[0], strings[1], 80, 90),))
    assert "channel volume: 80" in kept(RIG, request)
    with pytest.raises(CompanionError, match="strings has volume 70 there"):
        kept(RIG.replace("channel volume: 90", "channel volume: 70"), request)


def test_the_built_in_rig_and_a_refusing_disk_are_reported(tmp_path: Path) -> None:
    rig = rig_in(RIG, tmp_path)
    request = KeepLevel(rig.keyboards[0], Sound("grand piano", 0), 80)
    with pytest.raises(CompanionError, match="a copy of a file in config/"):
        keep_in_rig(BUILT_IN, request)
    with pytest.raises(CompanionError, match="no such file"):
        keep_in_rig(tmp_path / "gone.yaml", request)


def test_line_ends_and_a_link_stay(tmp_path: Path) -> None:
    file, link = tmp_path / "rig.yaml", tmp_path / "link.yaml"
    file.write_bytes(RIG.replace("\n", "\r\n").encode())
    link.symlink_to(file)
    keep_in_rig(link, KeepLevel(read_rig(file).rig.keyboards[0], Sound("grand piano", 0), 80))
    assert link.is_symlink()
    assert b"volume: 80" in file.read_bytes()
    assert file.read_bytes().count(b"\n") == file.read_bytes().count(b"\r\n")


def test_a_pedal_that_is_not_there_cannot_be_taken_out() -> None:
    with pytest.raises(CompanionError, match="no place"):
        kept(RIG, KeepPedals(out=("nobody",)))


LEVELS = st.integers(1, 127)
TWO_TIERS = read_rig(ROOT / "config/two-tiers.yaml").rig
ALL_SOUNDS = [(number, sound) for number, board in enumerate(TWO_TIERS.keyboards) for sound in board.sounds]


@settings(max_examples=examples(8))
@given(st.lists(st.tuples(st.sampled_from(ALL_SOUNDS), LEVELS), min_size=1, max_size=3))
def test_any_levels_change_nothing_else_in_the_rig_and_lose_no_comment(
    levels: list[tuple[tuple[int, Sound], int]],
) -> None:
    text = before = (ROOT / "config/two-tiers.yaml").read_text(encoding="utf-8")
    for (number, sound), level in levels:
        text = kept(text, KeepLevel(TWO_TIERS.keyboards[number], sound, level))
    assert not set(comments(before)) - set(comments(text))
    read, was = as_yaml(text), as_yaml(before)
    for (number, sound), level in dict(levels).items():
        board = TWO_TIERS.keyboards[number].name
        entry = read["keyboards"][board]["sounds"].pop(sound.name)
        was["keyboards"][board]["sounds"].pop(sound.name)
        assert entry["controls"]["volume"] == str(level)
    assert read == was
