"""The state of the show: what was played, where we are, which sounds are on. Frozen; each step makes a new one."""

from __future__ import annotations

from fractions import Fraction

import msgspec

from companion.music import tap_tempo
from companion.music.tempo import FASTEST_BPM, SLOWEST_BPM
from companion.stage.book import Book, BookSection, BookSong, SoundPerKeyboard
from companion.stage.effects import Clock
from companion.stage.past import Before, Past, Rest, with_last
from companion.stage.place import Landmark, PositionKind, ShowPosition
from companion.stage.tonight import Tonight

QUARTER = Fraction(1, 4)
MAX_TAPS = 9  # eight gaps: with 10 ms of error a tap, the tempo at 120 is accurate to 0.42 (no MIDI needed)


class State(msgspec.Struct, frozen=True, gc=False):  # a state never refers to itself: nothing to collect
    """Everything that the stage knows.

    ``order`` is the running order of each set as numbers of ``book.songs``; ``on`` is the sound last given to each
    keyboard; ``left_out`` are sections of this song that are skipped tonight; ``shift`` is how many semitones above its
    written key the band plays the song; ``taps_ms`` are the last beats tapped in it; ``tonight`` keeps these three for
    songs played earlier. Times are in ms since the show began.
    """

    book: Book
    order: tuple[tuple[int, ...], ...]
    place: ShowPosition
    on: SoundPerKeyboard
    left_out: frozenset[int] = frozenset()
    shift: int = 0
    taps_ms: tuple[int, ...] = ()
    stepped_ms: int | None = None
    section_began_ms: int = 0
    song_began_ms: int | None = None
    tonight: Tonight = ()
    past: Past | None = None

    def remembered(self) -> Past:
        """Return the past of the state that follows this one."""
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
        """Return the state that "take back" returns to; None if nothing was stepped."""
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
        if self.place.where in (PositionKind.UP_NEXT, PositionKind.PLAYING):
            return self.book.songs[self.order[self.place.set][self.place.at]]
        return None

    @property
    def section(self) -> BookSection | None:
        """The section that is playing; while a song is up next, the one that comes first."""
        song = self.song
        return song.sections[self.place.section] if song else None


def first_place(order: tuple[tuple[int, ...], ...]) -> ShowPosition:
    """Return the place where the show starts: its first song, up next. A show without songs starts at its end."""
    for number, songs in enumerate(order):
        if songs:
            return ShowPosition(PositionKind.UP_NEXT, set=number)
    return ShowPosition(PositionKind.END)


def at_start(book: Book) -> State:
    """Return the state before the first press: the first song is up next, its sound is on."""
    start = State(book, book.order, first_place(book.order), (None,) * len(book.rig.keyboards))
    return msgspec.structs.replace(start, on=called_for(start))


def called_for(state: State) -> SoundPerKeyboard:
    """Return the sounds of this place, by keyboard; if it asks for none, the current sound stays."""
    section = state.section
    if section is None:
        return state.on
    if all(section.sounds):
        return section.sounds  # the section's own tuple: thousands of remembered states share it
    return tuple(wanted or on for wanted, on in zip(section.sounds, state.on, strict=True))


def tempo_due(state: State) -> float | None:
    """Return the current tempo of the song in its meter's beats a minute: as tapped, else as written."""
    tapped = tap_tempo(state.taps_ms)
    if tapped is not None and SLOWEST_BPM <= tapped.tempo_bpm <= FASTEST_BPM:
        return tapped.tempo_bpm
    return state.song.song.tempo_bpm if state.song else None


def clock_due(state: State) -> Clock:
    """Return the MIDI clock for this place: it runs from up next on, so that a delay is in time before it is heard."""
    tempo_bpm = tempo_due(state) if state.song else None
    if tempo_bpm is None or state.song is None:
        return Clock(None)
    beat = state.song.song.meter.felt_beat if state.song.song.meter else QUARTER
    quarters_bpm = tempo_bpm * 4 * beat.numerator / beat.denominator  # multiplying fractions takes half a step's time
    return Clock(quarters_bpm, running=state.place.where is PositionKind.PLAYING)


def landmark(state: State) -> Landmark:
    """Return the place by names, for the journal."""
    place, song, section = state.place, state.song, state.section
    name = "" if place.where is PositionKind.END else state.book.show.sets[place.set].name
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
