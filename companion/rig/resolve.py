"""Which keyboard, and which of its sounds, a name means on this rig; a guess would be a wrong program on stage."""

from collections.abc import Iterable
from typing import Protocol

import msgspec

from companion.files.nearest import nearest
from companion.rig.general_midi import known_names, program_named
from companion.rig.model import Keyboard, Rig, Sound
from companion.rig.names import folded


class AskedSound(Protocol):
    """A sound asked for by name. No keyboard: the first one in the rig that has it."""

    @property
    def sound(self) -> str:
        """The player's name for it."""

    @property
    def keyboard(self) -> str | None:
        """The keyboard's name in the show."""


class SoundMissing(msgspec.Struct, frozen=True):
    """A sound or a keyboard that the rig lacks: the problem, what to write, and the nearest name it has, or ""."""

    problem: str
    write: str
    nearest: str = ""


def find_sound(rig: Rig, name: str, keyboard: str | None = None) -> tuple[int, Sound] | SoundMissing:
    """Return the keyboard, by its number in the rig from 0, and the sound that a show means by these names.

    A bare name goes to the first keyboard that has it; else to the first one that is marked General MIDI, if the list
    knows it. A keyboard that is named is that one, or else the one that stands for it. Case and spaces do not count.
    """
    numbered = tuple(enumerate(rig.keyboards))
    if keyboard is not None:
        number = keyboard_number(rig, keyboard)
        if number is None:
            return _no_keyboard(rig, keyboard)
        numbered = numbered[number : number + 1]
    wanted = folded(name)
    for number, board in numbered:
        for sound in board.sounds:
            if folded(sound.name) == wanted:
                return number, sound
    program = program_named(name)
    for number, board in numbered:
        if board.general_midi and program is not None:
            return number, Sound(name, program=program)
    return _no_sound(rig, name, tuple(board for _number, board in numbered))


def find_sounds(rig: Rig, asked: Iterable[AskedSound]) -> tuple[tuple[Sound | None, ...], tuple[SoundMissing, ...]]:
    """Return one sound for each keyboard of the rig, or None, and what is missing.

    Where a smaller rig folds several sounds onto one keyboard, the one is on that the show gives to that keyboard; else
    that of the keyboard which is first in ``stands_for``; a bare name comes last. Of equals, the first written.
    """
    sounds: list[Sound | None] = [None] * len(rig.keyboards)
    rank_of_sound = [0] * len(rig.keyboards)
    missing = []
    for one in asked:
        found = find_sound(rig, one.sound, one.keyboard)
        if isinstance(found, SoundMissing):
            missing.append(found)
            continue
        number, sound = found
        rank = _rank(rig.keyboards[number], one.keyboard)
        if sounds[number] is None or rank < rank_of_sound[number]:
            sounds[number], rank_of_sound[number] = sound, rank
    return tuple(sounds), tuple(missing)


def keyboard_number(rig: Rig, name: str) -> int | None:
    """Return the number, from 0, of the keyboard of this name, else of the one that stands for it, else None."""
    wanted = folded(name)
    for number, board in enumerate(rig.keyboards):
        if folded(board.name) == wanted:
            return number
    for number, board in enumerate(rig.keyboards):
        if wanted in map(folded, board.stands_for):
            return number
    return None


def _rank(board: Keyboard, asked_for: str | None) -> int:
    """Say how soon a sound is taken that was asked for under this name; 0 is first."""
    names = [folded(name) for name in (board.name, *board.stands_for)]
    return len(names) if asked_for is None else names.index(folded(asked_for))


def _no_keyboard(rig: Rig, keyboard: str) -> SoundMissing:
    boards = tuple(board.name for board in rig.keyboards)
    near = nearest(keyboard, boards)
    instead = near or (boards[0] if boards else "")
    stand = f"stands_for: [{keyboard}] under the keyboard that takes its place"
    return SoundMissing(
        f'the rig "{rig.name}" has no keyboard "{keyboard}"', f"{instead}, or {stand}" if instead else stand, near
    )


def _no_sound(rig: Rig, name: str, boards: tuple[Keyboard, ...]) -> SoundMissing:
    where = f' on "{boards[0].name}"' if len(rig.keyboards) > len(boards) == 1 else ""
    own = tuple(sound.name for board in boards for sound in board.sounds)
    published = known_names() if any(board.general_midi for board in boards) else ()
    near = nearest(name, own) or nearest(name, published)
    add = f"add {name} under {boards[0].name}.sounds" if boards else "a keyboard with its sounds"
    return SoundMissing(
        f'the rig "{rig.name}" has no sound "{name}"{where}', f"{near}, or {add}" if near else add, near
    )
