"""Computer keys that work every night, in addition to the rig's pedals and the screen's own keys."""

from companion.night.happenings import KeyReceived
from companion.rig import Action, Rig

KEYS = {
    "a": Action.AGAIN,
    "t": Action.TAKE_IT_OUT,
    "s": Action.SKIP,
    "backspace": Action.TAKE_BACK,
    "home": Action.START_OVER,
    "n": Action.NEXT_SONG,
    "p": Action.PREVIOUS_SONG,
    "o": Action.ALL_OFF,
    "h": Action.SOUND_NOW,
    "x": Action.LEAVE_OUT,
    "w": Action.SWAP,
    "m": Action.TO_ENCORE,
    "delete": Action.DROP,
    "f9": Action.TAP,
    "f8": Action.KEY_UP,
    "f7": Action.KEY_DOWN,
    "tab": Action.CHART,
}
"""What the computer's keys do in addition to the rig's pedals."""

STEP_KEYS = {
    **dict.fromkeys(("right", "page down", "down"), Action.NEXT),
    **dict.fromkeys(("page up", "left", "up"), Action.BACK),
}
"""These step on every rig, unless the rig uses the key otherwise: a pedal that dies must not stop the show."""

CALL_KEY = "f"
"""Opens the call box: find a song."""

PACE_KEY = "v"
"""Shows how the set runs, and which songs to drop so that it ends on time."""

COUNT_KEY = "r"
"""Shows or hides the bars of the section, counted from the press."""

TOP_KEY = "0"
"""Starts the show from the top, as long as the screen says where an interrupted night continues."""

READ_KEY = "f5"
"""Reads the edited show again during the night; the screen shows when there is an edit to read."""


def is_held(received: KeyReceived, rig: Rig, *, typing: bool) -> bool:
    """Return whether this is a held key's repeat, which presses nothing.

    A terminal cannot tell a repeat from a quick second press. In the call box both are typed. The key that reads the
    show counts as pressed: a needless reading does no harm, an edit that is not read does. If a pedal of the rig uses
    that key, its repeats are ignored.
    """
    reads = received.key == READ_KEY and all(pedal.key != READ_KEY for pedal in rig.pedals)
    return received.repeats and not typing and not reads


def keys_page(rig: Rig) -> tuple[tuple[str, str], ...]:
    """Return what pedals and keys do, for the page of keys."""
    taken = {pedal.key for pedal in rig.pedals}
    return (
        *((pedal.key or pedal.name, pedal.press.value) for pedal in rig.pedals),
        (CALL_KEY, "call a song"),
        (COUNT_KEY, "count bars"),
        (PACE_KEY, "the set's time"),
        (READ_KEY, "read the edited show"),
        *((key, STEP_KEYS[key].value) for key in ("page down", "page up") if key not in taken),
        *((key, action.value) for key, action in KEYS.items() if key not in taken),
    )
