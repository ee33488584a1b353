"""What a stage does with each word of the foot, worked out from the README alone: a second opinion on the program.

It holds plain values, remembers every state before the last step, and imports nothing of the program. Where the README
leaves a choice, the reading stands beside the line.
"""

from dataclasses import dataclass, replace
from typing import Final

from oracle.songs import BOARDS, KEYS, Evening, Part, Tune, on_boards

UP_NEXT, PLAYING, BREAK, END = "up next", "playing", "break", "end"
NOTHING: Final = ""  # no sound was ever asked for on this board


@dataclass(frozen=True)
class Turn:
    """A song's turn in tonight's order; a song that is called twice has two."""

    tune: Tune
    number: int


@dataclass(frozen=True)
class Spot:
    """Where the show is. ``at`` is the place in the set; ``part`` counts from 0, ``round`` from 1."""

    where: str
    group: int
    at: int = 0
    part: int = 0
    round: int = 1
    more: int = 0  # rounds that "again" added to this pass


@dataclass(frozen=True)
class Stage:
    """All that a step may change."""

    order: tuple[tuple[Turn, ...], ...]
    spot: Spot
    left_out: frozenset[tuple[int, int]] = frozenset()  # the turn's number, and the part
    shifts: tuple[tuple[int, int], ...] = ()  # the turn's number, and half steps
    sounds: tuple[str, ...] = (NOTHING,) * len(BOARDS)  # by board: the name of what is on
    past: "Stage | None" = None

    @property
    def turn(self) -> Turn | None:
        """The song that is up next or playing."""
        if self.spot.where in {BREAK, END}:
            return None
        return self.order[self.spot.group][self.spot.at]

    @property
    def parts(self) -> tuple[Part, ...]:
        """The song's sections; a song without a road map is one step."""
        return (self.turn.tune.parts or (Part(self.turn.tune.title),)) if self.turn else ()

    def plays(self, part: int) -> bool:
        """Tell whether this part was not left out."""
        return self.turn is not None and (self.turn.number, part) not in self.left_out

    @property
    def shift(self) -> int:
        """Half steps that the band plays this song higher than written."""
        return dict(self.shifts).get(self.turn.number, 0) if self.turn else 0

    @property
    def tuning(self) -> int | None:
        """Half steps that the boards sound higher than the hands play; None where no song is on."""
        return None if self.turn is None else self.shift + out_of_the_hands(self.turn.tune)


def out_of_the_hands(tune: Tune) -> int:
    """Half steps from the hands' key to the key that must sound, the short way round."""
    if not tune.key or not tune.fingered_in:
        return 0
    return (KEYS[tune.key] - KEYS[tune.fingered_in] + 6) % 12 - 6


def begun(evening: Evening) -> Stage:
    """The first song is up next, with its first sound on."""
    numbers = iter(range(1000))
    order = tuple(tuple(Turn(tune, next(numbers)) for tune in tunes) for _, tunes in evening.sets)
    return sounding(Stage(order, Spot(UP_NEXT, 0)))


# --- the sounds ---


def due(tune: Tune, at: int) -> dict[str, str]:
    """Each board's sound in this section: its own; that of the last one of its name; the song's; the one before's."""
    return {board: name for board in BOARDS if (name := _due_on(board, tune, at))}


def _due_on(board: str, tune: Tune, at: int) -> str:
    parts = tune.parts or (Part(tune.title),)
    same = [part for part in parts[: at + 1] if part.name == parts[at].name]
    for part in reversed(same):
        if given := on_boards(part.sound).get(board):
            return given
    if given := on_boards(tune.sound).get(board):
        return given
    return _due_on(board, tune, at - 1) if at else NOTHING


def sounding(stage: Stage) -> Stage:
    """Put on what belongs to this spot; a board that nothing was written for stays as it is."""
    if stage.turn is None:
        return stage
    wanted = due(stage.turn.tune, first(stage) if stage.spot.where == UP_NEXT else stage.spot.part)
    return replace(
        stage, sounds=tuple(wanted.get(board, now) for board, now in zip(BOARDS, stage.sounds, strict=True))
    )


def first(stage: Stage) -> int:
    """The first part that is played."""
    return next((at for at in range(len(stage.parts)) if stage.plays(at)), 0)


