"""Whatever stands in a rig file, it is a rig whose every sound can be sent, or faults."""

import tempfile
from pathlib import Path
from typing import Any

import yaml
from hypothesis import given
from hypothesis import strategies as st

from companion.errors import FaultyFile
from companion.rig import Pause, change_to, find_sound, read_rig

ODD: st.SearchStrategy[Any] = (
    st.none()
    | st.booleans()
    | st.integers(-2, 200)
    | st.text(max_size=4)
    | st.just([])
    | st.just({})
    | st.just([1, 300])
)
PORTS = st.sampled_from(["Stage Piano", "Foot Box"])
BYTES = st.sampled_from(["B0 5B 28", "F0 7E 7F 09 01 F7"])


def mostly(value: st.SearchStrategy[Any], other: st.SearchStrategy[Any] = ODD) -> st.SearchStrategy[Any]:
    """Return the value, and now and then the other: a file in which all is wrong gets nowhere near the sounds."""
    return st.integers(0, 29).flatmap(lambda chance: other if chance == 0 else value)


def some(**keys: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    """Return a table with some of these keys."""
    return mostly(st.fixed_dictionaries({}, optional={key: mostly(value) for key, value in keys.items()}))


NUMBERS = mostly(st.integers(0, 127), st.sampled_from([-1, 128, "1e2"]))
CONTROLS = st.dictionaries(
    mostly(st.sampled_from(["volume", "11"]), st.sampled_from(["0", "volum"])), NUMBERS, max_size=2
)
PROGRAMS = mostly(st.integers(1, 127), st.sampled_from([0, 128, "A11", "A19"]))
SOUNDS = PROGRAMS | st.fixed_dictionaries(
    {"program": PROGRAMS},
    optional={
        "bank": mostly(st.tuples(NUMBERS, NUMBERS).map(list), st.just(3)),
        "by_hand": st.just("button 4"),
        "controls": CONTROLS,
        "before": CONTROLS,
        "send": st.lists(mostly(BYTES, st.sampled_from(["B0 5B", "FE"])), max_size=2),
    },
)
CHANNELS = mostly(st.integers(1, 16), st.just(17))
BOARDS = some(
    port=PORTS,
    channel=CHANNELS,
    programs_from=mostly(st.sampled_from([0, 1]), st.sampled_from(["banks of eight", "one"])),
    bank_messages=mostly(st.just("both"), st.sampled_from(["msb", "one", "none", ["msb", "lsb"], ["lsb"]])),
    settle_ms=st.integers(0, 5000),
    stands_for=mostly(st.just(["third"]), st.just(["lower"])),
    transpose=mostly(st.sampled_from(["tuning", "channel tuning", "none"]), st.just("never")),
    sounds=st.dictionaries(st.sampled_from(["organ", "piano", "strings"]), SOUNDS, min_size=1, max_size=3),
)
PEDALS = some(
    port=PORTS,
    channel=CHANNELS,
    control=NUMBERS,
    note=NUMBERS,
    key=mostly(st.sampled_from(["page down", "a"]), st.just("pedal")),
    press=mostly(st.sampled_from(["next", "back"]), st.just("nxt")),
    hold=st.sampled_from(["back", "again"]),
) | st.just({"port": "Foot Box", "control": "soft", "press": "next"})
RIGS = st.fixed_dictionaries(
    {
        "rig": st.just("R"),
        "keyboards": st.dictionaries(st.sampled_from(["lower", "upper", "Lower"]), BOARDS, max_size=2),
    },
    optional={
        "sustain": some(port=PORTS, control=NUMBERS),
        "pedals": st.dictionaries(st.sampled_from(["right", "left"]), PEDALS, max_size=2),
        "screen": some(width_mm=st.integers(50, 400), distance_m=st.floats(0.2, 3)),
    },
)


@given(written=RIGS)
def test_any_text_is_read_as_a_rig_or_reported(written: Any) -> None:  # noqa: ANN401
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "rig.yaml"
        file.write_text(yaml.safe_dump(written), encoding="utf-8")
        try:
            rig = read_rig(file).rig
        except FaultyFile as told:
            faults = told.faults
        else:
            faults = ()
            for number, board in enumerate(rig.keyboards):
                for sound in board.sounds:
                    assert find_sound(rig, sound.name, board.name) == (number, sound)
                    messages = [one for one in change_to(board, sound) if not isinstance(one, Pause)]
                    assert all(message[0] >= 0x80 for message in messages)
                    assert sound.by_hand or messages
        assert all(fault.problem for fault in faults)
