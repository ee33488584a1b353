"""Two things in a rig that are really one are reported before the show."""

import pytest

from companion.rig import Action, Keyboard, Pedal, Rig, Sustain
from companion.rig.clashes import clashes

NEXT, BACK = Action.NEXT, Action.BACK


def clashes_of(rig: Rig) -> list[tuple[str, str, bool]]:
    return [(clash.of.name, clash.key, clash.is_likely) for clash in clashes(rig)]


@pytest.mark.parametrize(
    ("first", "second", "key"),
    [
        (Pedal("a", port="Box", channel=1, control=64), Pedal("b", port="Box", channel=1, control=64), "control"),
        (Pedal("a", port="Box", control=64), Pedal("b", port="box", channel=2, control=64), "control"),
        (Pedal("a", port="Box", channel=2, control=64), Pedal("b", port="BOX ", control=64), "control"),
        (Pedal("a", port="Box", note=36), Pedal("b", port="Box", note=36), "note"),
        (Pedal("a", key="page down"), Pedal("b", key="page down"), "key"),
    ],
)
def test_two_pedals_cannot_share_a_switch(first: Pedal, second: Pedal, key: str) -> None:
    assert clashes_of(Rig("R", pedals=(first, second))) == [("b", key, False)]


@pytest.mark.parametrize(
    "second",
    [
        Pedal("b", port="Box", channel=1, control=67),
        Pedal("b", port="Box", channel=2, control=64),
        Pedal("b", port="Other", channel=1, control=64),
        Pedal("b", port="Box", channel=1, note=64),
        Pedal("b", key="a"),
        Pedal("b", port="Box"),
    ],
)
def test_different_switches_do_not_clash(second: Pedal) -> None:
    first = Pedal("a", port="Box", channel=1, control=64)
    assert clashes_of(Rig("R", pedals=(first, second))) == []


def test_pedals_without_a_control_yet_do_not_clash() -> None:
    assert clashes_of(Rig("R", pedals=(Pedal("a", port="Box"), Pedal("b", port="Box")))) == []


@pytest.mark.parametrize(
    ("pedal", "sustain", "expected"),
    [
        (Pedal("a", port="Piano", control=64), Sustain("piano"), [("a", "control", False)]),
        (Pedal("a", port="Piano", channel=1, control=64), Sustain("Piano"), [("a", "control", False)]),
        (Pedal("a", port="Piano", control=66), Sustain("Piano", control=66, channel=3), [("a", "control", False)]),
        (Pedal("a", port="Piano", channel=1, control=64), Sustain("Piano", channel=2), []),
        (Pedal("a", port="Piano", control=67), Sustain("Piano"), []),
        (Pedal("a", port="Box", control=64), Sustain("Piano"), []),
        (Pedal("a", port="Piano", note=64), Sustain("Piano"), []),
        (Pedal("a", port="Stage", control=64), Sustain("Stage Piano"), [("a", "port", True)]),
    ],
)
def test_the_sustain_pedal_cannot_step_the_show(
    pedal: Pedal, sustain: Sustain, expected: list[tuple[str, str, bool]]
) -> None:
    assert clashes_of(Rig("R", pedals=(pedal,), sustain=(sustain,))) == expected


def test_control_64_on_a_keyboards_own_port_is_doubted_as_its_sustain() -> None:
    pedal = Pedal("a", port="Stage", control=64)
    assert clashes_of(Rig("R", keyboards=(Keyboard("lower", port="Stage Piano"),), pedals=(pedal,))) == [
        ("a", "control", True)
    ]
    assert clashes_of(Rig("R", keyboards=(Keyboard("lower", port="Other"),), pedals=(pedal,))) == []


@pytest.mark.parametrize(
    ("first", "second", "expected"),
    [
        (Keyboard("lower", port="A", channel=1), Keyboard("upper", port="a", channel=1), [("upper", "channel", False)]),
        (Keyboard("lower"), Keyboard("upper"), [("upper", "channel", False)]),
        (Keyboard("lower", port="A", channel=1), Keyboard("upper", port="A", channel=2), []),
        (Keyboard("lower", port="A", channel=1), Keyboard("upper", port="B", channel=1), []),
        (Keyboard("lower", port="A"), Keyboard("Lower", port="B"), [("Lower", "", False)]),
    ],
)
def test_keyboards_cannot_share_a_name_or_a_channel(
    first: Keyboard, second: Keyboard, expected: list[tuple[str, str, bool]]
) -> None:
    assert clashes_of(Rig("R", keyboards=(first, second))) == expected


def test_pedals_cannot_share_a_name() -> None:
    assert clashes_of(Rig("R", pedals=(Pedal("a", key="a"), Pedal("A", key="b")))) == [("A", "", False)]


def test_a_keyboard_stands_in_only_for_a_missing_one_and_alone() -> None:
    here = Keyboard("lower", port="A", stands_for=("Upper", "lower"))
    assert clashes_of(Rig("R", keyboards=(here, Keyboard("upper", port="B")))) == [("lower", "stands_for", False)] * 2
    also = (Keyboard("a", port="A", stands_for=("x",)), Keyboard("b", port="B", stands_for=("X",)))
    assert clashes_of(Rig("R", keyboards=also)) == [("b", "stands_for", False)]
    assert clashes_of(Rig("R", keyboards=(Keyboard("a", stands_for=("x", "y")),))) == []
