"""Every state that gets a picture, each at the first place in a show where it occurs."""

from collections.abc import Callable, Iterator
from typing import Final

import msgspec
from msgspec.structs import replace

from companion.stage import (
    Again,
    Book,
    Next,
    PositionKind,
    ShowPosition,
    State,
    Surroundings,
    at_start,
    next_place,
    runs_on,
    step,
)
from companion.view import Looks, View, view
from companion.view.hands_key import keys_at

SceneTest = Callable[[State], bool]


class Scene(msgspec.Struct, frozen=True):
    """A state with its surroundings and looks, worth a picture."""

    name: str
    state: State
    around: Surroundings
    looks: Looks

    @property
    def view(self) -> View:
        """The view of this scene."""
        return view(self.state, self.around, self.looks)


def scenes(book: Book, looks: Looks | None = None) -> Iterator[Scene]:
    """Yield each scene that occurs in this show, in a fixed order."""
    looks = looks or Looks()
    night = every_state(book)
    for name, fits, around in _SCENES:
        state = next((state for state in night if fits(state)), None)
        if state is not None:
            yield Scene(name, state, _at(state, around), looks)
    for name, fits, more in _CHANGED:
        state = next((state for state in night if fits(state)), None)
        if state is not None:
            yield Scene(name, state, *more(state, looks))


def every_state(book: Book) -> list[State]:
    """Return the states of a night played as written, with open sections once more. The states have no past."""
    state = replace(at_start(book), past=None)
    night = [state]
    while state.place.where is not PositionKind.END:
        if state.section and state.section.section.open and state.place.where is PositionKind.PLAYING:
            night.append(replace(step(state, Again(0))[0], past=None))
        after = replace(step(state, Next(at_ms=len(night)))[0], past=None)
        if after.place == state.place:
            break
        state = after
        night.append(state)
    return night


def _playing(fits: Callable[[State], bool]) -> SceneTest:
    return lambda state: state.place.where is PositionKind.PLAYING and fits(state)


def _plain(state: State) -> bool:
    section = state.section.section if state.section else None
    return bool(section and section.name and not section.feature and not section.open and not section.tacet)


def _follows(state: State) -> State | None:
    song = state.song
    number = state.place.section + 1
    if song is None or number >= len(song.sections):
        return None
    return replace(state, place=ShowPosition(PositionKind.PLAYING, state.place.set, state.place.at, number))


def _feature_coming(state: State) -> bool:
    after = _follows(state)
    return bool(after and after.section and after.section.section.feature) and _plain(state)


def _has(name: str) -> SceneTest:
    return _playing(lambda state: bool(state.section and getattr(state.section.section, name)))


def _key_changes(state: State) -> bool:
    number = state.place.section
    return number > 0 and keys_at(state, number) != keys_at(state, number - 1)


def _segue(state: State) -> bool:
    place, song = state.place, state.song
    last = song is not None and place.section + 1 == len(song.sections)
    return last and runs_on(state.book, state.order, place.set, place.at)


def _last_of_song(state: State) -> bool:
    after = next_place(state.book, state.order, state.place)
    return after.where is PositionKind.UP_NEXT


def _where(where: PositionKind) -> SceneTest:
    return lambda state: state.place.where is where


def _at(state: State, around: dict[str, object]) -> Surroundings:
    return Surroundings(now_ms=state.section_began_ms, **around)  # type: ignore[arg-type]  # the table's keys are its fields


