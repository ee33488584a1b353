"""Stable port names for Windows and macOS, independent of a port's current place in the list.

RtMidi appends the place in the list to each Windows name ("Stage Piano 1"), and the place changes when another device
leaves; macOS appends nothing, so that two devices of one model have one name. Here a port is known by its bare name,
and ports that share a name are numbered: "Synth (1)", "Synth (2)".
"""

from collections.abc import Collection, Sequence
from typing import Final

PLACE_AT_THE_END: Final = ("winmm",)  # RtMidi.cpp, MidiInWinMM::getPortName


def bare_names(raw: Sequence[str], system: str) -> list[str]:
    """Return the names as the devices report them, by place; "" for a device without a name.

    >>> bare_names(["Stage Piano 0", "Foldaway Synth 2 1"], "winmm")
    ['Stage Piano', 'Foldaway Synth 2']
    """
    if system not in PLACE_AT_THE_END:
        return list(raw)
    return [name.removesuffix(f" {place}").rstrip() for place, name in enumerate(raw)]


def known_as(bare: Sequence[str], held: Collection[str]) -> tuple[str, ...]:
    """Return the names by which these ports are known, leaving out ports without a name.

    ``held`` are known names of open ports. Such a port stays listed while any port of its bare name is: neither system
    says which of two alike has left, and opening the remaining one for the other's sounds would be a guess.
    """
    named: list[str] = []
    for name in dict.fromkeys(name for name in bare if name):
        many = bare.count(name)
        kept = [one for one in held if bare_of(one, bare) == name]
        numbers = range(2 if name in kept else 1, 2 * len(bare) + 2)  # a port alone when opened comes first
        numbered = [one for number in numbers if (one := f"{name} ({number})") not in bare]
        fresh = [name] if many == 1 else [one for one in numbered if one not in kept]
        new = fresh[: max(0, many - len(kept))]
        named += sorted([*kept, *new])
    return tuple(named)


def bare_of(known: str, bare: Sequence[str]) -> str:
    """Return the bare name for a known one; a device's own name may end in a number as well.

    >>> bare_of("Synth (2)", ["Synth", "Synth"]), bare_of("Synth (2)", ["Synth (2)"])
    ('Synth', 'Synth (2)')
    """
    if known in bare:
        return known
    head, _, number = known.rpartition(" (")
    return head if head and number.removesuffix(")").isdecimal() else known


def places_of(known: str, bare: Sequence[str]) -> tuple[int, ...]:
    """Return the places in the list where this port may be, likeliest first."""
    name = bare_of(known, bare)
    places = [place for place, one in enumerate(bare) if one == name]
    number = known.removeprefix(name).strip(" ()")
    first = int(number) - 1 if number.isdecimal() else 0
    return tuple(sorted(places, key=lambda place: places.index(place) != first))


def in_another_order(before: Sequence[str], now: Sequence[str]) -> bool:
    """Return whether ports that are on both lists swapped places: then one of them was gone in between.

    When a device only leaves, those after it move up and keep their order. Ports of the same name cannot be told
    apart.
    """
    both = {name for name in before if before.count(name) == now.count(name) == 1}
    return [name for name in before if name in both] != [name for name in now if name in both]
