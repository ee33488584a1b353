"""The state of the show: what was played, where we are, which sounds are on. Frozen; a step makes the next one."""

from __future__ import annotations

from fractions import Fraction

import msgspec

from companion.music import tap_tempo
from companion.music.tempo import FASTEST_BPM, SLOWEST_BPM

from .book import Book, BookSection, BookSong, Sounds
from .effects import Clock
from .past import Before, Past, Rest, with_last
from .place import Landmark, Place, Where
from .tonight import Tonight

QUARTER = Fraction(1, 4)
MOST_TAPS = 9  # eight gaps: with an error of 10 ms a tap the tempo at 120 is right within 0.42 (MIDI needs no more)


class State(msgspec.Struct, frozen=True, gc=False):  # no state holds itself: the collector has nothing to find
    """Everything that the stage knows.

    ``order`` is the running order of each set as numbers of ``book.songs``; ``on`` is the sound that each keyboard has
    been given; ``left_out`` are sections of this song that are not played tonight; ``shift`` is how many semitones the
    band plays it above its written key; ``taps_ms`` are the last beats tapped in it; ``tonight`` keeps these three for
    the songs that were left. Times are in ms since the show began.
    """

    book: Book
    order: tuple[tuple[int, ...], ...]
    place: Place
    on: Sounds
    left_out: frozenset[int] = frozenset()
    shift: int = 0
    taps_ms: tuple[int, ...] = ()
    stepped_ms: int | None = None
    section_began_ms: int = 0
    song_began_ms: int | None = None
    tonight: Tonight = ()
    past: Past | None = None

    def remembered(self) -> Past:
        """Give the past of a state that follows this one by a step."""
        rest = self.past.rests[-1] if self.past else None
        if (
            rest is None
            or rest.book is not self.book
            or rest.order is not self.order
            or rest.left_out is not self.left_out
            or rest.taps_ms is not self.taps_ms
            or rest.tonight is not self.tonight
        ):
            rest = Rest(self.book, self.order, self.left_out, self.taps_ms, self.tonight)
        times = self.stepped_ms, self.section_began_ms, self.song_began_ms
        return with_last(self.past, Before(self.place, self.on, self.shift, *times, rest))

    def before(self) -> State | None:
        """Give the state that "take back" returns to, or None where nothing was stepped."""
        if self.past is None:
            return None
        last = self.past.last()
        return State(
            place=last.place,
            on=last.on,
            shift=last.shift,
            stepped_ms=last.stepped_ms,
            section_began_ms=last.section_began_ms,
            song_began_ms=last.song_began_ms,
            past=self.past.without_last(),
            **msgspec.structs.asdict(last.rest),
        )

    @property
    def song(self) -> BookSong | None:
        """The song that is up next or playing."""
        if self.place.where in (Where.UP_NEXT, Where.PLAYING):
            return self.book.songs[self.order[self.place.set][self.place.at]]
        return None

    @property
    def section(self) -> BookSection | None:
        """The section that is playing; of a song up next, the one that follows first."""
        song = self.song
        return song.sections[self.place.section] if song else None


def first_place(order: tuple[tuple[int, ...], ...]) -> Place:
    """Give the place where the show starts: its first song, up next. A show without songs starts at its end."""
    for number, songs in enumerate(order):
        if songs:
            return Place(Where.UP_NEXT, set=number)
    return Place(Where.END)


def at_start(book: Book) -> State:
    """Give the state before the first press: the first song is up next, its sound is on."""
    start = State(book, book.order, first_place(book.order), (None,) * len(book.rig.keyboards))
    return msgspec.structs.replace(start, on=called_for(start))


def called_for(state: State) -> Sounds:
    """Tell the sound that this place asks of each keyboard; where it asks for none, the one that is on stays."""
    section = state.section
    if section is None:
        return state.on
    if all(section.sounds):
        return section.sounds  # the section's own: thousands of states that are remembered share it
    return tuple(asked or on for asked, on in zip(section.sounds, state.on, strict=True))


def tempo_due(state: State) -> float | None:
    """Tell the tempo of the song here, in its meter's beats a minute: as tapped, else as written."""
    tapped = tap_tempo(state.taps_ms)
    if tapped is not None and SLOWEST_BPM <= tapped.tempo_bpm <= FASTEST_BPM:
        return tapped.tempo_bpm
    return state.song.song.tempo_bpm if state.song else None


def clock_due(state: State) -> Clock:
    """Tell what the MIDI clock must do here: it ticks from up next on, so that a delay is right before it is heard."""
    tempo_bpm = tempo_due(state) if state.song else None
    if tempo_bpm is None or state.song is None:
        return Clock(None)
    beat = state.song.song.meter.felt_beat if state.song.song.meter else QUARTER
    quarters_bpm = tempo_bpm * 4 * beat.numerator / beat.denominator  # a product of fractions costs half a step's time
    return Clock(quarters_bpm, running=state.place.where is Where.PLAYING)


def landmark(state: State) -> Landmark:
    """Tell the place by names, for the journal."""
    place, song, section = state.place, state.song, state.section
    name = "" if place.where is Where.END else state.book.show.sets[place.set].name
    if song is None or section is None:
        return Landmark(place.where, name)
    return Landmark(
        place.where,
        name,
        song.song.title,
        song.occurrence,
        section.section.name,
        section.occurrence,
        place.passed,
        place.rounds,
        state.shift,
    )
