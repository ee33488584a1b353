"""What was played: the night's events replayed into songs with their real lengths, tempos and sections."""

import enum
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from statistics import median

import msgspec

from companion.music import bar_seconds
from companion.music.tempo import FASTEST_BPM, SLOWEST_BPM
from companion.stage.book import Book, BookSong
from companion.stage.counting import COMMON_TIME
from companion.stage.events import AnyEvent, Back, Call, Drop, FromTheTop, PutIn, StartOver, Swap, TakeBack, ToEncore
from companion.stage.order import coming
from companion.stage.place import Landmark, PositionKind, ShowPosition
from companion.stage.state import State, at_start, landmark, tempo_due
from companion.stage.step import step

SLIP_MS = 10_000  # "back" sooner than this undoes a slip; later, the band went back (common practice, no source)
LONGER = 1.5  # an open section that lasted this many times its written bars was extended
FEWEST_TO_TELL = 2  # sections needed to work out a tempo: a single one may have been pressed early


class How(enum.Enum):
    """What was done to the running order."""

    CALLED = "called"
    PUT_IN = "put in"
    DROPPED = "dropped"
    SWAPPED = "swapped"
    TO_ENCORE = "kept for the encore"


class Changed(msgspec.Struct, frozen=True):
    """One change to the running order."""

    at_ms: int
    how: How
    song: str


class TakenBack(msgspec.Struct, frozen=True):
    """A step that was undone: where it was made, and which step ("next"). Something to practise."""

    at_ms: int
    step: str
    mark: Landmark


class SectionPlayed(msgspec.Struct, frozen=True):
    """One section as played, through all its passes.

    ``number`` counts the song's written sections from 0, ``passes`` the passes played, ``again`` the added rounds.
    ``bars`` is the approximate number of bars; None if the tempo is unknown or it was the last section, which lasts
    until the player steps on after the applause.
    """

    number: int
    name: str
    occurrence: int
    at_ms: int
    lasted_ms: int
    passes: int
    again: int
    bars: int | None = None


class SongPlayed(msgspec.Struct, frozen=True):
    """One song as played.

    ``number`` is the song's in the book. ``whole``: played from its first section to the end of its last. ``tempo_bpm``
    is the tapped tempo, else worked out from the presses. ``cut``, ``repeated`` and ``extended`` name sections.
    ``is_over``: the player left the song; otherwise the events end inside it.
    """

    number: int
    title: str
    set: str
    at_ms: int
    lasted_ms: int
    whole: bool
    sections: tuple[SectionPlayed, ...]
    planned_s: int | None = None
    tempo_bpm: float | None = None
    planned_bpm: float | None = None
    shift: int = 0
    false_starts: int = 0
    cut: tuple[str, ...] = ()
    repeated: tuple[str, ...] = ()
    extended: tuple[str, ...] = ()
    is_over: bool = True


class NightPlayed(msgspec.Struct, frozen=True):
    """A whole night: the songs as played, changes to the order, steps taken back, songs not played.

    ``order`` is the final running order, as numbers of the book's songs. ``from_the_top``: the show was started over
    among these events, and only what followed is reported here.
    """

    songs: tuple[SongPlayed, ...]
    changes: tuple[Changed, ...]
    taken_back: tuple[TakenBack, ...]
    not_played: tuple[str, ...]
    order: tuple[tuple[int, ...], ...]
    from_the_top: bool = False


class _Stretch(msgspec.Struct, frozen=True):
    """The time between two changes of place, tempo or key."""

    at_ms: int
    place: ShowPosition
    song: int | None
    set: str
    mark: Landmark
    tapped_bpm: float | None
    shift: int
    by: AnyEvent | None = None


