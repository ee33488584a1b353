"""Write pedals and the player's sustain into the rig file; only what differs changes."""

from collections.abc import Iterator, Mapping
from typing import Any, Final

from companion.edits import EditPlace, OneLine
from companion.files import InvalidValue
from companion.rig import Pedal, Sustain
from companion.rig.controllers import controller
from companion.rig.rig_names import folded_name
from companion.soundcheck.talk import KeepPedals

Written = dict[str, Any]
"""A rig file as tables, lists and texts, as typed."""

Changes = dict[EditPlace, object]

REMOVED: Final = object()
"""As a change: remove the key."""

_SOURCES: Final = ("port", "channel", "control", "note", "key", "reversed", "latching")
_DAMPER: Final = Sustain("").control


def pedal_changes(written: Written, request: KeepPedals) -> Changes:
    """Return the changes that put these pedals and sustains into the rig file; their other keys stay."""
    changes: Changes = {}
    for one in request.pedals:
        news = pedal_written(one.pedal)
        if one.was is None:
            changes["pedals", one.pedal.name] = OneLine(news)
            continue
        where = ("pedals", key_as_typed(written.get("pedals"), one.was.name))
        before = written["pedals"][where[1]]
        wanted = {key: value for key, value in news.items() if key in _SOURCES or key not in before}
        changes |= {(*where, key): value for key, value in wanted.items() if _differs(before, key, value)}
        out = (*_SOURCES, "hold") if one.pedal.latching else _SOURCES
        changes |= {(*where, key): REMOVED for key in out if key in before and key not in news}
    return changes | dict(_sustain_changes(written.get("sustain"), request))


def pedal_written(pedal: Pedal) -> dict[str, object]:
    """Return a pedal as the rig file writes it."""
    keys = {key: getattr(pedal, key) for key in ("port", "channel", "control", "note", "key")}
    news: dict[str, object] = {key: value for key, value in keys.items() if value is not None}
    news["press"] = pedal.press.value
    if pedal.hold is not None:
        news["hold"] = pedal.hold.value
    if pedal.reversed:
        news["reversed"] = True
    if pedal.latching:
        news["latching"] = True
    return news


def key_as_typed(table: object, name: str) -> str:
    """Return the key as typed, in its own case and spacing."""
    keys = table if isinstance(table, dict) else {}
    return next((str(key) for key in keys if folded_name(str(key)) == folded_name(name)), name)


def _sustain_changes(written: object, request: KeepPedals) -> Iterator[tuple[EditPlace, object]]:
    """A single sustain is written without a list; a second one makes it a list."""  # noqa: D401
    listed: list[object] = written if isinstance(written, list) else [written] if written else []
    new = [one for one in request.sustains if one.was is None]
    for one in request.sustains:
        if one.was is not None:
            where: EditPlace = ("sustain", one.was) if isinstance(written, list) else ("sustain",)
            before = listed[one.was]
            news = _sustain_written(one.sustain)
            if isinstance(before, dict):
                was = {"control": str(_DAMPER)} | before
                yield from (((*where, key), value) for key, value in news.items() if _differs(was, key, value))
                yield from (((*where, key), REMOVED) for key in ("channel",) if key in before and key not in news)
    if new and isinstance(written, list):
        yield from (
            (("sustain", len(listed) + number), OneLine(_sustain_written(one.sustain)))
            for number, one in enumerate(new)
        )
    elif new:
        tables = [OneLine(one) for one in listed if isinstance(one, dict)]
        tables += [OneLine(_sustain_written(one.sustain)) for one in new]
        yield ("sustain",), tables[0] if len(tables) == 1 else tables


def _sustain_written(sustain: Sustain) -> dict[str, object]:
    news: dict[str, object] = {"port": sustain.port, "control": sustain.control}
    if sustain.channel is not None:
        news["channel"] = sustain.channel
    return news


def _differs(before: Mapping[str, str], key: str, value: object) -> bool:
    """Return whether the meaning differs: "damper" is control 64 already."""
    if key == "control":
        return _control(before.get(key)) != value
    return before.get(key) != str(value)


def _control(typed: str | None) -> int | None:
    try:
        return controller(typed) if typed else None
    except InvalidValue:
        return None
