"""What to ask the band leader: one short message, keys first, answered within two minutes."""

import datetime as dt
import enum
import itertools
import re
from collections.abc import Callable, Container, Iterator, Sequence
from typing import Final

import msgspec

from companion.leader.show_says import song_says
from companion.music import Meter, bar_seconds, shown_length
from companion.show import Ending, Show, Song
from companion.show.chords import with_bars
from companion.show.date_words import date_words
from companion.show.features import features_of
from companion.show.set_words import set_words

ANSWERED_IN_S: Final = 120


class QuestionGroup(enum.Enum):
    """A group of questions, in the order asked; the value is its heading in the message."""

    KEY = "Which key?"
    SURE = "Just to be sure"
    SET = "Sets and times"
    CUT = "What can we cut?"
    STARTS = "Who starts?"
    ENDING = "How does it end?"
    CHART = "Is there a chart?"
    RECORDING = "Which recording or version?"
    DISAGREES = "The list and my notes disagree"


FIELDS: Final = {  # the key of the show file that a group asks for
    QuestionGroup.KEY: "key",
    QuestionGroup.STARTS: "starts_with",
    QuestionGroup.ENDING: "ending",
    QuestionGroup.CHART: "chart",
    QuestionGroup.RECORDING: "recording",
}

# Seconds to think of an answer and type it (common practice, no source).
SECONDS: Final = {
    QuestionGroup.KEY: 4,
    QuestionGroup.SURE: 4,
    QuestionGroup.STARTS: 4,
    QuestionGroup.ENDING: 5,
    QuestionGroup.SET: 8,
    QuestionGroup.CUT: 12,
    QuestionGroup.CHART: 4,
    QuestionGroup.RECORDING: 8,
    QuestionGroup.DISAGREES: 10,
}
MANY_ALIKE: Final = 4  # songs about which the same is asked to be sure; fewer have a line each
FEW: Final = 1  # with more songs, such a group is one question about all of them: few will be the answer
AT_ONCE: Final = {
    QuestionGroup.STARTS: "Do I start any of these? (For the others I wait for the count.)",
    QuestionGroup.ENDING: "How do they end? The odd ones are enough, and what most of them do.",
    QuestionGroup.CHART: "Do you have charts for any of these?",
    QuestionGroup.RECORDING: "Which recording or version should I learn? Links are fine.",
}
AGAIN: Final = "Hi again! Still open for {} (numbers as in my last message):"
AT_ONCE_S: Final = 10  # seconds to read such a question, and one more for each song with its title
BY_NUMBER_S: Final = 0.5  # for a song that has only its number: 6-32


class LeaderQuestion(msgspec.Struct, frozen=True):
    """One question. ``number``: the song's place in the show from 1, over all sets; 0: about the show.

    ``again``: what is asked about the song to be sure, without its title.
    """

    ask: QuestionGroup
    number: int
    words: str
    again: str = ""


THE_DAY: Final = LeaderQuestion(QuestionGroup.SET, 0, "What is the date?")


class Message(msgspec.Struct, frozen=True):
    """The questions to ask now, and those kept for next time. ``show_title`` is "" where only the file has a name.

    ``named``: numbers of songs that an earlier message named; they need no title. ``songs``: the number of songs.
    """

    show_title: str
    date: dt.date | None
    now: tuple[LeaderQuestion, ...]
    later: tuple[LeaderQuestion, ...]
    named: tuple[int, ...] = ()
    songs: int = 0

    @property
    def seconds(self) -> float:
        """Seconds that answering takes."""
        return _answered_in(self.now, self.named)

    def __str__(self) -> str:
        """Return the message as text to paste. A title is named once; later questions have its number only."""
        if not self.now:
            return ""
        lines = [AGAIN.format(self._about()) if self.named else f"Hi! A few questions for {self._about()}:"]
        named: set[int] = set(self.named)
        for ask in QuestionGroup:
            if group := [one for one in self.now if one.ask is ask]:
                lines += ["", *_group_lines(ask, group, named, self.songs)]
                named |= {one.number for one in group}
        example = next((one for one in self.now if one.number), None)
        if example:
            answer = {
                QuestionGroup.KEY: "Bb",
                QuestionGroup.STARTS: "drums",
                QuestionGroup.ENDING: "cold",
                QuestionGroup.CHART: "yes",
                QuestionGroup.SURE: "yes",
            }.get(example.ask, "...")
            lines += ["", f'The number and a word will do, for example "{example.number} {answer}". Thank you!']
        return "\n".join(lines)

    def _about(self) -> str:
        if self.show_title:
            is_dated = self.date and date_words(self.date).casefold() not in self.show_title.casefold()
            return f"{self.show_title}, {date_words(self.date)}" if self.date and is_dated else self.show_title
        return f"the show on {date_words(self.date)}" if self.date else "our show"


