"""The trials of a sound check: each distinct sound of the show once, in show order or features first."""

from collections.abc import Iterable
from typing import Final

import msgspec

from companion.rig import Keyboard, Pause, Sound, change_to
from companion.rig.midi_bytes import bank_due
from companion.rig.rig_names import folded_name
from companion.show import Section
from companion.soundcheck.check.levels import at_level
from companion.stage import Book, BookSection

NO_LEVEL: Final = 0


class Trial(msgspec.Struct, frozen=True):
    """One sound to be heard. ``keyboard`` is its number in the rig, from 0.

    ``song`` and ``section`` are where it is on first, or where it carries a feature first; a song without a road map
    has no section. ``places`` counts the sections where it is on, in the whole show.
    """

    keyboard: int
    sound: Sound
    song: str
    section: str = ""
    feature: str | None = None
    places: int = 1

    @property
    def where(self) -> str:
        """Return where in the show it is on."""
        return f"{self.song}, {self.section}" if self.section else self.song


def trials_of(book: Book, *, features_first: bool = False) -> tuple[Trial, ...]:
    """Return each distinct sound of the show once, in the order in which the sets are written."""
    found: dict[tuple[int, str], Trial] = {}
    for song, section in _walked(book):
        for keyboard, sound in enumerate(section.sounds):
            if sound is None:
                continue
            key = (keyboard, folded_name(sound.name))
            here = Trial(keyboard, sound, song, section.section.name, _feature(section.section, sound))
            before = found.get(key)
            if before is None:
                found[key] = here
                continue
            places = before.places + 1
            trial = here if before.feature is None and here.feature is not None else before
            found[key] = msgspec.structs.replace(trial, places=places)
    trials = tuple(found.values())
    return tuple(sorted(trials, key=lambda one: one.feature is None)) if features_first else trials


def doubles(boards: tuple[Keyboard, ...], trials: Iterable[Trial]) -> tuple[str, ...]:
    """Return a note for each two names in the show that are the same program of one keyboard."""
    first: dict[tuple[object, ...], Trial] = {}
    lines = []
    for trial in trials:
        board, sound = boards[trial.keyboard], trial.sound
        if sound.program is None:
            continue
        one = first.setdefault((trial.keyboard, sound.program, bank_due(board, sound)), trial)
        if one is not trial:
            with_what = "" if same_controls(one.sound, sound) else ", with other controls"
            lines.append(f'"{one.sound.name}" and "{sound.name}" are the same program of {board.name}{with_what}')
    return tuple(lines)


def same_controls(one: Sound, other: Sound) -> bool:
    """Return whether two sounds send the same before and after the program."""
    return (one.before, one.controls, one.send) == (other.before, other.controls, other.send)


def fingerprint(board: Keyboard, trial: Trial) -> str:
    """Return what is sent for a sound, without its level; if it differs, the sound must be heard again."""
    sent = change_to(board, at_level(trial.sound, NO_LEVEL))
    words = (f"wait {one.ms}" if isinstance(one, Pause) else one.hex() for one in sent)
    return " ".join((board.port or "", *words, trial.sound.by_hand or ""))


def _feature(section: Section, sound: Sound) -> str | None:
    """Return the feature that a sound carries there: where the section asks for sounds itself, only these do."""
    own = {folded_name(call.sound) for call in section.sounds}
    return section.feature if not own or folded_name(sound.name) in own else None


def _walked(book: Book) -> Iterable[tuple[str, BookSection]]:
    for order in book.order:
        for number in order:
            song = book.songs[number]
            for section in song.sections:
                yield song.song.title, section
