"""The pedals and keys in use, and what new switches will do. Pure."""

from collections.abc import Iterable
from typing import Final

import msgspec

from companion.night.default_keys import KEYS as NIGHT_KEYS
from companion.night.default_keys import STEP_KEYS
from companion.rig import Action, Pedal, Rig
from companion.soundcheck.check.check_prompts import pedal_words
from companion.stage import feet_of

ORDER: Final = (Action.NEXT, Action.BACK, Action.AGAIN, Action.TAKE_IT_OUT, Action.TAKE_BACK, Action.ALL_OFF)
"""What the first, second, third ... switch is given. With one alone, a hold goes back (see ``stage/gestures.py``)."""

_NAMES: Final = {Action.NEXT: "right", Action.BACK: "left"}  # as players place their two switches


class PedalMapLine(msgspec.Struct, frozen=True):
    """One switch or key, what it is, and what it does; ``hold`` where holding it does something too."""

    name: str
    switch: str
    press: Action
    hold: Action | None = None


class PedalMap(msgspec.Struct, frozen=True):
    """All that steps with this rig, what never does, the keys of every night, and what new switches are given."""

    rig: str
    pedals: tuple[PedalMapLine, ...]
    never_a_step: tuple[str, ...]
    keys: tuple[PedalMapLine, ...]
    new_switches: tuple[tuple[PedalMapLine, ...], ...]
    page_turners: tuple[PedalMapLine, ...]


def pedal_map(rig: Rig, built_in: Rig) -> PedalMap:
    """Return the map of this rig. The page turners' keys are those of the built-in one."""
    taken = {pedal.key for pedal in rig.pedals}
    night_keys = (STEP_KEYS | NIGHT_KEYS).items()
    return PedalMap(
        rig=rig.name,
        pedals=tuple(_line(pedal) for pedal in feet_of(rig).pedals),
        never_a_step=tuple(f"control {one.control} of {one.port}, your own sustain" for one in rig.sustain),
        keys=tuple(PedalMapLine(key, f"key {key}", action) for key, action in night_keys if key not in taken),
        new_switches=tuple(actions_for(number) for number in range(1, len(ORDER) + 1)),
        page_turners=tuple(_line(pedal) for pedal in built_in.pedals),
    )


def actions_for(number: int) -> tuple[PedalMapLine, ...]:
    """Return what this many new switches do."""
    pedals = tuple(Pedal(name_for(action, ()), press=action) for action in ORDER[:number])
    acting = feet_of(Rig("", pedals=pedals)).pedals
    return tuple(PedalMapLine(pedal.name, "", pedal.press, pedal.hold) for pedal in acting)


def name_for(action: Action, taken: Iterable[str], key: str | None = None) -> str:
    """Return a name for a new pedal that no other has.

    >>> name_for(Action.NEXT, ()), name_for(Action.NEXT, ("right",)), name_for(Action.BACK, (), "page up")
    ('right', 'right 2', 'page up')
    """
    names = set(taken)
    name = key or _NAMES.get(action, action.value)
    numbered = [name, *(f"{name} {number}" for number in range(2, len(names) + 3))]
    return next(one for one in numbered if one not in names)


def lines(shown: PedalMap) -> Iterable[str]:
    """Yield the map as terminal lines."""
    yield f"rig: {shown.rig}"
    yield from (f"  {one.name:<18} {_does(one):<28} {one.switch}" for one in shown.pedals)
    if not shown.pedals:
        yield "  no pedal; companion pedals --rig FILE sets them up as you press them"
    yield from (f"  never a step: {one}" for one in shown.never_a_step)
    yield "The computer's keys, unless the rig uses them otherwise:"
    yield "  " + ", ".join(f"{one.name} {one.press.value}" for one in shown.keys)
    yield "What companion pedals assigns to new switches, by the order you press them:"
    for number, actions in enumerate(shown.new_switches, 1):
        does = (_does(one) if one.name == one.press.value else f"{one.name} {_does(one)}" for one in actions)
        yield f"  {number}: " + ", ".join(does)
    yield "Page turners that send keys, without a rig file:"
    yield "  " + ", ".join(f"{one.name} {_does(one)}" for one in shown.page_turners)


def _line(pedal: Pedal) -> PedalMapLine:
    return PedalMapLine(pedal.name, pedal_words(pedal), pedal.press, pedal.hold)


def _does(one: PedalMapLine) -> str:
    return one.press.value + (f", held {one.hold.value}" if one.hold is not None else "")
