"""What a stage does with each word of the foot, worked out from the guide alone: a second opinion on the program.

It holds plain values, remembers every state before the last step, and imports nothing of the program. Where the guide
leaves a choice, the reading stands beside the line.
"""

from dataclasses import dataclass, replace
from typing import Final

from oracle.songs import BOARDS, KEYS, Evening, Part, Tune, on_boards

UP_NEXT, PLAYING, BREAK, END = "up next", "playing", "break", "end"
FURTHEST: Final = 11  # half steps; an octave is no change of key
NOTHING: Final = ""  # no sound was ever asked for on this board


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

    order: tuple[tuple[Tune, ...], ...]  # tonight's songs, set by set
    spot: Spot
    left_out: frozenset[tuple[str, int]] = frozenset()  # the song's title, and the part
    shifts: tuple[tuple[str, int], ...] = ()  # the song's title, and half steps
    sounds: tuple[str, ...] = (NOTHING,) * len(BOARDS)  # by board: the name of what is on
    past: "Stage | None" = None

    @property
    def tune(self) -> Tune | None:
        """The song that is up next or playing."""
        if self.spot.where in {BREAK, END}:
            return None
        return self.order[self.spot.group][self.spot.at]

    @property
    def parts(self) -> tuple[Part, ...]:
        """The song's sections; a song without a road map is one step."""
        return (self.tune.parts or (Part(self.tune.title),)) if self.tune else ()

    def plays(self, part: int) -> bool:
        """Return whether this part was not left out."""
        return self.tune is not None and (self.tune.title, part) not in self.left_out

    @property
    def shift(self) -> int:
        """Half steps that the band plays this song higher than written."""
        return dict(self.shifts).get(self.tune.title, 0) if self.tune else 0

    @property
    def tuning(self) -> int:
        """Half steps that the boards sound higher than the hands play; between sets they are in tune."""
        return 0 if self.tune is None else self.shift + out_of_the_hands(self.tune)


def out_of_the_hands(tune: Tune) -> int:
    """Half steps from the hands' key to the key that must sound, the short way round."""
    if not tune.key or not tune.fingered_in:
        return 0
    return (KEYS[tune.key] - KEYS[tune.fingered_in] + 6) % 12 - 6


def begun(evening: Evening) -> Stage:
    """The first song is up next, with its first sound on."""
    order = tuple(tunes for _, tunes in evening.sets)
    return sounding(Stage(order, Spot(UP_NEXT, 0)))


# --- the sounds ---


def due(tune: Tune, at: int) -> dict[str, str]:
    """Each board's sound in this section: its own; that of the last one of its name; the song's; the one before's."""
    return {board: name for board in BOARDS if (name := _due_on(board, tune, at))}


def _due_on(board: str, tune: Tune, at: int) -> str:
    parts = tune.parts or (Part(tune.title),)
    if given := on_boards(parts[at].sound).get(board):
        return given
    same = [one for one in range(at) if parts[one].name == parts[at].name]
    if same and (given := _due_on(board, tune, same[-1])):  # as it sounded, wherever it had its sound from
        return given
    if given := on_boards(tune.sound).get(board):
        return given
    return _due_on(board, tune, at - 1) if at else NOTHING


def sounding(stage: Stage) -> Stage:
    """Put on what belongs to this spot; a board that nothing was written for stays as it is."""
    if stage.tune is None:
        return stage
    wanted = due(stage.tune, first(stage) if stage.spot.where == UP_NEXT else stage.spot.part)
    return replace(stage, sounds=tuple(wanted.get(board, now) for board, now in zip(BOARDS, stage.sounds, strict=True)))


def first(stage: Stage) -> int:
    """The first part that is played."""
    return next((at for at in range(len(stage.parts)) if stage.plays(at)), 0)


# --- the words ---