def played(book: Book, events: Iterable[AnyEvent], beginning: State | None = None, begins_ms: int = 0) -> NightPlayed:
    """Return what was played, from the events of the night, or of its part since ``beginning``, at ``begins_ms``."""
    state = beginning or at_start(book)
    log: list[_Stretch | Changed] = [msgspec.structs.replace(_stretch(state, None), at_ms=begins_ms)]
    steps: list[tuple[int, AnyEvent, Landmark]] = []  # the length of the log before each step that can be taken back
    slips: list[TakenBack] = []
    for event in events:
        before = state
        state, _ = step(before, event)
        if state is before:
            continue
        if isinstance(event, TakeBack) and steps:
            length, undone, mark = steps.pop()
            del log[length:]
            if event.of_ms is None:  # otherwise a hold only cancelled its own press
                slips.append(TakenBack(event.at_ms, word_of(undone), mark))
            continue
        if state.past is not before.past and not isinstance(event, TakeBack):
            steps.append((len(log), event, landmark(before)))
        changed = _changed(before, event)
        if changed is not None:
            log.append(changed)
        log.append(_stretch(state, event))
    top = next((at for at in reversed(range(len(log))) if _starts_the_show_over(log[at])), None)
    if top is not None:
        log, slips = log[top:], [one for one in slips if one.at_ms >= log[top].at_ms]
    line, backs = _without_slips(one for one in log if isinstance(one, _Stretch))
    songs = tuple(_songs(state.book, line))
    done = {song.number for song in songs}
    return NightPlayed(
        songs,
        tuple(one for one in log if isinstance(one, Changed)),
        tuple(sorted((*slips, *backs), key=lambda one: one.at_ms)),
        tuple(state.book.songs[one].song.title for in_set in state.order for one in in_set if one not in done),
        state.order,
        top is not None,
    )


def _starts_the_show_over(one: _Stretch | Changed) -> bool:
    return isinstance(one, _Stretch) and isinstance(one.by, FromTheTop)


def word_of(event: AnyEvent) -> str:
    """Return the word for a step: next, again, take it out."""
    return str(type(event).__struct_config__.tag)


def section_word(song: BookSong, number: int) -> str:
    """Return the name of a section, numbered if the song has several of that name: Chorus 2."""
    one = song.sections[number]
    alike = sum(other.section.name == one.section.name for other in song.sections)
    return f"{one.section.name} {one.occurrence}" if alike > 1 else one.section.name


def _stretch(state: State, by: AnyEvent | None) -> _Stretch:
    place = state.place
    inside = place.where in (PositionKind.UP_NEXT, PositionKind.PLAYING)
    return _Stretch(
        by.at_ms if by else 0,
        place,
        state.order[place.set][place.at] if inside else None,
        state.book.show.sets[place.set].name if place.where is not PositionKind.END else "",
        landmark(state),
        tempo_due(state) if len(state.taps_ms) > 1 else None,
        state.shift,
        by,
    )


def _changed(before: State, event: AnyEvent) -> Changed | None:
    match event:
        case Call():
            return Changed(event.at_ms, How.CALLED, before.book.songs[event.song].song.title)
        case PutIn():
            return Changed(event.at_ms, How.PUT_IN, event.song.title)
        case Drop():
            return Changed(event.at_ms, How.DROPPED, _coming(before))
        case Swap():
            return Changed(event.at_ms, How.SWAPPED, _coming(before))
        case ToEncore():
            return Changed(event.at_ms, How.TO_ENCORE, _coming(before))
        case _:
            return None


def _coming(state: State) -> str:
    where = coming(state.order, state.place)
    return state.book.songs[state.order[where[0]][where[1]]].song.title if where else ""


def _without_slips(log: Iterable[_Stretch]) -> tuple[list[_Stretch], list[TakenBack]]:
    """Remove a step that "back" undid at once, as if the place before it had continued."""
    line: list[_Stretch] = []
    backs = []
    for one in log:
        if (
            isinstance(one.by, Back)
            and len(line) > 1
            and line[-1].by is not None
            and one.at_ms - line[-1].at_ms < SLIP_MS
            and (line[-2].place, line[-2].song) == (one.place, one.song)
        ):
            backs.append(TakenBack(one.at_ms, word_of(line[-1].by), line[-2].mark))
            line.pop()
        else:
            line.append(one)
    return line, backs


def _songs(book: Book, line: Sequence[_Stretch]) -> Iterator[SongPlayed]:
    """Group the night into songs: consecutive stretches of one song."""
    here: list[_Stretch] = []
    for one in line:
        playing = one.place.where is PositionKind.PLAYING
        if here and (not playing or one.song != here[-1].song):
            yield _song(book, here, one.at_ms)
            here = []
        if playing:
            here.append(one)
    if here:
        yield _song(book, here, None)


