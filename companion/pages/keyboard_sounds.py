"""Sounds on a sheet: with several keyboards, one field for each of them, with the sounds that it has."""

from collections.abc import Iterator, Sequence

import msgspec

from companion.edits import Edit
from companion.pages.desk import SongOnDesk, Stack
from companion.pages.markup import Html, tag
from companion.pages.section_fields import edits_of_field, named
from companion.pages.song_fields import SOUND_ON, ChangedMeanwhile, FieldRefused, SongField, sounds_text
from companion.pages.wanted import WantedEdit
from companion.rig import Rig, find_sound, keyboard_number
from companion.show import Section, Song, SoundCall


def sound_fields(rig: Rig | None, part: Song | Section) -> tuple[SongField, ...]:
    """Return a field for each keyboard; none if there is only one, or if two sounds would be in one field."""
    boards = playable(rig)
    if rig is None or len(sounds_on(rig, part.sounds)) != len(part.sounds):
        return ()
    return tuple(_field(rig, number) for number in boards)


def _field(rig: Rig, number: int) -> SongField:
    def shown(part: Song | Section) -> str:
        return sounds_on(rig, part.sounds).get(number, "")

    return SongField(f"{SOUND_ON}{number}", f"Sound: {rig.keyboards[number].name}", shown, str)


def playable(rig: Rig | None) -> tuple[int, ...]:
    """Return the numbers of the keyboards that have sounds; none for one keyboard alone."""
    boards = rig.keyboards if rig is not None else ()
    found = tuple(number for number, board in enumerate(boards) if board.sounds or board.general_midi)
    return found if len(found) > 1 else ()


def sounds_on(rig: Rig, calls: Sequence[SoundCall]) -> dict[int, str]:
    """Return the sound of each keyboard, by its number; one that the rig lacks counts as the first keyboard's."""
    found: dict[int, str] = {}
    for call in calls:
        there = find_sound(rig, call.sound, call.keyboard)
        named = keyboard_number(rig, call.keyboard) if call.keyboard else None
        found[there[0] if isinstance(there, tuple) else named or 0] = call.sound
    return found


def as_one_text(rig: Rig | None, part: Song | Section, wanted: WantedEdit, *, compares: bool = True) -> WantedEdit:
    """Return the edit of a keyboard's field as one of all sounds; any other edit as it is.

    Raises FieldRefused, and if it ``compares`` ChangedMeanwhile if the keyboard has another sound now.
    """
    number = wanted.field.removeprefix(SOUND_ON)
    if number == wanted.field:
        return wanted
    if rig is None or number not in map(str, playable(rig)):
        raise FieldRefused("there is no such keyboard")
    sounds, typed = sounds_on(rig, part.sounds), wanted.value.strip()
    now = sounds.pop(int(number), "")
    if compares and now != wanted.was.strip():
        raise ChangedMeanwhile(now)
    if set(typed) & set("@="):
        raise FieldRefused("a sound's name, please, without @ or =")
    if typed:
        sounds[int(number)] = typed
    return msgspec.structs.replace(wanted, field="sound", value=_written(rig, sounds), was=sounds_text(part.sounds))


def edits_as_typed(
    stack: Stack, one: SongOnDesk, field: SongField, wanted: WantedEdit, rig: Rig | None
) -> tuple[Edit, ...]:
    """Return the edits of one typed field. Raises FieldRefused, ChangedMeanwhile, CompanionError."""
    if wanted.section is not None:
        named(one.song, wanted.section)
    part = one.song if wanted.section is None else one.song.road_map[wanted.section]
    return edits_of_field(stack, one, field, as_one_text(rig, part, wanted))


def _written(rig: Rig, sounds: dict[int, str]) -> str:
    """Write sounds as a player does: a bare name where it means the same keyboard."""
    if len(sounds) == 1:
        ((number, name),) = sounds.items()
        there = find_sound(rig, name)
        if not isinstance(there, tuple) or there[0] == number:
            return name
    return " @".join(f"{rig.keyboards[number].name}={name}" for number, name in sorted(sounds.items()))


def sound_lists(rig: Rig | None) -> Iterator[Html]:
    """Yield what each keyboard's field offers."""
    for number in playable(rig):
        names = rig.keyboards[number].sounds if rig is not None else ()
        yield tag("datalist", *(tag("option", value=one.name) for one in names), id=f"{SOUND_ON}{number}s")
