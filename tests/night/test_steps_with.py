"""How a newcomer is told what starts the show."""

import msgspec
import pytest
from stage.scenes import rig_of

from companion.night.starting import steps_with
from companion.rig import Action, Pedal

PEDAL = Pedal("right", port="Foot Box", channel=1, control=64, press=Action.NEXT)


@pytest.mark.parametrize(
    ("pedals", "told"),
    [
        ((PEDAL,), "right pedal"),  # "right steps" reads as correct steps
        ((Pedal("page turner", key="page down", press=Action.NEXT),), "page down"),
        ((Pedal("turner", key="right", press=Action.NEXT),), "arrow right"),
        ((msgspec.structs.replace(PEDAL, name="left pedal"),), "left pedal"),
        ((PEDAL, Pedal("turner", key="down", press=Action.NEXT), Pedal("x", key="n", press=Action.NEXT)), None),
        ((), ""),
    ],
)
def test_pedals_and_keys_are_named_so_that_nobody_takes_them_for_another_word(
    pedals: tuple[Pedal, ...], told: str | None
) -> None:
    said = steps_with(msgspec.structs.replace(rig_of("lower"), pedals=pedals))
    assert (said or "") == ("right pedal or arrow down" if told is None else told)
