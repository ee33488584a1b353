"""Which keyboard and sound a name means on this rig. It never guesses: a guess is a wrong program on stage."""

from collections.abc import Iterable
from typing import Final, Protocol

import msgspec

from companion.files import nearest
from companion.rig.general_midi import NEAREST_KNOWN, USUAL, family_of, known_names, program_named
from companion.rig.model import Keyboard, Rig, Sound
from companion.rig.rig_names import folded_name

MAX_OFFERED: Final = 10
SURE_LETTERS: Final = 5  # a shorter name is like too many others: "arp" is not a harp
PHRASES: Final = ("in", "watch", "hits", "words", "ending", "open", "tacet")
"""The words of a road map that stand before the sound."""


class AskedSound(Protocol):
    """A sound asked for by name. Without a keyboard it means the first one in the rig that has it."""

    @property
    def sound(self) -> str:
        """The player's name for it."""

    @property
    def keyboard(self) -> str | None:
        """The keyboard's name in the show."""


class SoundMissing(msgspec.Struct, frozen=True):
    """A sound or keyboard that the rig lacks: the problem, what to write, and the nearest name in the rig or ""."""

    problem: str
    write: str
    nearest: str = ""


def find_sound(rig: Rig, name: str, keyboard: str | None = None) -> tuple[int, Sound] | SoundMissing:
    """Return the keyboard's number in the rig, from 0, and the sound that these names of a show mean.

    A bare name means the first keyboard that has it; else the first one marked General MIDI, if the list has the name.
    A keyboard's name means that keyboard, or else the one that stands for it. Case and spaces do not matter.
    """
    numbered = tuple(enumerate(rig.keyboards))
    if keyboard is not None:
        number = keyboard_number(rig, keyboard)
        if number is None:
            return _no_keyboard(rig, keyboard)
        numbered = numbered[number : number + 1]
    wanted = folded_name(name)
    for number, board in numbered:
        for sound in board.sounds:
            if folded_name(sound.name) == wanted:
                return number, sound
    program = program_named(name)
    for number, board in numbered:
        if board.general_midi and program is not None:
            return number, Sound(name, program=program)
    return _no_sound(rig, name, tuple(board for _number, board in numbered))


def find_sounds(rig: Rig, wanted: Iterable[AskedSound]) -> tuple[tuple[Sound | None, ...], tuple[SoundMissing, ...]]:
    """Return, for each keyboard of the rig, its sound or None; and what is missing.

    If several sounds land on one keyboard of a smaller rig, the one that the show names for that keyboard wins, then
    the one of the keyboard named first in ``stands_for``, then a bare name. Among equals the first written wins.
    """
    sounds: list[Sound | None] = [None] * len(rig.keyboards)
    rank_of_sound = [0] * len(rig.keyboards)
    missing = []
    for one in wanted:
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
    """Return the number, from 0, of the keyboard with this name, else of the one that stands for it, else None."""
    wanted = folded_name(name)
    for number, board in enumerate(rig.keyboards):
        if folded_name(board.name) == wanted:
            return number
    for number, board in enumerate(rig.keyboards):
        if wanted in map(folded_name, board.stands_for):
            return number
    return None


def _rank(board: Keyboard, asked_for: str | None) -> int:
    """Return the rank of a sound asked for under this keyboard's name; 0 wins."""
    names = [folded_name(name) for name in (board.name, *board.stands_for)]
    return len(names) if asked_for is None else names.index(folded_name(asked_for))


def _no_keyboard(rig: Rig, keyboard: str) -> SoundMissing:
    boards = tuple(board.name for board in rig.keyboards)
    near = nearest(keyboard, boards)
    instead = near or (boards[0] if boards else "")
    stand = f"stands_for: [{keyboard}] under the keyboard that replaces it"
    return SoundMissing(
        f'the rig "{rig.name}" has no keyboard "{keyboard}"', f"{instead}, or {stand}" if instead else stand, near
    )


def _no_sound(rig: Rig, name: str, boards: tuple[Keyboard, ...]) -> SoundMissing:
    where = f' on "{boards[0].name}"' if len(rig.keyboards) > len(boards) == 1 else ""
    own = tuple(sound.name for board in boards for sound in board.sounds)
    is_general = any(board.general_midi for board in boards)
    behind = _sound_and_more(name, own, is_general=is_general)
    if behind:
        sound, more = behind
        return SoundMissing(f'the rig "{rig.name}" has no sound "{name}"{where}', f'{more} before "@{sound}"', sound)
    near = _meant(name, own, is_general=is_general)
    add = f"add {name} to the sounds of {boards[0].name}" if boards else "a keyboard with its sounds"
    known = "" if near or own or not is_general else sounds_offered(rig)
    write = f"{near or known}, or {add}" if near or known else add
    return SoundMissing(f'the rig "{rig.name}" has no sound "{name}"{where}', write, near)


def sounds_offered(rig: Rig) -> str:
    """Return some names to choose a sound from: the rig's own, or what players call the General MIDI sounds."""
    own = dict.fromkeys(sound.name for board in rig.keyboards for sound in board.sounds)
    general = USUAL if any(board.general_midi for board in rig.keyboards) else ()
    names = list(dict.fromkeys((*own, *general)))[:MAX_OFFERED]
    return f"{', '.join(names[:-1])} or {names[-1]}" if len(names) > 1 else names[0] if names else "its name"


def _meant(name: str, own: tuple[str, ...], *, is_general: bool) -> str:
    """Return the sound that was probably meant, "" if none: of the rig first; of General MIDI if a board has it."""
    likely = NEAREST_KNOWN.get(folded_name(name), "")
    if not likely and (near := nearest(name, own)):
        return near
    family = family_of(name)
    alike = next((one for one in own if family is not None and family_of(one) == family), "")
    if alike or not is_general:
        return alike or nearest(name, own)
    return likely or (nearest(name, known_names()) if len(name) >= SURE_LETTERS else "")


def _sound_and_more(name: str, own: tuple[str, ...], *, is_general: bool) -> tuple[str, str] | None:
    """Return the sound that the name begins with, and the rest: a phrase written after the sound.

    The sound is one of the rig or of General MIDI, if a board has it. Words in brackets are a cue behind any sound: the
    one that was probably meant. A name of General MIDI has brackets too.
    """
    words = name.split()
    known = {folded_name(one): one for one in own}
    for many in range(len(words) - 1, 0, -1):
        sound = " ".join(words[:many])
        found = known.get(folded_name(sound)) or (sound if is_general and program_named(sound) is not None else "")
        if found and (words[many][0] == "(" or words[many] in PHRASES) and not _is_slip(name, is_general=is_general):
            return found, " ".join(words[many:])
    sound, bracket, cue = name.partition(" (")
    if not bracket or not cue.endswith(")") or _is_slip(name, is_general=is_general):
        return None
    return (near, f"({cue}") if (near := _meant(sound, own, is_general=is_general)) else None


def _is_slip(name: str, *, is_general: bool) -> bool:
    """Return whether this is nearly a name of the General MIDI list that has brackets: Electric Guitar (jazz)."""
    return is_general and "(" in name and bool(nearest(name, [one for one in known_names() if "(" in one]))