def _song(book: Book, line: Sequence[_Stretch], left_ms: int | None) -> SongPlayed:
    """Summarize one song; ``left_ms`` is when the player left it, None if the night ended first."""
    tops = [number for number, one in enumerate(line) if isinstance(one.by, StartOver)]
    line = line[tops[-1] :] if tops else line
    number = line[0].song or 0
    song = book.songs[number]
    ends_ms = line[-1].at_ms if left_ms is None else left_ms
    visits = _visits(song, line, ends_ms)
    tapped = next((one.tapped_bpm for one in reversed(line) if one.tapped_bpm), None)
    tempo_bpm = tapped or _tempo_implied(song, visits)
    visits = _with_bars(song, visits, tempo_bpm or song.song.tempo_bpm)
    whole = left_ms is not None and visits[0].number == 0 and visits[-1].number >= len(song.sections) - 1
    return SongPlayed(
        number,
        song.song.title,
        line[0].set,
        line[0].at_ms,
        ends_ms - line[0].at_ms,
        whole,
        tuple(visits),
        song.song.length_s,
        tempo_bpm,
        song.song.tempo_bpm,
        max((one.shift for one in line), key=abs),
        len(tops),
        tuple(_cut(song, visits)),
        tuple(_repeated(song, visits)),
        tuple(_extended(song, visits)),
        left_ms is not None,
    )


def _visits(song: BookSong, line: Sequence[_Stretch], ends_ms: int) -> list[SectionPlayed]:
    visits: list[SectionPlayed] = []
    for before, one in pairwise((None, *line)):
        if one is None:
            continue
        place = one.place
        if before is not None and before.place.section == place.section:
            last = visits[-1]
            visits[-1] = msgspec.structs.replace(
                last,
                passes=last.passes + (place.passed > before.place.passed),
                again=last.again + (place.rounds > before.place.rounds),
            )
            continue
        section = song.sections[place.section]
        visits.append(
            SectionPlayed(
                place.section, section.section.name, section.occurrence, one.at_ms, 0, passes=1, again=place.rounds
            )
        )
    ends = [*(one.at_ms for one in visits[1:]), ends_ms]
    return [
        msgspec.structs.replace(one, lasted_ms=end_ms - one.at_ms) for one, end_ms in zip(visits, ends, strict=True)
    ]


def _tempo_implied(song: BookSong, visits: Sequence[SectionPlayed]) -> float | None:
    """Return the tempo from press to press of sections played as written; the last section's end is not a beat."""
    bars_s = []
    for one in visits[:-1]:
        section = song.sections[one.number].section
        if section.bars and not section.open and one.passes == section.passes and not one.again and one.lasted_ms > 0:
            bars_s.append(one.lasted_ms / 1000 / (section.bars * section.passes))
    if len(bars_s) < FEWEST_TO_TELL:
        return None
    tempo_bpm = bar_seconds(song.song.meter or COMMON_TIME, 1) / median(bars_s)
    return round(tempo_bpm, 1) if SLOWEST_BPM <= tempo_bpm <= FASTEST_BPM else None


def _with_bars(song: BookSong, visits: Sequence[SectionPlayed], tempo_bpm: float | None) -> list[SectionPlayed]:
    if tempo_bpm is None:
        return list(visits)
    bar_ms = bar_seconds(song.song.meter or COMMON_TIME, tempo_bpm) * 1000
    counted = [msgspec.structs.replace(one, bars=round(one.lasted_ms / bar_ms)) for one in visits[:-1]]
    return [*counted, visits[-1]]


def _cut(song: BookSong, visits: Sequence[SectionPlayed]) -> Iterator[str]:
    for number in range(visits[0].number, len(song.sections)):
        written = song.sections[number].section.passes
        done = sum(one.passes for one in visits if one.number == number)
        if not done:
            yield section_word(song, number)
        elif done < written:
            yield f"{section_word(song, number)} ({done} of {written})"


def _repeated(song: BookSong, visits: Sequence[SectionPlayed]) -> Iterator[str]:
    for number in dict.fromkeys(one.number for one in visits):
        mine = [one for one in visits if one.number == number]
        more = sum(one.again for one in mine) + len(mine) - 1
        if more and not song.sections[number].section.open:
            yield f"{section_word(song, number)} (+{more})"


def _extended(song: BookSong, visits: Sequence[SectionPlayed]) -> Iterator[str]:
    for one in visits:
        section = song.sections[one.number].section
        if not section.open:
            continue
        written = (section.bars or 0) * section.passes
        if one.again:
            yield f"{section_word(song, one.number)} (+{one.again})"
        elif written and one.bars is not None and one.bars >= written * LONGER:
            yield f"{section_word(song, one.number)} ({one.bars} bars for {written})"
