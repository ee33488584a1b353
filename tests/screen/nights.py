"""Random shows and states for the screen's tests: short and long titles, accents, other alphabets, every state."""

from datetime import date
from typing import Any

from hypothesis import strategies as st

from companion.music import Key, Meter
from companion.rig import Keyboard, Rig, Screen, Sound
from companion.screen import Detail, Light, Looks
from companion.show import Ending, Section, Set, Show, Song, SoundCall
from companion.stage import Again, Back, Book, Next, Skip, State, Surroundings, TakeItOut, at_start, make_book, step

SOUNDS = ("grand piano", "tonewheel organ", "strings", "synth lead", "bells", "electric piano with slow tremolo")
SECTIONS = (
    *("Intro", "Verse", "Pre-chorus", "Chorus", "Bridge", "Solo", "Breakdown", "Outro", "Instrumental", "Interlude"),
    *("Tag", "Vamp", "Turnaround", "Middle eight", "Überleitung", "Проигрыш", "Γέφυρα"),
)
WORDS = (
    *(
        "Gasworks",
        "Kettle",
        "Harbour",
        "Lantern",
        "Umbrella",
        "Postcard",
        "of",
        "the",
        "on",
        "a",
        "Señor",
        "Été",
        "Ångström",
    ),
    *(
        "Ночь",
        "Море",
        "Θάλασσα",
        "(reprise)",
        "漢字",
        "B♭",
        "Blues",
        "No. 9",
        "Wednesdaymorningtramconductor",
        "W" * 40,
    ),
)
PEOPLE = ("drummer", "singer", "bass", "guitar, left", "whoever has the tambourine", "MD", "барабанщик")
CUES = (
    "two fingers up is one more round",
    "stop on 4",
    "back in on the snare",
    "voice and bass only, then all of us at once",
)

words = st.lists(st.sampled_from(WORDS), min_size=1, max_size=9).map(lambda many: " ".join(many)[:80].strip())
keys = st.builds(Key.signed, st.integers(-7, 7))
maybe: Any = st.none


def _sections() -> st.SearchStrategy[tuple[Section, ...]]:
    calls = st.sampled_from(SOUNDS).map(lambda name: (SoundCall(name),))
    one = st.builds(
        Section,
        name=st.sampled_from(SECTIONS),
        bars=st.one_of(maybe(), st.integers(1, 64)),
        passes=st.integers(1, 4),
        open=st.booleans(),
        feature=st.one_of(
            maybe(), st.sampled_from(("feature", "solo", "riff alone", "run up into the new key with both hands"))
        ),
        sounds=st.one_of(st.just(()), calls),
        chords=st.one_of(maybe(), st.sampled_from(("1 | 5/7 | 6- | 4", "b7 | 4 | 1 | #4o"))),
        hits=st.one_of(maybe(), st.just("4, 4&")),
        cue=st.one_of(maybe(), st.sampled_from(CUES)),
        watch=st.one_of(maybe(), st.sampled_from(PEOPLE)),
        key=st.one_of(maybe(), keys),
        first_words=st.one_of(maybe(), st.just("under the old")),
        tacet=st.booleans(),
    )
    return st.lists(one, max_size=5).map(tuple)


def _songs() -> st.SearchStrategy[Song]:
    return st.builds(
        Song,
        title=words,
        key=st.one_of(maybe(), keys),
        fingered_in=st.one_of(maybe(), keys),
        first_words=st.one_of(maybe(), st.just("by the harbour wall")),
        tempo_bpm=st.one_of(maybe(), st.integers(40, 300).map(float)),
        meter=st.one_of(maybe(), st.sampled_from((Meter(4, 4), Meter(6, 8), Meter(7, 8), Meter(1, 4)))),
        starts_with=st.one_of(maybe(), st.sampled_from(("keys", *PEOPLE))),
        count_off=st.one_of(maybe(), st.just("two bars, sticks")),
        ending=st.one_of(maybe(), st.sampled_from(Ending)),
        known=st.one_of(maybe(), st.integers(0, 5)),
        notes=st.one_of(maybe(), words),
        road_map=_sections(),
        tacet=st.booleans(),
    )


def _shows() -> st.SearchStrategy[Show]:
    one_set = st.builds(
        Set,
        name=st.sampled_from(("First", "Second", "Late")),
        starts_min=st.one_of(maybe(), st.integers(0, 1600)),
        songs=st.lists(_songs(), max_size=3).map(tuple),
    )
    return st.builds(Show, title=words, date=st.just(date(2027, 6, 19)), sets=st.lists(one_set, max_size=2).map(tuple))


def rig_of(boards: int, screen: Screen | None = None) -> Rig:
    """Give a rig of so many keyboards that have all sounds; the last sound is set by hand."""
    sounds = tuple(
        Sound(name, number if name != SOUNDS[-1] else None, by_hand="bank B, button 4" if name == SOUNDS[-1] else None)
        for number, name in enumerate(SOUNDS)
    )
    names = ("lower", "upper", "side")[:boards]
    return Rig(
        "test", tuple(Keyboard(name, port=f"{name} port", sounds=sounds) for name in names), screen=screen or Screen()
    )


@st.composite
def states(draw: st.DrawFn) -> State:
    """Give any state of any show."""
    book, missed = make_book(draw(_shows()), rig_of(draw(st.integers(1, 3))))
    assert not missed
    return walked(book, draw(st.lists(st.sampled_from((Next, Next, Next, Again, Back, Skip, TakeItOut)), max_size=14)))


def walked(book: Book, events: list[Any]) -> State:
    """Give the state after these events."""
    state = at_start(book)
    for number, event in enumerate(events, 1):
        state, _ = step(state, event(at_ms=1000 * number))
    return state


surroundings: st.SearchStrategy[Surroundings] = st.builds(
    Surroundings,
    lost=st.sampled_from(((), (), ("lower port",), ("lower port", "Foot Box"))),
    dry_run=st.sampled_from((None, None, "no keyboard is there; name one with --rig")),
    resumed=st.sampled_from((None, None, "the night goes on here")),
    steps_with=st.sampled_from((None, "page down")),
    bar=st.one_of(maybe(), st.integers(1, 90)),
    over_min=st.one_of(maybe(), st.integers(-5, 30)),
    ends=st.one_of(maybe(), st.just("22:48")),
    battery_percent=st.one_of(maybe(), st.integers(1, 100)),
    typed=st.sampled_from((None, None, None, "ket")),
    found_songs=st.sampled_from(((), ("Kettle on the Jetty", "W" * 80))),
)
looks: st.SearchStrategy[Looks] = st.builds(
    Looks,
    light=st.sampled_from(Light),
    beat=st.booleans(),
    keys_shown=st.sampled_from((False, False, False, True)),
    everything_until_ms=st.sampled_from((-1, -1, 10**9)),
    count_off_from_ms=st.one_of(maybe(), st.integers(0, 100_000)),
    keys=st.sampled_from(((), (("page down", "next"), ("page up", "back"), ("t", "take it out")) * 4)),
)
details = st.sampled_from(Detail)