def _group_lines(ask: QuestionGroup, group: Sequence[LeaderQuestion], named: set[int], songs: int) -> list[str]:
    """Return a group as lines: a line for each song, or one question about all of them."""
    if ask is QuestionGroup.KEY and len(group) > FEW and any(one.number in named for one in group):
        return [f"{ask.value} ({len(group)} of {songs} songs are still open)", _songs_in_short(group, named)]
    if ask in AT_ONCE and len(group) > FEW:
        return [AT_ONCE[ask], _songs_in_short(group, named)]
    return [ask.value, *(_line(part, named) for part in _asked_alike(group))]


def _line(part: Sequence[LeaderQuestion], named: set[int]) -> str:
    """Return one question as a line, 3 Moth: Bb? or one about many songs, 3 Moth, 4-6: cold ending?."""
    one = part[0]
    if len(part) == 1:
        return f"{one.number} {one.words}" if one.number else one.words
    titled = [LeaderQuestion(each.ask, each.number, each.words.removesuffix(f": {each.again}?")) for each in part]
    return f"{_songs_in_short(titled, named)}: {one.again}?"


def _songs_in_short(group: Sequence[LeaderQuestion], named: set[int]) -> str:
    """Return songs in one line: a number, with its title if it is not named yet, or several numbers as 5-9."""
    parts: list[str] = []
    first = last = 0
    for one in group:
        if one.number in named and one.number == last + 1 and first:
            last = one.number
            parts[-1] = f"{first}-{last}"
        else:
            parts.append(f"{one.number}" if one.number in named else f"{one.number} {one.words}")
            first = last = one.number if one.number in named else 0
    return ", ".join(parts)


# A title that a file's name became: list1, set list, Untitled 2, songs v3, IMG 2041.
FILE_NAME: Final = re.compile(
    r"(?:(?:set|song|track|title)?\s?(?:list|liste|lists)|songs?|sets?|show|new show|untitled|unnamed|document|doc|"
    r"scan|img|image|photo|file|download|reply|message|attachment|final|copy|gig|v)\b|[\W\d_]+$",
    re.IGNORECASE,
)


def name_of(show: Show, file_stem: str) -> str:
    """Return the show's title, or "" if it is only the name of a list's file, such as list1."""
    title = " ".join(re.split(r"[\W_]+", show.title)).strip()
    words = re.sub(r"\d+", " ", title).split()
    is_file = bool(words) and all(FILE_NAME.fullmatch(word) or word.casefold() == "of" for word in words)
    stem = " ".join(re.split(r"[\W_]+", file_stem)).strip()
    typed_by_a_program = title == stem and title == title.lower() and any(letter.isdigit() for letter in title)
    return "" if not words or is_file or typed_by_a_program else show.title


def ask(
    show: Show,
    answered_in_s: int = ANSWERED_IN_S,
    *,
    file_stem: str = "",
    doubts: Sequence[tuple[str, str]] = (),
    settled: Container[tuple[str, str]] = (),
    named: Sequence[int] = (),
) -> Message:
    """Make the message: group by group, songs with features first in each, until the time is used up.

    ``doubts``: titles, names of sets or "" for the show, and the words of what to ask again. ``settled``: (title, field
    of the show file) that are never asked again although the show lacks them; (words, "") for a question about a set or
    a disagreement. ``named``: the numbers that an earlier message named by their titles.
    """
    songs = [song for one in show.sets for song in one.songs]
    asked = [question for _, make in _GROUPS for question in make(show, songs)]
    asked += _to_be_sure(songs, doubts)
    asked = [one for one in asked if not _is_settled(one, settled)]
    asked.sort(key=lambda one: (one != THE_DAY, _PRIORITY[one.ask]))
    now, later = _in_time(asked, answered_in_s, named)
    return Message(name_of(show, file_stem), show.date, _by_number(now), _by_number(later), tuple(named), len(songs))


