"""What the screen shows besides the state: lost ports, missing keyboards, sounds waiting for the hands."""

import msgspec

from companion.rig import Sound


class Surroundings(msgspec.Struct, frozen=True):
    """Conditions around the show. Times in ms since it began.

    ``lost`` names the ports that are gone. ``dry_run`` says why nothing is sent, and how to choose a port;
    ``never_there``: no instrument has been connected tonight; ``stalled``: the ports are there, but their server does
    not answer for now. ``awaited`` says why the ports are not ready, "" once
    they are. ``waiting`` is the sound that waits for hands to lift, by keyboard;
    ``tuning_waits``: tonight's tuning waits for them too. ``resumed`` says where the night was resumed, longest form
    first, until its first step. ``steps_with`` names the key or pedal that steps, for newcomers. ``notices`` are shown
    verbatim; ``done`` is what the last key did to the show, longest form first. ``bar`` is the bar of this section
    since its press, from 1, if bars are counted. ``over_min`` is how many minutes the set runs over, negative for
    under; ``ends`` the time of day when it will end. ``advice`` says how the set runs, when asked, with ``to_drop``,
    the songs to drop, best cut first. ``by_hand_done`` are the numbers of keyboards on which the player has selected
    the current sound by hand. ``battery_percent`` is None unless the computer runs on battery. ``typed`` is the text in
    the call box, None while it is closed; ``found_songs`` the matching titles, best first, or, if ``found_near``,
    titles that only resemble it. ``edited`` says which files were edited since the start, and what to do.
    ``is_unsaved``: the disk is full or hangs, so a restart would lose this place.
    """

    lost: tuple[str, ...] = ()
    dry_run: str | None = None
    never_there: bool = False
    stalled: bool = False
    awaited: str = ""
    waiting: tuple[Sound | None, ...] = ()
    resumed: tuple[str, ...] = ()
    steps_with: str | None = None
    steps_meanwhile: str | None = None  # while ports are awaited: no pedal on MIDI
    now_ms: int = 0
    notices: tuple[str, ...] = ()
    done: tuple[str, ...] = ()
    bar: int | None = None
    over_min: int | None = None
    ends: str | None = None
    advice: str | None = None
    to_drop: tuple[str, ...] = ()
    by_hand_done: frozenset[int] = frozenset()
    battery_percent: int | None = None
    typed: str | None = None
    found_songs: tuple[str, ...] = ()
    found_near: bool = False
    edited: str | None = None
    is_unsaved: bool = False
    tuning_waits: bool = False