def do(stage: Stage, word: str) -> Stage:
    """Return the stage after this word of the foot; unchanged where the word leads nowhere."""
    if word == "take back":
        return stage.past or stage
    after = _then(stage, word)
    after = sounding(after)
    # Starting over is a step even in the first section: the song starts again, with its bars and its time.
    anew = word == "start over" and stage.spot.where == PLAYING
    if replace(after, past=None) == replace(stage, past=None) and not anew:
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
            # "so a step and its sound can be had at any time: skip": elsewhere than in a section it is a step forward
            return _out_of_the_part(stage) if stage.spot.where == PLAYING else _next(stage)
        case "leave out":
            return _leave_out(stage)
        case "start over":
            return _start_over(stage)
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
            begins = stage.tune is not None and stage.tune.first_note and stage.spot.where == UP_NEXT
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
    spot, tune = stage.spot, stage.tune
    if tune is not None and spot.at + 1 < len(stage.order[spot.group]):
        announced = announcing(stage, spot.group, spot.at + 1)
        # A segue leads into the song that it names; tonight's order may have another one there.
        follows = announced.tune is not None and announced.tune.title == tune.segue
        return _next(announced) if straight_on and follows else announced
    later = [group for group in range(spot.group + 1, len(stage.order)) if stage.order[group]]
    if spot.where == END:
        return stage
    if spot.where == BREAK:
        return announcing(stage, later[0], 0) if later else replace(stage, spot=Spot(END, spot.group))
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
        if not _ran_into(stage):
            return moved(stage, where=UP_NEXT, part=0, round=1)
    if spot.where == UP_NEXT and spot.at == 0:
        before = [group for group in range(spot.group) if stage.order[group]]
        return replace(stage, spot=Spot(BREAK, before[-1])) if before else stage
    group = spot.group if stage.tune else _ended(stage)
    if group is None:
        return stage
    at = spot.at - 1 if stage.tune else len(stage.order[group]) - 1
    song = replace(stage, spot=Spot(PLAYING, group, at))
    played = [one for one in range(len(song.parts)) if song.plays(one)] or [0]
    return moved(song, part=played[-1], round=song.parts[played[-1]].passes)


def _ran_into(stage: Stage) -> bool:
    """Return whether the song before goes straight into this one, so that it was never up next by itself."""
    spot, tune = stage.spot, stage.tune
    return spot.at > 0 and tune is not None and stage.order[spot.group][spot.at - 1].segue == tune.title


def announcing(stage: Stage, group: int, at: int) -> Stage:
    """This song is up next; what was left out of it when it was on before is played again."""
    tune = stage.order[group][at]
    kept = frozenset(one for one in stage.left_out if one[0] != tune.title)
    return replace(stage, spot=Spot(UP_NEXT, group, at), left_out=kept)


def _start_over(stage: Stage) -> Stage:
    """From the first section, and with those that were left out; before a song there is nothing to start over."""
    if stage.spot.where != PLAYING:
        return stage
    return _next(announcing(stage, stage.spot.group, stage.spot.at))


def _ended(stage: Stage) -> int | None:
    """In a break or at the end: the last set that was played. It may have lost its songs tonight."""
    last = stage.spot.group if stage.spot.where == BREAK else len(stage.order) - 1
    return next((group for group in range(last, -1, -1) if stage.order[group]), None)


def _previous_song(stage: Stage) -> Stage:
    """Announce the song before; before the first one there is none, so that one is announced again."""
    spot = stage.spot
    if stage.tune is None:
        group = _ended(stage)
        return stage if group is None else announcing(stage, group, len(stage.order[group]) - 1)
    if spot.at:
        return announcing(stage, spot.group, spot.at - 1)
    before = [group for group in range(spot.group) if stage.order[group]]
    return (
        announcing(stage, before[-1], len(stage.order[before[-1]]) - 1) if before else announcing(stage, spot.group, 0)
    )


def _take_it_out(stage: Stage) -> Stage:
    if stage.spot.where != PLAYING:
        return stage
    parts = stage.parts
    ending = next((at for at, part in enumerate(parts) if part.ending), len(parts) - 1)
    return moved(stage, part=ending, round=1, more=0) if ending > stage.spot.part else stage


