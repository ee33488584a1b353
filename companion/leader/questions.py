"""What to ask the band leader: one short message, keys first, answered within two minutes."""

import datetime as dt
import enum
from collections.abc import Callable, Iterator, Sequence
from typing import Final

import msgspec

from companion.music import Meter, bar_seconds, shown_length
from companion.show import Ending, Show, Song
from companion.show.chords import with_bars
from companion.show.features import features_of

ANSWERED_IN_S: Final = 120


class QuestionGroup(enum.Enum):
    """A group of questions, in the order asked; the value is its heading in the message."""

    KEY = "Which key?"
    STARTS = "Who starts?"
    ENDING = "How does it end?"
    SET = "Sets and times"
    CHART = "Is there a chart?"
    RECORDING = "Which recording?"
    DISAGREES = "The list and my notes disagree"


# Seconds to think of an answer and type it (common practice, no source).
SECONDS: Final = {
    QuestionGroup.KEY: 4,
    QuestionGroup.STARTS: 4,
    QuestionGroup.ENDING: 5,
    QuestionGroup.SET: 8,
    QuestionGroup.CHART: 4,
    QuestionGroup.RECORDING: 8,
    QuestionGroup.DISAGREES: 10,
}


class LeaderQuestion(msgspec.Struct, frozen=True):
    """One question. ``number``: the song's place in the show from 1, over all sets; 0: about the show."""

    ask: QuestionGroup
    number: int
    words: str


THE_DAY: Final = LeaderQuestion(QuestionGroup.SET, 0, "What is the date?")


class Message(msgspec.Struct, frozen=True):
    """The questions to ask now, and those kept for next time."""

    show_title: str
    date: dt.date | None
    now: tuple[LeaderQuestion, ...]
    later: tuple[LeaderQuestion, ...]

    @property
    def seconds(self) -> int:
        """Seconds that answering takes."""
        return sum(SECONDS[one.ask] for one in self.now)

    def __str__(self) -> str:
        """Return the message as text to paste."""
        if not self.now:
            return ""
        day = f", {_day(self.date)}" if self.date else ""
        lines = [f"Hi! A few questions for {self.show_title}{day}:"]
        for ask in QuestionGroup:
            group = [one for one in self.now if one.ask is ask]
            if group:
                lines += [
                    "",
                    f"{ask.value}",
                    *(f"{one.number} {one.words}" if one.number else one.words for one in group),
                ]
        example = next((one for one in self.now if one.number), None)
        if example:
            answer = {
                QuestionGroup.KEY: "Bb",
                QuestionGroup.STARTS: "drums",
                QuestionGroup.ENDING: "cold",
                QuestionGroup.CHART: "yes",
            }.get(example.ask, "...")
            lines += ["", f'The number and a word will do, for example "{example.number} {answer}". Thank you!']
        return "\n".join(lines)


def _day(date: dt.date) -> str:
    return f"{date.day} {date:%B %Y}"


def ask(show: Show, answered_in_s: int = ANSWERED_IN_S) -> Message:
    """Make the message: group by group, songs with features first in each, until the time is used up."""
    songs = [song for one in show.sets for song in one.songs]
    now: list[LeaderQuestion] = []
    later: list[LeaderQuestion] = []
    seconds = (
        SECONDS[QuestionGroup.SET] if show.date is None else 0
    )  # always ask the date: nothing can be planned without it
    for question in (question for _, make in _GROUPS for question in make(show, songs)):
        if question == THE_DAY:
            now.append(question)
        elif not later and seconds + SECONDS[question.ask] <= answered_in_s:
            now.append(question)
            seconds += SECONDS[question.ask]
        else:
            later.append(question)
    return Message(show.title, show.date, _by_number(now), _by_number(later))


def _by_number(questions: Sequence[LeaderQuestion]) -> tuple[LeaderQuestion, ...]:
    order = list(QuestionGroup)
    return tuple(sorted(questions, key=lambda one: (order.index(one.ask), one.number)))


def _each(
    kind: QuestionGroup, lacks: Callable[[Song], bool]
) -> tuple[QuestionGroup, Callable[[Show, Sequence[Song]], Iterator[LeaderQuestion]]]:
    """Make the questions of one group: one for each song that lacks the answer, songs with features first."""

    def make(_show: Show, songs: Sequence[Song]) -> Iterator[LeaderQuestion]:
        numbered = [(number, song) for number, song in enumerate(songs, start=1) if not song.tacet and lacks(song)]
        weighty = sorted(numbered, key=lambda one: -sum(feature.weight for feature in features_of(one[1])))
        yield from (LeaderQuestion(kind, number, song.title) for number, song in weighty)

    return kind, make


def _of_sets(show: Show, _songs: Sequence[Song]) -> Iterator[LeaderQuestion]:
    if show.date is None:
        yield THE_DAY
    for one in show.sets:
        lacks = [
            word
            for word, value in (("When does it start", one.starts_min), ("how long is it", one.minutes))
            if value is None
        ]
        if lacks:
            words = ", and ".join(lacks)
            yield LeaderQuestion(QuestionGroup.SET, 0, f"{one.name} set: {words[0].upper()}{words[1:]}?")
    if show.venue is None:
        yield LeaderQuestion(QuestionGroup.SET, 0, "Where is it?")


def _disagreements(_show: Show, songs: Sequence[Song]) -> Iterator[LeaderQuestion]:
    for number, song in enumerate(songs, start=1):
        for words in disagreements(song):
            yield LeaderQuestion(QuestionGroup.DISAGREES, number, f"{song.title}: {words}")


APART: Final = 0.2  # share of the length; a smaller difference may be a pause or a slower night


def disagreements(song: Song) -> Iterator[str]:
    """Yield contradictions in the song's own facts: length and bars, ending and segue, key and chart."""
    seconds = mapped_seconds(song)
    if song.length_s and seconds and abs(seconds - song.length_s) > APART * song.length_s:
        yield f"the list says {shown_length(song.length_s)}, the chart comes to {shown_length(seconds)}"
    if song.segue and song.ending not in (None, Ending.SEGUE):
        yield f"it ends {song.ending.value}, or straight into {song.segue}?"
    if song.ending is Ending.SEGUE and not song.segue:
        yield "which song does it go into?"
    if song.record_key and song.key and song.road_map and song.road_map[0].key and song.road_map[0].key != song.key:
        yield f"the list says {song.key}, the chart begins in {song.road_map[0].key}"


def mapped_seconds(song: Song) -> float | None:
    """Return the road map's length in seconds at the song's tempo; None without bars or tempo, or where it is open."""
    road_map = with_bars(song).road_map
    if song.tempo_bpm is None or not road_map or any(one.bars is None or one.open for one in road_map):
        return None
    bars = sum((one.bars or 0) * one.passes for one in road_map)
    return bars * bar_seconds(song.meter or Meter(4, 4), song.tempo_bpm)


_GROUPS: Final = (
    _each(QuestionGroup.KEY, lambda song: song.key is None),
    _each(QuestionGroup.STARTS, lambda song: song.starts_with is None),
    _each(QuestionGroup.ENDING, lambda song: song.ending is None and song.segue is None),
    (QuestionGroup.SET, _of_sets),
    _each(QuestionGroup.CHART, lambda song: song.chart is None),
    _each(QuestionGroup.RECORDING, lambda song: song.recording is None and song.artist is None),
    (QuestionGroup.DISAGREES, _disagreements),
)
