"""Which port a word of the rig means: part of a name, whatever numbers the system adds to it today."""

import re
from collections.abc import Collection, Sequence
from typing import Final

import msgspec

CLIENT = "companion"
"""What other programs see us as."""

_OWN: Final = re.compile(rf"^{CLIENT}(-\d+)?:")  # JACK numbers the clients that share a name: "companion-01:"

_LOOPS: Final = re.compile(r"midi through|\biac\b|loopback|loopmidi")
"""Ports that give back what they are given: no instrument is behind them.

ALSA's own; macOS's inter-application buses, whose names are localised but for the three letters ("IAC-Treiber Bus 1",
from memory); and two usual words.
"""

_SOFTWARE_SYNTHS: Final = ("microsoft gs wavetable synth",)
"""What Windows always lists as an output, whether a keyboard is there or not (mmsystem, from memory)."""

_NUMBERS: Final = {
    "alsa": (r"\s\d+:\d+$",),  # client and port number, added by RtMidi (RtMidi.cpp, MidiInAlsa::getPortName)
    "winmm": (r"\s\(\d+\)$", r"^\d+-\s*"),  # of those alike (ports/listing.py); the socket, by Windows (from memory)
    "core": (r"\s\(\d+\)$",),  # of those alike (ports/listing.py)
    "jack": (r"\s\[\d+\]", r"-\d+(?=:)"),  # ALSA's client number, by the bridge to ALSA; a client's number, by JACK
}


_OF_THOSE_ALIKE: Final = {"winmm": r"\s\(\d+\)$", "core": r"\s\(\d+\)$"}
"""The number of one of several alike; a word that carries it means no other."""

_IN_WORDS: Final = {"winmm": r"\s\d+$"}
"""What a word may carry that no known name does: the place in the list, copied from another program."""


class Match(msgspec.Struct, frozen=True):
    """What a word found: one name, or several to choose from, or neither."""

    name: str | None = None
    several: tuple[str, ...] = ()


def without_numbers(name: str, system: str) -> str:
    """Give the name as a player knows it: folded, without what the system adds and may change at the next plugging.

    >>> without_numbers("Stage Piano:Stage Piano MIDI 1 24:0", "alsa")
    'stage piano:stage piano midi 1'
    """
    return folded_name(spelt_without_numbers(name, system))


def spelt_without_numbers(name: str, system: str) -> str:
    """Give the same as the system spells it, capitals and all."""
    for number in _NUMBERS.get(system, ()):
        name = re.sub(number, "", name)
    return name


def is_ours(name: str) -> bool:
    """Tell whether this port is one of our own, so that we never play to ourselves."""
    return _OWN.match(name) is not None


def is_numbered(word: str, system: str) -> bool:
    """Tell whether a word names one of several ports alike, by the number that the system adds."""
    return without_numbers(word, system) != folded_name(word)


def is_meant(word: str, name: str, system: str) -> bool:
    """Tell whether a word names this port and no other: by the number that the system adds, or by its whole name."""
    return is_numbered(word, system) or folded_name(word) == folded_name(name)


def find(word: str, listed: Sequence[str], system: str, last: str | None = None, taken: Collection[str] = ()) -> Match:
    """Find the port that a word of the rig means. Where ``last``, the name that it meant before, is there, it stays.

    A whole name goes before one that is equal without its numbers, and both before a part of one. Our own ports are
    never found, and those without an instrument are not where anything else fits or nothing is named. ``taken`` are
    names that others mean by their numbers: a word that has a number of its own never finds them without it, or the
    left twin's sounds would go to the right one when the left one leaves.
    """
    foreign = [name for name in listed if not is_ours(name)]
    if last in foreign:
        return Match(last)
    if is_numbered(word, system):
        foreign = [name for name in foreign if name not in taken]
    found = _fitting(word, [name for name in foreign if not is_no_instrument(name)], system)
    if not found and word:
        found = _fitting(word, [name for name in foreign if is_no_instrument(name)], system)
    if len(found) > 1 and last is not None:
        returned = [name for name in found if without_numbers(name, system) == without_numbers(last, system)]
        found = returned if len(returned) == 1 else found
    return Match(found[0]) if len(found) == 1 else Match(several=tuple(found))


def _fitting(word: str, names: Sequence[str], system: str) -> list[str]:
    asked, bare = folded_name(word), without_numbers(word, system)
    placeless = re.sub(_IN_WORDS[system], "", asked) if system in _IN_WORDS else bare
    if system in _OF_THOSE_ALIKE and re.search(_OF_THOSE_ALIKE[system], word):
        bare = placeless = asked  # one of two alike, and no other one
    fits = (
        [name for name in names if folded_name(name) == asked],
        [name for name in names if bare and without_numbers(name, system) in (bare, placeless)],
        [name for name in names if asked in folded_name(name)],
        [name for name in names if bare and bare in without_numbers(name, system)],
        [name for name in names if placeless and placeless in without_numbers(name, system)],
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
    others = [name for name in listed if not is_ours(name) and not is_no_instrument(name)]
    if not word or not others:
        return f"there is no MIDI {direction}"
    return f'no MIDI {direction} has "{word}" in its name; there is: ' + ", ".join(f'"{name}"' for name in others)


def folded_name(name: str) -> str:
    """Return the name as it is compared: without capitals, one space between words."""
    return " ".join(name.split()).casefold()


def is_loop(name: str) -> bool:
    """Tell whether this port gives back what it is given."""
    return _LOOPS.search(folded_name(name)) is not None


def is_software_synth(name: str) -> bool:
    """Tell whether this port is a synthesizer that the system itself always lists."""
    return any(synth in folded_name(name) for synth in _SOFTWARE_SYNTHS)


def is_no_instrument(name: str) -> bool:
    """Tell whether this port is none that a player plugs in."""
    return is_loop(name) or is_software_synth(name)
