"""Random shows and states for the screen's tests: short and long titles, accents, other alphabets, every state.

Each comes from one number, which a failing test prints: hypothesis draws the number only, since drawing each field of a
show one by one takes longer than laying out its page.
"""

from collections.abc import Sequence
from random import Random
from typing import Any, TypeVar

from hypothesis import strategies as st

from companion.music import Key, Meter
from companion.rig import Keyboard, Rig, Screen, Sound
from companion.show import Ending, Section, Set, Show, Song, SoundCall
from companion.stage import (
    Again,
    Back,
    Book,
    KeyDown,
    KeyUp,
    LeaveOut,
    Next,
    Skip,
    State,
    Surroundings,
    Swap,
    TakeItOut,
    Tap,
    at_start,
    make_book,
    step,
)
from companion.view import Light, Looks, View, view

SOUNDS = ("grand piano", "tonewheel organ", "strings", "synth lead", "bells", "electric piano with slow tremolo")
LATIN_SECTIONS = (
    *("Intro", "Verse", "Pre-chorus", "Chorus", "Bridge", "Solo", "Breakdown", "Outro", "Instrumental", "Interlude"),
    *("Tag", "Vamp", "Turnaround", "Middle eight"),
)
SECTIONS = (*LATIN_SECTIONS, "Überleitung", "Проигрыш", "Γέφυρα")
LATIN_WORDS = (
    *("Gasworks", "Kettle", "Harbour", "Lantern", "Umbrella", "Postcard", "of", "the", "on", "a", "Blues", "No. 9"),
    *("Jetty", "Midnight", "Tram", "Conductor", "(reprise)", "Sister's", "Wednesday"),
)
WORDS = (
    *LATIN_WORDS,
    "Señor",
    "Été",
    "Ångström",
    "Ночь",
    "Θάλασσα",
    "漢字",
    "B♭",
    "Wednesdaymorningtramconductor",
    "W" * 40,
)
LATIN_PEOPLE = ("drummer", "singer", "bass", "guitar, left", "whoever has the tambourine")
PEOPLE = (*LATIN_PEOPLE, "MD", "барабанщик")
CUES = (
    *("two fingers up is one more round", "stop on 4", "back in on the snare"),
    "voice and bass only, then all of us at once",
)
FEATURES = ("feature", "solo", "riff alone", "run up into the new key with both hands")
METERS = (Meter(4, 4), Meter(6, 8), Meter(7, 8), Meter(1, 4))

T = TypeVar("T")