def _in_time(
    asked: Sequence[LeaderQuestion], answered_in_s: int, named: Sequence[int]
) -> tuple[list[LeaderQuestion], list[LeaderQuestion]]:
    """Part the questions into those that fit the time, and those for later.

    A question about many songs is asked about all of them, or waits: what most of them do is an answer only to the
    whole of it. If nothing else is asked, it does not wait.
    """
    now: list[LeaderQuestion] = []
    later: list[LeaderQuestion] = []
    for ask, group in itertools.groupby(asked, key=lambda one: one.ask):
        together = list(group)
        whole = ask in AT_ONCE and len(together) > FEW
        parts = [together] if whole else _asked_alike(together)
        for part in parts:
            fits = _answered_in([*now, *part], named) <= answered_in_s or (not now and len(part) > FEW)
            (now if fits else later).extend(part)
    return now, later


def _asked_alike(questions: Sequence[LeaderQuestion]) -> list[list[LeaderQuestion]]:
    """Return questions to be sure together, where the same is asked about many songs; each other one alone."""
    alike: dict[str, list[LeaderQuestion]] = {}
    for one in questions:
        alike.setdefault(one.again or one.words, []).append(one)
    return [
        part for group in alike.values() for part in ([group] if len(group) >= MANY_ALIKE else [[one] for one in group])
    ]


def _answered_in(questions: Sequence[LeaderQuestion], named: Sequence[int]) -> float:
    """Return the seconds that the answers take; a song that has its title already is read faster."""
    seconds, known = 0.0, set(named)
    for ask in QuestionGroup:
        group = [one for one in questions if one.ask is ask]
        one_by_one = SECONDS[ask] * len(group)
        if ask is QuestionGroup.SURE:
            parts = _asked_alike(group)
            one_by_one = SECONDS[ask] * len(parts) + round(BY_NUMBER_S * (len(group) - len(parts)))
        if ask in AT_ONCE and len(group) > FEW:
            titles = sum(one.number not in known for one in group)
            seconds += min(one_by_one, AT_ONCE_S + titles + BY_NUMBER_S * (len(group) - titles))
        else:
            seconds += one_by_one
        known |= {one.number for one in group}
    return seconds


_PRIORITY: Final = {group: at for at, group in enumerate(QuestionGroup)}


def _is_settled(question: LeaderQuestion, settled: Container[tuple[str, str]]) -> bool:
    field = FIELDS.get(question.ask)
    return ((question.words, field) if field else (question.words, "")) in settled


def _to_be_sure(songs: Sequence[Song], doubts: Sequence[tuple[str, str]]) -> Iterator[LeaderQuestion]:
    numbers = {song.title: number for number, song in reversed(list(enumerate(songs, start=1)))}
    for about, words in doubts:
        said = f"{about}: {words}" if about else f"{words[:1].upper()}{words[1:]}"
        yield LeaderQuestion(QuestionGroup.SURE, numbers.get(about, 0), f"{said}?", words if about in numbers else "")


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
            for word, value in (("when does it start", one.starts_min), ("how long is it", one.minutes))
            if value is None
        ]
        if lacks:
            yield LeaderQuestion(QuestionGroup.SET, 0, f"{set_words(one.name)}: {', and '.join(lacks)}?")
    if show.venue is None:
        yield LeaderQuestion(QuestionGroup.SET, 0, "Where is it?")


LONGER: Final = 60  # seconds over the slot that nobody notices


def _too_long(show: Show, _songs: Sequence[Song]) -> Iterator[LeaderQuestion]:
    """Ask what to cut where the songs of a set, as far as their lengths are known, are longer than its slot."""
    for one in show.sets:
        seconds = sum(song.length_s or mapped_seconds(song) or 0 for song in one.songs if not song.tacet)
        if one.minutes is not None and seconds > one.minutes * 60 + LONGER:
            come_to = f"the songs come to {round(seconds / 60)} min, the slot is {one.minutes}"
            words = f"{set_words(one.name)}: {come_to}. What can go?"
            yield LeaderQuestion(QuestionGroup.CUT, 0, words)


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
    _each(QuestionGroup.ENDING, lambda song: song_says(song, "ending") is None and song.segue is None),
    (QuestionGroup.SET, _of_sets),
    (QuestionGroup.CUT, _too_long),
    _each(QuestionGroup.CHART, lambda song: song.chart is None),
    _each(QuestionGroup.RECORDING, lambda song: song_says(song, "recording") is None and song.artist is None),
    (QuestionGroup.DISAGREES, _disagreements),
)
