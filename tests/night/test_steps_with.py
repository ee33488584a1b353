"""How a newcomer learns what starts the show."""

import msgspec
import pytest
from stage.scenes import rig_of

from companion.night.lost import LostPorts, connected_again, steps_with
from companion.ports import Direction, PortFound, PortLost
from companion.rig import Action, Pedal, Sustain

PEDAL = Pedal("right", port="Foot Box", channel=1, control=64, press=Action.NEXT)


@pytest.mark.parametrize(
    ("pedals", "told"),
    [
        ((PEDAL,), "right pedal"),  # "right steps" reads as correct steps
        ((Pedal("page turner", key="page down", press=Action.NEXT),), "page down"),
        ((Pedal("turner", key="right", press=Action.NEXT),), "the right arrow"),
        ((msgspec.structs.replace(PEDAL, name="left pedal"),), "left pedal"),
        ((PEDAL, Pedal("turner", key="down", press=Action.NEXT), Pedal("x", key="n", press=Action.NEXT)), None),
        ((), ""),
    ],
)
def test_pedals_and_keys_have_unambiguous_names(pedals: tuple[Pedal, ...], told: str | None) -> None:
    said = steps_with(msgspec.structs.replace(rig_of("lower"), pedals=pedals))
    assert (said or "") == ("right pedal or the down arrow" if told is None else told)


@pytest.mark.parametrize(
    ("pedals", "told"),
    [
        ((PEDAL,), "the right arrow"),  # the computer's own key, which steps on every rig; no laptop lacks it
        ((PEDAL, Pedal("turner", key="down", press=Action.NEXT)), "the down arrow"),
        ((PEDAL, Pedal("down", key="right", press=Action.BACK)), "page down"),
        ((PEDAL, msgspec.structs.replace(PEDAL, name="left", port="Other Box")), "left pedal"),
    ],
)
def test_a_pedal_without_its_port_is_not_named(pedals: tuple[Pedal, ...], told: str) -> None:
    assert steps_with(msgspec.structs.replace(rig_of("lower"), pedals=pedals), {"Foot Box"}) == told


def test_a_port_that_returns_is_said_to_be_of_pedals_if_it_is_no_keyboard() -> None:
    rig = msgspec.structs.replace(rig_of("lower"), pedals=(PEDAL,), sustain=(Sustain("lower port"), Sustain("Damper")))
    told = [connected_again(port, rig) for port in ("Foot Box", "Damper", "lower port")]
    assert told == [
        "pedals on Foot Box: connected again",
        "pedals on Damper: connected again",
        "lower port: connected again",
    ]


def test_a_pedal_is_named_again_when_its_port_returns() -> None:
    lost = LostPorts(msgspec.structs.replace(rig_of("lower"), pedals=(PEDAL,)))
    lost.take(PortLost("Foot Box", Direction.IN, "no such port", 0))
    assert lost.shown()["steps_with"] == "the right arrow"
    lost.take(PortFound("Foot Box", Direction.IN, "Foot Box MIDI 1", 0))
    assert lost.shown()["steps_with"] == "right pedal"
