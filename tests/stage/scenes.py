"""Short builders of scenes: a show from a few words, a rig of two keyboards, a state at a place."""

from collections.abc import Iterable

from msgspec.structs import replace

from companion.rig import HowTransposed, Keyboard, Rig, Sound
from companion.show import Section, Set, Show, Song, SoundCall
from companion.stage import Book, PlainEvent, State, at_start, make_book, step

SOUNDS = ("piano", "organ", "strings", "lead", "pad", "bells")


def rig_of(*names: str) -> Rig:
    """Return a rig whose keyboards all have all SOUNDS."""
    keyboards = tuple(
        Keyboard(
            name=name, port=f"{name} port", sounds=tuple(Sound(sound, number) for number, sound in enumerate(SOUNDS))
        )
        for name in names
    )
    return Rig("test", keyboards)


def tuned_by(*ways: HowTransposed) -> Rig:
    """Return a rig of as many keyboards, each tuned in its way."""
    rig = rig_of(*(f"board {number}" for number in range(len(ways))))
    return replace(
        rig, keyboards=tuple(replace(one, transpose=way) for one, way in zip(rig.keyboards, ways, strict=True))
    )


def section(written: str) -> Section:
    """Read "Chorus x2 open @strings" as a section: name, passes, open, sound; an underscore is a space in the name."""
    name, *words = written.split()
    passes = next((int(word[1:]) for word in words if word[0] == "x"), 1)
    sounds = tuple(SoundCall(word[1:]) for word in words if word[0] == "@")
    return Section(name.replace("_", " "), bars=8, passes=passes, open="open" in words, sounds=sounds)


def song(title: str, road_map: str = "", *, sound: str | None = None, segue: str | None = None) -> Song:
    """Return a song from "Intro, Verse x2, Chorus @strings"."""
    sections = tuple(section(part) for part in road_map.split(",")) if road_map else ()
    return Song(title, road_map=sections, sounds=(SoundCall(sound),) if sound else (), segue=segue)


def show_of(*sets: Iterable[Song]) -> Show:
    """Return a show of these sets."""
    return Show("test", sets=tuple(Set(f"Set {number}", songs=tuple(songs)) for number, songs in enumerate(sets, 1)))


def book_of(*sets: Iterable[Song], rig: Rig | None = None) -> Book:
    """Return the book of a show whose every sound is in the rig."""
    book, missed = make_book(show_of(*sets), rig or rig_of("lower"))
    assert not missed
    return book


def after(book: Book, *events: type[PlainEvent]) -> State:
    """Return the state after these events, one a second."""
    state = at_start(book)
    for number, event in enumerate(events, 1):
        state, _ = step(state, event(at_ms=1000 * number))
    return state


def place_text(state: State) -> str:
    """Return the place in words: "Solo 2/2 of B", with +1 for a round that was added."""
    place = state.place
    if state.song is None:
        return place.where.value
    title = state.song.song.title
    if place.where.value == "up next":
        return f"{title} up next"
    one = state.song.sections[place.section].section
    passes = f" {place.passed}/{one.passes}" if one.passes > 1 else ""
    rounds = f" +{place.rounds}" if place.rounds else ""
    return f"{one.name}{passes}{rounds} of {title}"


def on(state: State) -> str:
    """Return the sounds that are on, a keyboard each."""
    return ", ".join(sound.name if sound else "-" for sound in state.on)
