"""Which sound is on in each section: the one rule, for names without a rig and for sounds of a rig."""

from collections.abc import Iterable, Mapping
from typing import TypeVar

from companion.show.model import Section, Song, SoundCall

K = TypeVar("K")
V = TypeVar("V")


def in_force(sections: Iterable[tuple[str, Mapping[K, V]]], of_song: Mapping[K, V]) -> list[dict[K, V]]:
    """Return what is on in each section, for each keyboard separately; sections are (name, own sounds) as written.

    "A section's own; else that of the last section of the same name, in written order; else the song's; else the
    section before, in written order; else nothing is sent."
    """
    of_name: dict[str, dict[K, V]] = {}
    before = dict(of_song)
    found: list[dict[K, V]] = []
    for name, own in sections:
        before = {**before, **of_song, **of_name.get(name.casefold(), {}), **own}
        of_name[name.casefold()] = before
        found.append(before)
    return found


def called_in(sections: Iterable[tuple[str, Iterable[K]]], of_song: Iterable[K]) -> list[frozenset[K]]:
    """Return the keyboards that each section calls for; on the others, what is on only stays on from before.

    The first of the same four that names any keyboard decides, for all keyboards together.
    """
    of_name: dict[str, frozenset[K]] = {}
    written = before = frozenset(of_song)
    found: list[frozenset[K]] = []
    for name, own in sections:
        before = frozenset(own) or of_name.get(name.casefold()) or written or before
        of_name[name.casefold()] = before
        found.append(before)
    return found


def sounds_on(song: Song) -> tuple[tuple[SoundCall, ...], ...]:
    """Return the sounds of each section of the road map, in written order; a song without one counts as one section.

    A bare name counts as another keyboard, because only the rig knows which one it means.
    """
    sections = song.road_map or (Section(name=""),)
    found = in_force(((one.name, _by_keyboard(one.sounds)) for one in sections), _by_keyboard(song.sounds))
    return tuple(tuple(sounds.values()) for sounds in found)


def _by_keyboard(calls: tuple[SoundCall, ...]) -> dict[str | None, SoundCall]:
    return {call.keyboard: call for call in calls}