# --- the words ---


def do(stage: Stage, word: str) -> Stage:
    """The stage after this word of the foot; where the word leads nowhere, it is as it was."""
    if word == "take back":
        return stage.past or stage
    after = _then(stage, word)
    after = sounding(after)
    if replace(after, past=None) == replace(stage, past=None):
        return stage
    return replace(after, past=stage)


def _then(stage: Stage, word: str) -> Stage:
    match word:
        case "next":
            return _next(stage)
        case "back":
            return _back(stage)
        case "again":
            return moved(stage, more=stage.spot.more + 1) if stage.spot.where == PLAYING else stage
        case "take it out":
            return _take_it_out(stage)
        case "skip":
            return _out_of_the_part(stage) if stage.spot.where == PLAYING else stage
        case "leave out":
            return _leave_out(stage)
        case "start over":
            return moved(stage, part=first(stage), round=1, more=0) if stage.spot.where == PLAYING else stage
        case "next song":
            return _next_song(stage, straight_on=False)
        case "previous song":
            return _previous_song(stage)
        case "drop":
            return _drop(stage)
        case "swap":
            return _swap(stage)
        case "to encore":
            return _to_encore(stage)
        case "key up":
            return _shifted(stage, 1)
        case "key down":
            return _shifted(stage, -1)
        case "first note":
            begins = stage.turn is not None and stage.turn.tune.first_note and stage.spot.where == UP_NEXT
            return _next(stage) if begins else stage
        case _:  # sound now, tap tempo, chart, all off, nothing: the show stays where it is
            return stage


def moved(stage: Stage, **where: object) -> Stage:
    """The stage at another spot."""
    return replace(stage, spot=replace(stage.spot, **where))  # type: ignore[arg-type]  # the fields of Spot


def _next(stage: Stage) -> Stage:
    spot = stage.spot
    if spot.where == UP_NEXT:
        return moved(stage, where=PLAYING, part=first(stage), round=1, more=0)
    if spot.where != PLAYING:
        return _next_song(stage, straight_on=False)
    if spot.round < stage.parts[spot.part].passes:
        return moved(stage, round=spot.round + 1, more=0)
    return _out_of_the_part(stage)


def _out_of_the_part(stage: Stage) -> Stage:
    for at in range(stage.spot.part + 1, len(stage.parts)):
        if stage.plays(at):
            return moved(stage, part=at, round=1, more=0)
    return _next_song(stage, straight_on=True)


def _next_song(stage: Stage, *, straight_on: bool) -> Stage:
    """Leave this song. From its last section a segue goes straight into the next one."""
    spot, turn = stage.spot, stage.turn
    if turn is not None and spot.at + 1 < len(stage.order[spot.group]):
        announced = replace(stage, spot=Spot(UP_NEXT, spot.group, spot.at + 1))
        # A segue leads into the song that it names; tonight's order may have another one there.
        follows = announced.turn is not None and announced.turn.tune.title == turn.tune.segue
        return _next(announced) if straight_on and follows else announced
    later = [group for group in range(spot.group + 1, len(stage.order)) if stage.order[group]]
    if spot.where == END:
        return stage
    if spot.where == BREAK:
        return replace(stage, spot=Spot(UP_NEXT, later[0])) if later else replace(stage, spot=Spot(END, spot.group))
    return replace(stage, spot=Spot(BREAK if later else END, spot.group))


def _back(stage: Stage) -> Stage:
    spot = stage.spot
    if spot.where == PLAYING:
        if spot.more:
            return moved(stage, more=spot.more - 1)
        if spot.round > 1:
            return moved(stage, round=spot.round - 1)
        for at in range(spot.part - 1, -1, -1):
            if stage.plays(at):
                return moved(stage, part=at, round=stage.parts[at].passes)
        return moved(stage, where=UP_NEXT, part=0, round=1)
    if spot.where == UP_NEXT and spot.at == 0:
        before = [group for group in range(spot.group) if stage.order[group]]
        return replace(stage, spot=Spot(BREAK, before[-1])) if before else stage
    at = spot.at - 1 if spot.where == UP_NEXT else len(stage.order[spot.group]) - 1
    song = replace(stage, spot=Spot(PLAYING, spot.group, at))
    played = [one for one in range(len(song.parts)) if song.plays(one)] or [0]
    return moved(song, part=played[-1], round=song.parts[played[-1]].passes)


