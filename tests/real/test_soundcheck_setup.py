"""Before the first sound, on real ports: ports listed, pedals set up by pressing them, a hired board captured."""

import time
from pathlib import Path

import pytest
import yaml
from real.before import Before, laid_out, tread, words
from real.jack import JackServer, JackTap
from real.synth import Synth


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """A show and its rig."""
    return laid_out(tmp_path)


def test_the_current_ports_are_listed_with_their_use_in_the_rig(
    jack: JackServer, synth: Synth, foot_box: JackTap, place: Path
) -> None:
    with Before(jack, place, *words(place, "ports", "--json")) as program:
        told = program.report()
    assert told["system"] == "jack"
    used = {port["name"]: (port["write"], port["used_for"]) for port in told["ports"] if port["used_for"]}
    assert used[synth.port] == ("Synth", ["lower, channel 1"])
    assert used[foot_box.output] == ("Foot Box", ["pedal right: next", "pedal left: back"])
    assert told["not_found"] == []


def test_pedals_are_identified_on_real_ports_and_written_as_standard_yaml(
    jack: JackServer, foot_box: JackTap, place: Path
) -> None:
    (place / "rig.yaml").write_text("rig: New   # mine\nkeyboards:\n  lower: {port: Stage Piano, general_midi: yes}\n")
    with JackTap(jack, "Stage Piano") as piano, Before(jack, place, *words(place, "pedals")) as program:
        jack.wait_for_connections("companion", 2)
        program.hears("YOUR OWN SUSTAIN", 30)
        tread(piano, 64)
        program.hears("control 64 of Stage Piano, channel 1, a switch, rests at 0")
        tread(piano, 64)
        program.hears("already your sustain, which never steps")
        for value in (0, 127):  # the other polarity
            foot_box.send(bytes((0xB2, 66, value)))
            time.sleep(0.06)
        program.hears("control 66 of Foot Box, channel 3, a switch, rests at 127: reversed")
        for value in (20, 60, 100, 127, 90, 40, 0):  # one that measures depth
            foot_box.send(bytes((0xB0, 4, value)))
            time.sleep(0.02)
        program.hears("control 4 of Foot Box, channel 1, measures depth")
        for message in ("99 33 40", "89 33 00"):  # a pad
            foot_box.send(bytes.fromhex(message))
        program.hears("note 51 of Foot Box, channel 10")
        program.key("page down", "d")
        program.hears("The new map")
        program.key("y")
        assert program.wait(20) == 0, "\n".join(program.lines)
    after = (place / "rig.yaml").read_text()
    assert "# mine" in after
    read = yaml.safe_load(after)
    assert read["sustain"] == {"port": "Stage Piano", "control": 64, "channel": 1}
    assert read["pedals"] == {
        "right": {"port": "Foot Box", "channel": 3, "control": 66, "press": "next", "reversed": True},
        "left": {"port": "Foot Box", "channel": 1, "control": 4, "press": "back"},
        "again": {"port": "Foot Box", "channel": 10, "note": 51, "press": "again"},
        "page down": {"key": "page down", "press": "take it out"},
    }


def test_sounds_are_captured_from_a_keyboard_or_typed(jack: JackServer, place: Path) -> None:
    (place / "rig.yaml").write_text(
        "rig: Hired\nkeyboards:\n  board: {port: Club Workstation, programs_from: 0}  # x\n"
    )
    with (
        JackTap(jack, "Club Workstation") as board,
        Before(jack, place, *words(place, "soundcheck", "--capture")) as program,
    ):
        jack.wait_for_connections("companion", 2)
        program.hears("GRAND PIANO", 30)
        for message in ("B0 00 51", "B0 20 03", "C0 10"):
            board.send(bytes.fromhex(message))
        program.hears("board sends bank msb 81, bank lsb 3, program 16")
        program.key("enter")
        program.hears("ORGAN")
        program.key("h")
        program.hears("What do you press on board")
        program.tell("bank B, button #4")
        program.hears("LEAD")
        program.key("d")
        assert program.wait(20) == 1, "a sound is missing still"
    after = (place / "rig.yaml").read_text()
    assert "# x" in after
    assert yaml.safe_load(after)["keyboards"]["board"]["sounds"] == {
        "grand piano": {"program": 16, "bank": [81, 3]},
        "organ": {"by_hand": "bank B, button #4"},
    }
