"""The map of pedals and keys: what each switch does, and what new switches get."""

from companion.rig import Action, Pedal, Rig, Sustain
from companion.soundcheck.pedals.pedal_map import lines, pedal_map

HOME = Rig(
    "home",
    pedals=(Pedal("right", port="Foot Box", channel=1, control=64, press=Action.NEXT),),
    sustain=(Sustain("Stage Piano"),),
)


def test_the_map_shows_what_is_in_force_and_what_new_switches_get() -> None:
    built_in = Rig("built in", pedals=(Pedal("page down", key="page down", press=Action.NEXT),))
    text = "\n".join(lines(pedal_map(HOME, built_in)))
    assert "right              next, held back              control 64 of Foot Box, channel 1" in text
    assert "never a step: control 64 of Stage Piano" in text
    assert "  1: right next, held back\n  2: right next, left back\n  3: right next, left back, again\n" in text
    assert "page down next" in text


def test_a_key_used_by_a_pedal_is_not_listed_as_a_computer_key() -> None:
    rig = Rig("r", pedals=(Pedal("mine", key="a", press=Action.NEXT),))
    assert "a" not in [one.name for one in pedal_map(rig, rig).keys]