def _previous_song(stage: Stage) -> Stage:
    """Announce the song before."""
    spot = stage.spot
    if spot.where in {BREAK, END}:
        return replace(stage, spot=Spot(UP_NEXT, spot.group, len(stage.order[spot.group]) - 1))
    if spot.at:
        return replace(stage, spot=Spot(UP_NEXT, spot.group, spot.at - 1))
    before = [group for group in range(spot.group) if stage.order[group]]
    return replace(stage, spot=Spot(UP_NEXT, before[-1], len(stage.order[before[-1]]) - 1)) if before else stage


def _take_it_out(stage: Stage) -> Stage:
    if stage.spot.where != PLAYING:
        return stage
    parts = stage.parts
    ending = next((at for at, part in enumerate(parts) if part.ending), len(parts) - 1)
    return moved(stage, part=ending, round=1, more=0) if ending > stage.spot.part else stage


def _leave_out(stage: Stage) -> Stage:
    """The next part is not played; while the song is up next, that is its first one."""
    if stage.turn is None:
        return stage
    begin = stage.spot.part + 1 if stage.spot.where == PLAYING else 0
    later = [at for at in range(begin, len(stage.parts)) if stage.plays(at)]
    if not later:
        return stage
    return replace(stage, left_out=stage.left_out | {(stage.turn.number, later[0])})


def _ahead(stage: Stage) -> list[tuple[int, int]]:
    """Where the songs behind this one stand, set and place."""
    spot = stage.spot
    begin = spot.at + 1 if stage.turn else len(stage.order[spot.group])
    here = [(spot.group, at) for at in range(begin, len(stage.order[spot.group]))]
    return here + [
        (group, at) for group in range(spot.group + 1, len(stage.order)) for at in range(len(stage.order[group]))
    ]


def _drop(stage: Stage) -> Stage:
    ahead = _ahead(stage)
    return _without(stage, *ahead[0]) if ahead else stage


def _without(stage: Stage, group: int, at: int) -> Stage:
    order = [list(turns) for turns in stage.order]
    del order[group][at]
    return replace(stage, order=tuple(map(tuple, order)))


def _swap(stage: Stage) -> Stage:
    ahead = _ahead(stage)
    if len(ahead) < 2:
        return stage
    order = [list(turns) for turns in stage.order]
    (one, first_at), (two, second_at) = ahead[:2]
    order[one][first_at], order[two][second_at] = order[two][second_at], order[one][first_at]
    return replace(stage, order=tuple(map(tuple, order)))


def _to_encore(stage: Stage) -> Stage:
    ahead = _ahead(stage)
    if not ahead:
        return stage
    group, at = ahead[0]
    turn = stage.order[group][at]
    order = [list(turns) for turns in _without(stage, group, at).order]
    order[-1].append(turn)  # the encore is the last set, where there is one; its end is the very end
    return replace(stage, order=tuple(map(tuple, order)))


def call(stage: Stage, tune: Tune) -> Stage:
    """A song called from the floor: up next at once, the order goes on behind it, and it is not played again later."""
    spot = stage.spot
    order = [list(turns) for turns in stage.order]
    number = 1 + max((turn.number for turns in order for turn in turns), default=0)
    for group, at in reversed(_ahead(stage)):
        if order[group][at].tune.title == tune.title:
            number = order[group][at].number
            del order[group][at]
    group, at = spot.group, spot.at
    if stage.turn is None:
        at = len(order[group])
    elif stage.turn.tune.title == tune.title:
        return replace(stage, spot=Spot(UP_NEXT, group, at), past=stage)
    elif spot.where == PLAYING:
        at += 1
    order[group].insert(at, Turn(tune, number))
    called = replace(stage, order=tuple(map(tuple, order)), spot=Spot(UP_NEXT, group, at))
    return replace(sounding(called), past=stage)


def _shifted(stage: Stage, half_steps: int) -> Stage:
    if stage.turn is None:
        return stage
    shifts = dict(stage.shifts)
    shifts[stage.turn.number] = shifts.get(stage.turn.number, 0) + half_steps
    return replace(stage, shifts=tuple(sorted((number, by) for number, by in shifts.items() if by)))
