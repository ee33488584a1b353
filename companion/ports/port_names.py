"""Find the port that a word of the rig means: part of its name, ignoring the numbers that the system adds."""

import re
from collections.abc import Collection, Sequence
from typing import Final

import msgspec

from companion.rig.rig_names import folded_name

CLIENT = "companion"
"""Our name as other programs see it."""

_OWN: Final = re.compile(rf"^{CLIENT}(-\d+)?:")  # JACK numbers the clients that share a name: "companion-01:"

_LOOPS: Final = r"midi through|\biac\b|loopback|loopmidi"
"""Ports that loop their input back: no instrument is behind them.

ALSA's own; macOS's inter-application buses, whose names are localised except for three letters ("IAC-Treiber Bus 1",
from memory); and two common words.
"""

_SOFTWARE_SYNTHS: Final = ("microsoft gs wavetable synth",)
"""What Windows always lists as an output, with or without a keyboard (mmsystem, from memory)."""

_NUMBERS: Final = {
    "alsa": (r"\s\d+:\d+$",),  # client and port number, added by RtMidi (RtMidi.cpp, MidiInAlsa::getPortName)
    "winmm": (r"\s\(\d+\)$", r"^\d+-\s*"),  # of ports alike (ports/listing.py); the socket, by Windows (from memory)
    "core": (r"\s\(\d+\)$",),  # of ports alike (ports/listing.py)
    "jack": (r"\s\[\d+\]", r"-\d+(?=:)"),  # ALSA's client number, added by the bridge to ALSA; JACK's client number
}


_OF_THOSE_ALIKE: Final = {"winmm": r"\s\(\d+\)$", "core": r"\s\(\d+\)$"}
"""The number of one of several ports alike; a word with that number means no other."""

_IN_WORDS: Final = {"winmm": r"\s\d+$"}
"""Numbers that may be in a word but are in no known name: the place in the list, copied from another program."""


class PortMatch(msgspec.Struct, frozen=True):
    """What a word matched: one name, or several to choose from, or neither."""

    name: str | None = None
    several: tuple[str, ...] = ()


def without_numbers(name: str, system: str) -> str:
    """Return the name as a player knows it: folded, without numbers that the system adds and may change on replugging.

    >>> without_numbers("Stage Piano:Stage Piano MIDI 1 24:0", "alsa")
    'stage piano:stage piano midi 1'
    """
    return folded_name(spelt_without_numbers(name, system))


def spelt_without_numbers(name: str, system: str) -> str:
    """Return the name without those numbers, in the system's own capitals."""
    for number in _NUMBERS.get(system, ()):
        name = re.sub(number, "", name)
    return name


def is_ours(name: str) -> bool:
    """Return whether this port is one of our own, so that we never play to ourselves."""
    return _OWN.match(name) is not None


def is_numbered(word: str, system: str) -> bool:
    """Return whether a word picks one of several ports alike, by the number that the system adds."""
    return without_numbers(word, system) != folded_name(word)


def is_meant(word: str, name: str, system: str) -> bool:
    """Return whether a word means only this port: by the number that the system adds, or by its whole name."""
    return is_numbered(word, system) or folded_name(word) == folded_name(name)


def find(
    word: str, listed: Sequence[str], system: str, last: str | None = None, taken: Collection[str] = ()
) -> PortMatch:
    """Find the port that a word of the rig means; ``last``, the name that it meant before, wins if it is listed.

    An exact name wins over one that is equal without its numbers, and both win over part of a name. Our own ports never
    match; ports without an instrument match only if they are named and nothing else matches. ``taken`` are names that
    other words mean by their numbers: a numbered word never falls back to them, or the left twin's sounds would go to
    the right one when the left one leaves.
    """
    foreign = [name for name in listed if not is_ours(name)]
    if last in foreign:
        return PortMatch(last)
    if is_numbered(word, system):
        foreign = [name for name in foreign if name not in taken]
    found = _fitting(word, [name for name in foreign if not is_no_instrument(name)], system)
    if not found and word:
        found = _fitting(word, [name for name in foreign if is_no_instrument(name)], system)
    if len(found) > 1 and last is not None:
        returned = [name for name in found if without_numbers(name, system) == without_numbers(last, system)]
        found = returned if len(returned) == 1 else found
    return PortMatch(found[0]) if len(found) == 1 else PortMatch(several=tuple(found))


def _fitting(word: str, names: Sequence[str], system: str) -> list[str]:
    wanted, bare = folded_name(word), without_numbers(word, system)
    placeless = re.sub(_IN_WORDS[system], "", wanted) if system in _IN_WORDS else bare
    if system in _OF_THOSE_ALIKE and re.search(_OF_THOSE_ALIKE[system], word):
        bare = placeless = wanted  # one of two ports alike, and no other
    fits = (
        [name for name in names if folded_name(name) == wanted],
        [name for name in names if bare and without_numbers(name, system) in (bare, placeless)],
        [name for name in names if wanted in folded_name(name)],
        [name for name in names if bare and bare in without_numbers(name, system)],
        [name for name in names if placeless and placeless in without_numbers(name, system)],
    )
    return next((some for some in fits if some), [])


def why_not(word: str, match: PortMatch, listed: Sequence[str], direction: str) -> str:
    """Return why no port was opened for this word and how to choose one, as a message for the player."""
    if match.several:
        choice = ", ".join(f'"{name}"' for name in match.several)
        wanted = f'"{word}" matches' if word else "cannot choose between"
        return (
            f"{wanted} {len(match.several)} MIDI {direction}s: {choice}. "
            "Write in the rig file: port: with enough of one name to tell them apart"
        )
    others = [name for name in listed if not is_ours(name) and not is_no_instrument(name)]
    if not word or not others:
        return f"there is no MIDI {direction}"
    return f'no MIDI {direction} has "{word}" in its name; available: ' + ", ".join(f'"{name}"' for name in others)


def is_loop(name: str) -> bool:
    """Return whether this port loops its input back."""
    return re.search(_LOOPS, folded_name(name)) is not None


def is_software_synth(name: str) -> bool:
    """Return whether this port is a synthesizer that the system itself always lists."""
    return any(synth in folded_name(name) for synth in _SOFTWARE_SYNTHS)


def is_no_instrument(name: str) -> bool:
    """Return whether no instrument can be behind this port: a loop or a software synthesizer."""
    return is_loop(name) or is_software_synth(name)
