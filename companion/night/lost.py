"""Which ports of the rig are lost, for the screen, and for the debrief in the journal."""

from typing import Any

from companion.night.entries import EntryContext
from companion.ports import THE_ONE_THERE_IS, Direction, PortFound, PortLost
from companion.rig import Rig


class LostPorts:
    """The ports that are gone. A port never seen, or not needed, is not reported to the debrief."""

    def __init__(self, rig: Rig) -> None:
        """``rig`` says which ports are needed: those of keyboards and pedals, not those only listened to."""
        self._outs = {board.port or THE_ONE_THERE_IS for board in rig.keyboards}
        self._feet = {pedal.port for pedal in rig.pedals} | {sustain.port for sustain in rig.sustain}
        self._lost: dict[tuple[str, Direction], str] = {}
        self._had: set[str] = set()

    def is_lost(self, port: str, direction: Direction) -> bool:
        """Return whether this port is gone."""
        return (port, direction) in self._lost

    def take(self, happened: PortFound | PortLost) -> tuple[EntryContext | None, str | None]:
        """Handle a port that appears or disappears; return what the debrief and the player must be told."""
        port, found = happened.port, isinstance(happened, PortFound)
        was_lost = any(one == port for one, _ in self._lost)
        self._lost = {one: why for one, why in self._lost.items() if one != (port, happened.direction)}
        why = None
        if isinstance(happened, PortLost) and (happened.direction is Direction.OUT or port in self._feet):
            self._lost[port, happened.direction] = why = happened.why
        is_lost = any(one == port for one, _ in self._lost)
        news = None
        if is_lost != was_lost and port in self._had:
            news = EntryContext.PORT_LOST if is_lost else EntryContext.PORT_FOUND
        if found:
            self._had.add(port)
        return news, why

    def told(self) -> dict[str, Any]:
        """Return what the screen says of ports: a dry run if no keyboard's port is there, else which are gone."""
        lost_outs = {port: why for (port, direction), why in self._lost.items() if direction is Direction.OUT}
        if self._outs and self._outs <= lost_outs.keys():
            return {"dry_run": lost_outs[min(self._outs)], "never_there": not self._had & self._outs, "lost": ()}
        return {"dry_run": None, "never_there": False, "lost": tuple(dict.fromkeys(port for port, _ in self._lost))}