NOWHERE: Final[dict[str, object]] = {}
_SCENES: Final[tuple[tuple[str, SceneTest, dict[str, object]], ...]] = (
    ("before the show", lambda state: state.stepped_ms is None, {"steps_with": "page down"}),
    ("dry run", lambda state: state.stepped_ms is None, {"dry_run": "no keyboard is there"}),
    ("up next", lambda state: state.place.where is PositionKind.UP_NEXT and state.place.at > 0, NOWHERE),
    ("playing", _playing(_plain), NOWHERE),
    ("feature coming", _playing(_feature_coming), NOWHERE),
    ("feature", _has("feature"), NOWHERE),
    ("passes", _playing(lambda state: state.place.passed > 1), NOWHERE),
    ("open", _has("open"), NOWHERE),
    ("open, round 2", _playing(lambda state: state.place.rounds > 0), NOWHERE),
    ("watch and cue", _playing(lambda state: bool(state.section and state.section.section.cue)), NOWHERE),
    ("first words", _has("first_words"), NOWHERE),
    ("hits", _has("hits"), NOWHERE),
    ("bar count", _playing(lambda state: bool(state.section and state.section.section.bars)), {"bar": 3}),
    ("overrun", _playing(lambda state: bool(state.section and state.section.section.bars == 8)), {"bar": 10}),
    ("key changes", _playing(_key_changes), NOWHERE),
    ("tacet", _has("tacet"), NOWHERE),
    ("next song", _playing(_last_of_song), NOWHERE),
    ("segue", _playing(_segue), NOWHERE),
    ("call", _where(PositionKind.UP_NEXT), {"typed": "ket", "found_songs": ("Kettle", "Ketch", "Market Day")}),
    ("call, none fits", _where(PositionKind.UP_NEXT), {"typed": "xyz"}),
    ("call, a new song's sound", _where(PositionKind.UP_NEXT), {"typed": "xyz, Eb,"}),
    ("running late", _playing(_plain), {"over_min": 7, "ends": "20:52"}),
    ("low battery", _playing(_plain), {"battery_percent": 24}),
    ("port found", _playing(_plain), {"notices": ("Stage Piano: connected again",)}),
    ("disk not saving", _playing(_plain), {"is_unsaved": True}),
    ("screen restarted", _playing(_plain), {"notices": ("screen restarted",)}),
    ("went on", _playing(_plain), {"resumed": ("continuing here; 0 starts from the top", "continuing here")}),
    ("between sets", _where(PositionKind.BETWEEN_SETS), NOWHERE),
    ("show over", _where(PositionKind.END), NOWHERE),
)


Shown = tuple[Surroundings, Looks]


def _port_lost(state: State, looks: Looks) -> Shown:
    ports = tuple(board.port or board.name for board in state.book.rig.keyboards)
    return Surroundings(lost=ports[:1]), looks


def _hands(state: State, looks: Looks) -> Shown:
    return Surroundings(waiting=state.on), looks


def _everything(_: State, looks: Looks) -> Shown:
    return Surroundings(), replace(looks, everything_until_ms=1)


def _keys(_: State, looks: Looks) -> Shown:
    return Surroundings(), replace(looks, keys_shown=True)


def _beat(_: State, looks: Looks) -> Shown:
    return Surroundings(), replace(looks, beat=True)


def _count_off(_: State, looks: Looks) -> Shown:
    return Surroundings(), replace(looks, count_off_from_ms=10**9)


def _to_drop(state: State, looks: Looks) -> Shown:
    later = state.order[state.place.set][state.place.at + 1 :]
    titles = tuple(state.book.songs[number].song.title for number in later[:8])
    return Surroundings(advice=f"28 min over, drop {len(titles)}:", to_drop=titles, over_min=28, ends="21:13"), looks


def _all_at_once(state: State, looks: Looks) -> Shown:
    lost, _ = _port_lost(state, looks)
    return replace(lost, over_min=28, ends="21:13", battery_percent=9, notices=("screen restarted",)), looks


def _has_tempo(state: State) -> bool:
    return bool(state.song and state.song.song.tempo_bpm)


_CHANGED: Final[tuple[tuple[str, SceneTest, Callable[[State, Looks], Shown]], ...]] = (
    ("port lost", _playing(_plain), _port_lost),
    ("everything wrong at once", _playing(lambda state: state.place.rounds > 0), _all_at_once),
    ("songs to drop", _playing(_plain), _to_drop),
    ("hands not lifted", lambda state: state.place.where is PositionKind.UP_NEXT and state.place.at > 0, _hands),
    ("everything", _has("feature"), _everything),
    ("keys", lambda state: state.stepped_ms is None, _keys),
    ("beat mark", _playing(_has_tempo), _beat),
    ("count-off", lambda state: state.place.where is PositionKind.UP_NEXT and _has_tempo(state), _count_off),
)
