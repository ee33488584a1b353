"""Controllers by name and number."""

import pytest

from companion.files import InvalidValue
from companion.rig.controllers import controller, controller_of_a_sound


@pytest.mark.parametrize(
    ("written", "number"),
    [  # MIDI 1.0, Table III
        ("modulation", 1),
        ("Modulation Wheel", 1),
        ("breath", 2),
        ("foot controller", 4),
        ("portamento_time", 5),
        ("volume", 7),
        ("channel volume", 7),
        ("balance", 8),
        ("pan", 10),
        ("EXPRESSION", 11),
        ("damper", 64),
        ("sustain", 64),
        ("Sustain-Pedal", 64),
        ("damper pedal", 64),
        ("soft pedal", 67),
        ("legato footswitch", 68),
        ("mod wheel", 1),
        ("modulation wheel", 1),
        ("portamento", 65),
        ("sostenuto", 66),
        ("hold 2", 69),
        ("reverb send", 91),
        ("chorus-send", 93),
        ("7", 7),
        ("007", 7),
        ("119", 119),
    ],
)
def test_a_controller_is_read_by_name_or_number(written: str, number: int) -> None:
    assert controller(written) == number


@pytest.mark.parametrize(
    ("written", "problem", "write"),
    [
        ("120", "there is no controller 120; the last is 119", "volume"),
        ("9999999999", "there is no controller", "volume"),
        ("-1", 'no controller named "-1"', "volume"),
        ("volum", 'no controller named "volum"', "volume"),
        ("²", "no controller named", "volume"),
    ],
)
def test_an_unknown_controller_is_reported(written: str, problem: str, write: str) -> None:
    with pytest.raises(InvalidValue) as told:
        controller(written)
    assert problem in told.value.problem
    assert write in told.value.write


@pytest.mark.parametrize("written", ["0", "32"])
def test_bank_select_is_not_accepted_as_a_controller(written: str) -> None:
    with pytest.raises(InvalidValue, match="selects the bank"):
        controller_of_a_sound(written)
