"""The rig files that come with the program: read without a word, valid by the schema, and right for one show."""

import subprocess
import sys
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from companion.rig import BUILT_IN, Action, Rig, Sound, SoundMissing, find_sound, read_rig, rig_schema

CONFIG = Path(__file__).parents[2] / "config"
FILES = [BUILT_IN, *sorted(CONFIG.glob("*.yaml"))]


def rig(name: str) -> Rig:
    return read_rig(CONFIG / name).rig


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_our_rig_files_read_without_warnings(file: Path) -> None:
    assert read_rig(file).warnings == ()


def test_the_rig_schema_is_valid() -> None:
    jsonschema.Draft202012Validator.check_schema(rig_schema())


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_our_rig_files_are_valid_by_the_schema(file: Path) -> None:
    jsonschema.Draft202012Validator(rig_schema()).validate(yaml.safe_load(file.read_text(encoding="utf-8")))


@pytest.mark.parametrize(
    "wrong",
    [
        {},
        {"rig": "R", "keybords": {}},
        {"rig": "R", "keyboards": {"lower": {"channel": 17}}},
        {"rig": "R", "keyboards": {"lower": {"programs_from": 2}}},
        {"rig": "R", "keyboards": {"lower": {"sounds": {"a": 129}}}},
        {"rig": "R", "keyboards": {"lower": {"sounds": {"a": {"program": 1, "bank": [1, 2, 3]}}}}},
        {"rig": "R", "pedals": {"one": {"key": "a", "press": "nxt"}}},
    ],
)
def test_the_schema_refuses_what_the_reader_refuses(wrong: dict[str, Any]) -> None:
    assert list(jsonschema.Draft202012Validator(rig_schema()).iter_errors(wrong))


def test_the_built_in_rig_has_all_general_midi_sounds_and_steps_by_page_and_arrow_keys() -> None:
    built_in = read_rig(BUILT_IN).rig
    # General MIDI System Level 1, sound set: gunshot is 128 counted from 1
    assert find_sound(built_in, "Gunshot") == (0, Sound("Gunshot", program=127))
    assert {pedal.key: pedal.press.value for pedal in built_in.pedals} == {
        "page down": "next",
        "page up": "back",
        "right": "next",
        "left": "back",
        "down": "next",
        "up": "back",
    }
    assert built_in.keyboards[0].port is None


def test_the_example_names_every_action() -> None:
    comments = (CONFIG / "two-tiers.yaml").read_text(encoding="utf-8").replace("\n# ", " ")
    assert [action.value for action in Action if f" {action.value}" not in comments] == []


@pytest.mark.parametrize("keyboard", ["lower", "upper"])
def test_one_board_has_every_sound_of_the_two_tiers(keyboard: str) -> None:
    one_board = rig("one-board.yaml")
    (board,) = [board for board in rig("two-tiers.yaml").keyboards if board.name == keyboard]
    missing = [
        sound.name for sound in board.sounds if isinstance(find_sound(one_board, sound.name, keyboard), SoundMissing)
    ]
    assert missing == []


def test_reading_a_rig_loads_nothing_that_the_foot_does_not_need() -> None:
    look = (
        "import sys; from companion.rig import BUILT_IN, read_rig; read_rig(BUILT_IN); "
        "print(*{name.split('.')[0] for name in sys.modules})"
    )
    done = subprocess.run((sys.executable, "-c", look), capture_output=True, text=True, check=True)
    heavy = {"pygame", "mido", "rich", "click", "jsonschema", "rapidfuzz", "platformdirs", "tempfile"}
    assert heavy & set(done.stdout.split()) == set()
