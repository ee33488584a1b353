"""How the player wants the screen to look (light, detail, beat mark), and the keys that change it."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Final

import msgspec
from msgspec.structs import replace

from companion.view.view_lines import Detail, Light

if TYPE_CHECKING:  # the screen's process starts sooner without the show file's reader
    from companion.show import Song

EVERYTHING_MS: Final = 5000  # how long the key for everything shows it
COUNT_OFF_BARS: Final = 2
KEYS_A_PAGE: Final = 11  # fills two columns below a long title, with a row left for "more keys"
KNOWN_FORM, KNOWN_CUES = 4, 5  # of 0..5: at or above these, offer less detail; never reduce it unasked

KEYS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "?": "these keys",
        "l": "dark stage or bright day",
        "d": "less of this song, or more",
        "e": "everything, for five seconds",
        "b": "beat mark",
        "k": "chords, wherever there are any",
        "c": "count-off, before a song",
    }
)
"""What these keys do on the stage screen. A key that the rig maps as a pedal steps and does nothing else."""

SHORTER: Final[Mapping[str, str]] = MappingProxyType(
    {
        "these keys": "keys",
        "dark stage or bright day": "dark or day",
        "less of this song, or more": "less, more",
        "everything, for five seconds": "all, 5 s",
        "count-off, before a song": "count-off",
        "chords, wherever there are any": "chords",
        "previous song": "song before",
        "the set's time": "set's time",
        "read the edited show": "read again",
    }
)
"""Short forms of the same, for a small page."""

_ALSO: Final = {"f1": "?"}
_LESS: Final = {
    Detail.EVERYTHING: Detail.FORM,
    Detail.FORM: Detail.CUES_ONLY,
    Detail.CUES_ONLY: Detail.EVERYTHING,
}


class Looks(msgspec.Struct, frozen=True):
    """The player's choice of how the screen looks. ``details`` holds songs by title. Times are ms since the show began.

    With ``chords``, a section's chord line shows whatever the detail; without, only where the page has room for it.
    ``keys`` are further lines for the page of keys, (key, what it does): the rig's pedals and keys.
    """

    light: Light = Light.DARK
    details: tuple[tuple[str, Detail], ...] = ()
    beat: bool = False
    chords: bool = False
    everything_until_ms: int = -1
    count_off_from_ms: int | None = None
    keys_shown: bool = False
    keys_page: int = 0
    keys: tuple[tuple[str, str], ...] = ()

    def detail_of(self, song: "Song", now_ms: int) -> Detail:
        """Return how much of this song to show now."""
        if now_ms < self.everything_until_ms:
            return Detail.EVERYTHING
        return next((detail for title, detail in self.details if title == song.title), Detail.EVERYTHING)


def key_pressed(looks: Looks, key: str, at_ms: int, song: "Song | None" = None) -> Looks | None:
    """Return the looks after a key that is not a pedal; None if the key means nothing here.

    On the page of keys, ? turns to its next page and any other key closes it, and does what it does to the looks.
    """
    key = _ALSO.get(key, key)
    if looks.keys_shown:
        more = key == "?" and (looks.keys_page + 1) * KEYS_A_PAGE < len(looks.keys) + len(KEYS)
        turned = replace(looks, keys_shown=more, keys_page=looks.keys_page + 1 if more else 0)
        return turned if key == "?" else key_pressed(turned, key, at_ms, song) or turned
    match key:
        case "?":
            return replace(looks, keys_shown=True, keys_page=0)
        case "l":
            return replace(looks, light=Light.DAY if looks.light is Light.DARK else Light.DARK)
        case "b":
            return replace(looks, beat=not looks.beat)
        case "k":
            return replace(looks, chords=not looks.chords)
        case "e":
            return replace(looks, everything_until_ms=at_ms + EVERYTHING_MS)
        case "c":
            return replace(looks, count_off_from_ms=at_ms)
        case "d" if song is not None:
            now = next((detail for title, detail in looks.details if title == song.title), Detail.EVERYTHING)
            others = tuple(one for one in looks.details if one[0] != song.title)
            return replace(looks, details=(*others, (song.title, _LESS[now])), everything_until_ms=-1)
        case _:
            return None


def stepped(looks: Looks) -> Looks:
    """Close the page of keys: a player who steps wants to see the show."""
    return replace(looks, keys_shown=False, keys_page=0) if looks.keys_shown else looks


def offered(song: "Song", looks: Looks) -> Detail | None:
    """Return a lower detail to offer for a well-known song; None if not known that well, or the player has chosen."""
    if song.known is None or any(title == song.title for title, _ in looks.details):
        return None
    return Detail.CUES_ONLY if song.known >= KNOWN_CUES else Detail.FORM if song.known >= KNOWN_FORM else None
