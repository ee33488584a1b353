"""Which ports of the rig are lost, for the screen, and for the debrief in the journal."""

from collections.abc import Collection
from typing import Any, Final

from companion.night.default_keys import STEP_KEYS
from companion.night.entries import EntryContext
from companion.ports import THE_ONE_THERE_IS, Direction, PortFound, PortLost
from companion.ports.watch import STALLED
from companion.rig import Action, Pedal, Rig

ARROWS: Final = ("left", "right", "up", "down")


class LostPorts:
    """The ports that are gone. A port never seen, or not needed, is not reported to the debrief."""

    def __init__(self, rig: Rig) -> None:
        """``rig`` says which ports are needed: those of keyboards and pedals, not those only listened to."""
        self._rig = rig
        self._outs = {board.port or THE_ONE_THERE_IS for board in rig.keyboards}
        self._feet = {pedal.port for pedal in rig.pedals} | {sustain.port for sustain in rig.sustain}
        self._lost: dict[tuple[str, Direction], str] = {}  # and why
        self._had: set[str] = set()  # ports found so far tonight

    def is_lost(self, port: str, direction: Direction) -> bool:
        """Return whether this port is gone."""
        return (port, direction) in self._lost

    def take(self, happened: PortFound | PortLost) -> tuple[EntryContext | None, str | None]:
        """Handle a port that appears or disappears; return what the debrief and the player need to know.

        A reason already given for one lost port is not repeated for another.
        """
        port, found = happened.port, isinstance(happened, PortFound)
        was_lost = any(one == port for one, _ in self._lost)
        self._lost = {one: why for one, why in self._lost.items() if one != (port, happened.direction)}
        why = None
        if isinstance(happened, PortLost) and (happened.direction is Direction.OUT or port in self._feet):
            why = None if happened.why in self._lost.values() else happened.why  # a server's fault is that of each port
            self._lost[port, happened.direction] = happened.why
        is_lost = any(one == port for one, _ in self._lost)
        news = None
        if is_lost != was_lost and port in self._had:
            news = EntryContext.PORT_LOST if is_lost else EntryContext.PORT_FOUND
        if found:
            self._had.add(port)
        return news, why

    def shown(self) -> dict[str, Any]:
        """Return what the screen says of ports: a dry run if no keyboard's port is there, else which are gone."""
        lost_outs = {port: why for (port, direction), why in self._lost.items() if direction is Direction.OUT}
        steps = {"steps_with": steps_with(self._rig, {port for port, way in self._lost if way is Direction.IN})}
        if self._outs and self._outs <= lost_outs.keys():
            return {
                "dry_run": lost_outs[min(self._outs)],
                "never_there": not self._had & self._outs,
                "stalled": all(lost_outs[port] == STALLED for port in self._outs),
                "lost": (),
                **steps,
            }
        return {
            "dry_run": None,
            "never_there": False,
            "stalled": False,
            "lost": tuple(dict.fromkeys(port for port, _ in self._lost)),
            **steps,
        }


def connected_again(port: str, rig: Rig) -> str:
    """Return what the screen says of a port that returns: a port of pedals alone is not taken for a keyboard."""
    boards = {board.port for board in rig.keyboards}
    feet = {*(pedal.port for pedal in rig.pedals), *(sustain.port for sustain in rig.sustain)} - boards
    return f"{f'pedals on {port}' if port in feet else port}: connected again"


def steps_with(rig: Rig, gone: Collection[str] = ()) -> str | None:
    """Return which pedals or keys step, in the player's words: two at most, pedals in the rig's order.

    Pedals whose port is ``gone`` are not named; if none is left, the computer's own key is.
    """
    stepping = [pedal for pedal in rig.pedals if pedal.press is Action.NEXT]
    names = [_switch_name(pedal) for pedal in stepping if pedal.key or pedal.port not in gone]
    if stepping and not names:
        taken = {pedal.key for pedal in rig.pedals}
        names = [_key_name(key) for key, action in STEP_KEYS.items() if action is Action.NEXT and key not in taken]
        return next(iter(names), None)
    return " or ".join(names[:2]) or None


def _switch_name(pedal: Pedal) -> str:
    """Return an unambiguous name for a switch: 'right pedal', 'the right arrow', 'page down'."""
    if pedal.key:
        return _key_name(pedal.key)
    return pedal.name if "pedal" in pedal.name.casefold() else f"{pedal.name} pedal"


def _key_name(key: str) -> str:
    return f"the {key} arrow" if key in ARROWS else key