class Night:
    """Random parts of a show. ``latin``: only what a reader of one alphabet can read."""

    def __init__(self, seed: int, *, latin: bool = False) -> None:
        self.random = Random(seed)  # noqa: S311 - no secret
        self.sections = LATIN_SECTIONS if latin else SECTIONS
        self.words = LATIN_WORDS if latin else WORDS
        self.people = LATIN_PEOPLE if latin else PEOPLE

    def one(self, of: Sequence[T]) -> T:
        return self.random.choice(of)

    def maybe(self, of: Sequence[T], share: float = 0.5) -> T | None:
        return self.one(of) if self.random.random() < share else None

    def often(self, share: float) -> bool:
        return self.random.random() < share

    def key(self) -> Key:
        return Key.signed(self.random.randint(-7, 7))

    def title(self) -> str:
        return " ".join(self.random.choices(self.words, k=self.random.randint(1, 9)))[:80].strip()

    def section(self) -> Section:
        return Section(
            name=self.one(self.sections),
            bars=self.maybe(range(1, 65)),
            passes=self.one((1, 1, 1, 2, 4)),
            open=self.often(0.3),
            feature=self.maybe(FEATURES, 0.4),
            sounds=(SoundCall(self.one(SOUNDS)),) if self.often(0.4) else (),
            chords=self.maybe(("1 | 5/7 | 6- | 4", "b7 | 4 | 1 | #4o"), 0.3),
            hits=self.maybe(("4, 4&",), 0.3),
            cue=self.maybe(CUES, 0.4),
            watch=self.maybe(self.people, 0.4),
            key=self.key() if self.often(0.2) else None,
            first_words=self.maybe(("under the old",), 0.3),
            tacet=self.often(0.2),
        )

    def song(self) -> Song:
        return Song(
            title=self.title(),
            key=self.key() if self.often(0.7) else None,
            fingered_in=self.key() if self.often(0.2) else None,
            first_words=self.maybe(("by the harbour wall",), 0.3),
            tempo_bpm=self.maybe((40.0, 96.0, 112.0, 181.0, 300.0)),
            meter=self.maybe(METERS),
            starts_with=self.maybe(("keys", *self.people)),
            count_off=self.maybe(("two bars, sticks", "one bar, quietly, by me")),
            ending=self.maybe(tuple(Ending)),
            sounds=(SoundCall(self.one(SOUNDS)),) if self.often(0.7) else (),
            known=self.maybe(range(6)),
            notes=self.title() if self.often(0.4) else None,
            road_map=tuple(self.section() for _ in range(self.random.randint(0, 5))),
            tacet=self.often(0.1),
        )

    def show(self) -> Show:
        sets = tuple(
            Set(name, self.maybe((1200, 1265, 1500)), 45, tuple(self.song() for _ in range(self.random.randint(0, 3))))
            for name in ("First", "Second", "Late")[: self.random.randint(1, 3)]
        )
        return Show(self.title(), sets=sets)

    def state(self) -> State:
        book, missed = make_book(self.show(), rig_of(self.random.randint(1, 3)))
        assert not missed
        events = (Next, Next, Next, Next, Again, Back, Skip, TakeItOut, KeyUp, KeyDown, LeaveOut, Tap, Swap)
        return walked(book, self.random.choices(events, k=self.random.randint(0, 14)))

    def surroundings(self) -> Surroundings:
        return Surroundings(
            lost=self.one(((), (), ("lower port",), ("lower port", "Foot Box"))),
            dry_run=self.maybe(("no keyboard is there; name one with --rig",), 0.2),
            resumed=self.maybe((("continuing here; 0 starts from the top", "continuing here"),), 0.2) or (),
            steps_with=self.maybe(("page down",)),
            bar=self.maybe(range(1, 90)),
            over_min=self.maybe(range(-5, 30), 0.3),
            ends=self.maybe(("22:48",)),
            battery_percent=self.maybe(range(1, 101), 0.3),
            typed=self.maybe(("ket",), 0.1),
            found_songs=self.one(((), ("Kettle on the Jetty", "W" * 80))),
        )

    def view(self) -> View:
        return view(self.state(), self.surroundings(), self.looks())

    def looks(self) -> Looks:
        return Looks(
            light=self.one(tuple(Light)),
            beat=self.often(0.5),
            keys_shown=self.often(0.1),
            everything_until_ms=10**9 if self.often(0.2) else -1,
            count_off_from_ms=self.maybe((0, 100_000)),
            keys=self.one(((), (("page down", "next"), ("page up", "back"), ("t", "take it out")) * 4)),
        )


def rig_of(boards: int, screen: Screen | None = None) -> Rig:
    """Return a rig of so many keyboards that have all sounds; the last sound is set by hand."""
    sounds = tuple(
        Sound(name, None if name == SOUNDS[-1] else number, by_hand="bank B, button 4" if name == SOUNDS[-1] else None)
        for number, name in enumerate(SOUNDS)
    )
    boards_there = tuple(
        Keyboard(name, port=f"{name} port", sounds=sounds) for name in ("lower", "upper", "side")[:boards]
    )
    return Rig("test", boards_there, screen=screen or Screen())


def walked(book: Book, events: Sequence[Any]) -> State:
    """Return the state after these events, one a second."""
    state = at_start(book)
    for number, event in enumerate(events, 1):
        state, _ = step(state, event(at_ms=1000 * number))
    return state


seeds = st.integers(0, 2**40)
