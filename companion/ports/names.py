"""Which port a word of the rig means: part of a name, whatever numbers the system adds to it today."""

import re
from collections.abc import Sequence
from typing import Final

import msgspec

CLIENT = "companion"
"""What other programs see us as."""

_OWN: Final = re.compile(rf"^{CLIENT}(-\d+)?:")  # JACK numbers the clients that share a name: "companion-01:"

_LOOPS: Final = ("midi through", "iac driver", "loopback", "loopmidi")
"""Ports that give back what they are given: no instrument is behind them (ALSA, macOS, and two usual words)."""

_NUMBERS: Final = {
    "alsa": (r"\s\d+:\d+$",),  # client and port number, added by RtMidi (RtMidi.cpp, MidiInAlsa::getPortName)
    "winmm": (r"\s\d+$", r"^\d+-\s*"),  # the place in the list, by RtMidi; the socket it is plugged into, by Windows
    "jack": (r"\s\[\d+\]", r"-\d+(?=:)"),  # ALSA's client number, by the bridge to ALSA; a client's number, by JACK
}


class Match(msgspec.Struct, frozen=True):
    """What a word found: one name, or several to choose from, or neither."""

    name: str | None = None
    several: tuple[str, ...] = ()


def without_numbers(name: str, system: str) -> str:
    """Give the name as a player knows it: folded, without what the system adds and may change at the next plugging.

    >>> without_numbers("Stage Piano:Stage Piano MIDI 1 24:0", "alsa")
    'stage piano:stage piano midi 1'
    """
    return _folded(spelt_without_numbers(name, system))


def spelt_without_numbers(name: str, system: str) -> str:
    """Give the same as the system spells it, capitals and all."""
    for number in _NUMBERS.get(system, ()):
        name = re.sub(number, "", name)
    return name


def is_ours(name: str) -> bool:
    """Tell whether this port is one of our own, so that we never play to ourselves."""
    return _OWN.match(name) is not None


def find(word: str, listed: Sequence[str], system: str, last: str | None = None) -> Match:
    """Find the port that a word of the rig means. Where ``last``, the name that it meant before, is there, it stays.

    A whole name goes before a part of one, and a name as it stands before one without its numbers. Our own ports are
    never found, and those that only loop back are not where anything else fits or nothing is named.
    """
    foreign = [name for name in listed if not is_ours(name)]
    if last in foreign:
        return Match(last)
    found = _fitting(word, [name for name in foreign if not is_loop(name)], system)
    if not found and word:
        found = _fitting(word, [name for name in foreign if is_loop(name)], system)
    if len(found) > 1 and last is not None:
        returned = [name for name in found if without_numbers(name, system) == without_numbers(last, system)]
        found = returned if len(returned) == 1 else found
    return Match(found[0]) if len(found) == 1 else Match(several=tuple(found))


def _fitting(word: str, names: Sequence[str], system: str) -> list[str]:
    asked, bare = _folded(word), without_numbers(word, system)
    fits = (
        [name for name in names if _folded(name) == asked],
        [name for name in names if asked in _folded(name)],
        [name for name in names if bare and bare in without_numbers(name, system)],
    )
    return next((some for some in fits if some), [])


def why_not(word: str, match: Match, listed: Sequence[str], direction: str) -> str:
    """Say why no port was opened for this word, and how to choose one; for the player."""
    if match.several:
        choice = ", ".join(f'"{name}"' for name in match.several)
        wanted = f'"{word}" fits' if word else "it may be"
        return (
            f"{wanted} {len(match.several)} MIDI {direction}s: {choice}. Write in the rig: port: and more of one name"
        )
    others = [name for name in listed if not is_ours(name) and not is_loop(name)]
    if not word or not others:
        return f"there is no MIDI {direction}"
    return f'no MIDI {direction} has "{word}" in its name; there is: ' + ", ".join(f'"{name}"' for name in others)


def _folded(name: str) -> str:
    return " ".join(name.split()).casefold()


def is_loop(name: str) -> bool:
    """Tell whether this port gives back what it is given."""
    folded = _folded(name)
    return any(loop in folded for loop in _LOOPS)
