"""Conflicts within a rig: two pedals on one switch, two keyboards on one channel."""

from collections.abc import Iterator
from itertools import combinations
from typing import Final, NamedTuple

from companion.rig.model import Keyboard, Pedal, Rig, Sustain
from companion.rig.rig_names import folded_name

_DAMPER: Final = 64  # MIDI 1.0, Table III


class Clash(NamedTuple):
    """A keyboard or pedal in conflict: the key at fault, the problem, what to write. ``is_likely``: not certain."""

    of: Keyboard | Pedal
    key: str
    problem: str
    write: str
    is_likely: bool = False


def clashes(rig: Rig) -> Iterator[Clash]:
    """Yield all conflicts of a rig; of two parts in conflict, the later one is reported."""
    yield from _one_name_each("keyboard", rig.keyboards)
    yield from _one_name_each("pedal", rig.pedals)
    yield from _one_channel_each(rig.keyboards)
    yield from _stand_in_clashes(rig.keyboards)
    yield from _one_switch_each(rig.pedals)
    yield from _never_the_sustain(rig)


def _one_name_each(what: str, named: tuple[Keyboard | Pedal, ...]) -> Iterator[Clash]:
    for first, second in combinations(named, 2):
        if folded_name(first.name) == folded_name(second.name):
            yield Clash(second, "", f'two {what}s are called "{second.name}"', "another name for one of them")


def _one_channel_each(boards: tuple[Keyboard, ...]) -> Iterator[Clash]:
    for first, second in combinations(boards, 2):
        if first.channel == second.channel and folded_name(first.port or "") == folded_name(second.port or ""):
            problem = f'"{first.name}" and "{second.name}" share port and channel: each would change the other\'s sound'
            yield Clash(
                second, "channel", problem, f"another channel, or one keyboard with stands_for: [{second.name}]"
            )


def _stand_in_clashes(boards: tuple[Keyboard, ...]) -> Iterator[Clash]:
    """Report a stand-in for a keyboard that is in the rig, and a second stand-in for the same one."""
    here = {folded_name(board.name) for board in boards}
    taken: dict[str, str] = {}
    for board in boards:
        for name in board.stands_for:
            if folded_name(name) in here:
                problem = f'"{board.name}" cannot stand for "{name}", which is in this rig'
                yield Clash(board, "stands_for", problem, "only keyboards that this rig lacks")
            elif folded_name(name) in taken:
                yield Clash(board, "stands_for", f'"{taken[folded_name(name)]}" already stands for "{name}"', "it once")
            taken.setdefault(folded_name(name), board.name)


def _one_switch_each(pedals: tuple[Pedal, ...]) -> Iterator[Clash]:
    for first, second in combinations(pedals, 2):
        source = _source(second)
        if first.key is not None and first.key == second.key:
            yield Clash(second, "key", f'the key {second.key} is already "{first.name}"', "another key")
        elif _is_one_switch(first, second):
            problem = f'this {source} of "{second.port}" is already "{first.name}"'
            yield Clash(second, source, problem, f"another {source}, or one pedal with press and hold")


def _is_one_switch(first: Pedal, second: Pedal) -> bool:
    same_source = (first.control, first.note) == (second.control, second.note) != (None, None)
    return same_source and _is_same_port(first.port, second.port) and _channels_meet(first.channel, second.channel)


def _never_the_sustain(rig: Rig) -> Iterator[Clash]:
    """Report each pedal that, certainly or probably, both steps and sustains."""
    for pedal in rig.pedals:
        if pedal.control is None:
            continue
        meets = [sustain for sustain in rig.sustain if _may_be_one(pedal, sustain)]
        if any(_is_same_port(pedal.port, sustain.port) for sustain in meets):
            problem = f'"{pedal.name}" is also the player\'s own sustain, which must never step the show'
            yield Clash(pedal, "control", problem, "another port, channel or control")
        elif meets:
            problem = f'"{pedal.port}" and "{meets[0].port}" may be one port; then "{pedal.name}" is also the sustain'
            yield Clash(pedal, "port", problem, "more of the port's name in both", is_likely=True)
        elif pedal.control == _DAMPER and any(_may_be_same_port(pedal.port, board.port) for board in rig.keyboards):
            problem = (
                f'control {_DAMPER} on a keyboard\'s port is probably its sustain, but "{pedal.name}" steps the show'
            )
            yield Clash(pedal, "control", problem, "another control, if this pedal can send one", is_likely=True)


def _may_be_one(pedal: Pedal, sustain: Sustain) -> bool:
    return (
        pedal.control == sustain.control
        and _may_be_same_port(pedal.port, sustain.port)
        and _channels_meet(pedal.channel, sustain.channel)
    )


def _channels_meet(first: int | None, second: int | None) -> bool:
    return first is None or second is None or first == second


def _is_same_port(first: str | None, second: str | None) -> bool:
    return first is not None and second is not None and folded_name(first) == folded_name(second)


def _may_be_same_port(first: str | None, second: str | None) -> bool:
    """Whether two parts of port names may mean one port: one contains the other."""
    if first is None or second is None:
        return False
    return folded_name(first) in folded_name(second) or folded_name(second) in folded_name(first)


def _source(pedal: Pedal) -> str:
    return "note" if pedal.control is None else "control"
