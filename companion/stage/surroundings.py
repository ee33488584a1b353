"""What the screen tells besides the state: ports that are gone, no keyboard there, sounds that wait for the hands."""

import msgspec

from companion.rig import Sound


class Surroundings(msgspec.Struct, frozen=True):
    """How things stand around the show. Times in ms since it began.

    ``lost`` names the ports that are gone, ``found`` those just back; ``dry_run`` says why nothing is sent, and how to
    choose, where no instrument is there, ``never_there`` that none has been tonight; ``waiting`` is the sound that
    waits for hands to lift, for each keyboard; ``resumed`` says that the night was taken up again; ``steps_with`` names
    the key or pedal that steps, where a newcomer must be told. ``notices`` is said as it stands. ``bar`` is the bar of
    this section since its press, from 1, where bars are counted. ``over_min`` is how far the set runs over its end,
    negative for under, ``ends`` the time of day when it will end. ``advice`` says how the set runs while the player
    wants to know, with ``to_drop``, the songs to drop, the best cut first. ``by_hand_done`` are the numbers of the
    keyboards on which the player has set, since the last step, the sound that no message reaches. ``battery_percent``
    is given where the computer runs on its battery. ``typed`` is what has been typed to call a song, None where nobody
    is calling one, ``found_songs`` the titles that fit, the best first. ``edited`` says which of the night's files were
    edited since, and what to do about it.
    """

    lost: tuple[str, ...] = ()
    dry_run: str | None = None
    never_there: bool = False
    waiting: tuple[Sound | None, ...] = ()
    resumed: str | None = None
    steps_with: str | None = None
    now_ms: int = 0
    found: tuple[str, ...] = ()
    notices: tuple[str, ...] = ()
    bar: int | None = None
    over_min: int | None = None
    ends: str | None = None
    advice: str | None = None
    to_drop: tuple[str, ...] = ()
    by_hand_done: frozenset[int] = frozenset()
    battery_percent: int | None = None
    typed: str | None = None
    found_songs: tuple[str, ...] = ()
    edited: str | None = None