def _leave_out(stage: Stage) -> Stage:
    """The next part is not played. A song that is up next has none playing, so none that is next to it."""
    if stage.tune is None or stage.spot.where != PLAYING:
        return stage
    later = [at for at in range(stage.spot.part + 1, len(stage.parts)) if stage.plays(at)]
    if not later:
        return stage
    return replace(stage, left_out=stage.left_out | {(stage.tune.title, later[0])})


def _ahead(stage: Stage) -> list[tuple[int, int]]:
    """Where the songs stand that have not begun, set and place: first of all the one that is up next."""
    spot = stage.spot
    begin = {UP_NEXT: spot.at, PLAYING: spot.at + 1}.get(spot.where, len(stage.order[spot.group]))
    here = [(spot.group, at) for at in range(begin, len(stage.order[spot.group]))]
    return here + [
        (group, at) for group in range(spot.group + 1, len(stage.order)) for at in range(len(stage.order[group]))
    ]


def _reordered(stage: Stage, order: list[list[Tune]]) -> Stage:
    """Another order: where another song has come to be up next, it is announced."""
    spot = stage.spot
    after = replace(stage, order=tuple(map(tuple, order)))
    behind = [group for group in range(spot.group + 1, len(order)) if order[group]]
    ended = spot.where == UP_NEXT and spot.at >= len(order[spot.group])
    if (ended or spot.where == BREAK) and not behind:
        return replace(after, spot=Spot(END, spot.group))
    if ended and order[spot.group]:
        return replace(after, spot=Spot(BREAK, spot.group))
    if ended:
        return announcing(after, behind[0], 0)
    return after if after.tune == stage.tune else announcing(after, spot.group, spot.at)


def _drop(stage: Stage) -> Stage:
    ahead = _ahead(stage)
    if not ahead:
        return stage
    order = [list(tunes) for tunes in stage.order]
    del order[ahead[0][0]][ahead[0][1]]
    return _reordered(stage, order)


def _swap(stage: Stage) -> Stage:
    ahead = _ahead(stage)
    if len(ahead) < 2:
        return stage
    order = [list(tunes) for tunes in stage.order]
    (one, first_at), (two, second_at) = ahead[:2]
    order[one][first_at], order[two][second_at] = order[two][second_at], order[one][first_at]
    return _reordered(stage, order)


def _to_encore(stage: Stage) -> Stage:
    """Behind all others: the encore is the last set if there is one, and its end is the very end."""
    ahead = _ahead(stage)
    if not ahead:
        return stage
    order = [list(tunes) for tunes in stage.order]
    order[-1].append(order[ahead[0][0]].pop(ahead[0][1]))
    return _reordered(stage, order)


def call(stage: Stage, tune: Tune) -> Stage:
    """A song called from the floor: up next at once, the order goes on behind it, and it is not played again later.

    In a break it is one more of the set that has ended, at the end one more of the last set.
    """
    spot = stage.spot
    order = [list(tunes) for tunes in stage.order]
    group = spot.group if spot.where != END else len(order) - 1
    at = {UP_NEXT: spot.at, PLAYING: spot.at + 1}.get(spot.where, len(order[group]))
    for ahead_group, ahead_at in reversed(_ahead(stage)):
        if order[ahead_group][ahead_at].title == tune.title:
            del order[ahead_group][ahead_at]
    order[group].insert(at, tune)
    if (called := replace(stage, order=tuple(map(tuple, order)))) == stage and spot.where == UP_NEXT:
        return stage  # it is up next already
    return replace(sounding(announcing(called, group, at)), past=stage)


def _shifted(stage: Stage, half_steps: int) -> Stage:
    if stage.tune is None:
        return stage
    shifts = dict(stage.shifts)
    title = stage.tune.title
    shifts[title] = max(-FURTHEST, min(FURTHEST, shifts.get(title, 0) + half_steps))
    return replace(stage, shifts=tuple(sorted((title, by) for title, by in shifts.items() if by)))
