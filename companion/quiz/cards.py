"""The quiz cards of a song: questions that its show file can answer, and the right answers."""

import enum
import itertools
from collections import Counter, defaultdict
from collections.abc import Iterator
from typing import Final

import msgspec

from companion.music import Chord, Key, NotMusic, NumberChord
from companion.show import SectionChords, Show, Song, chords_on
from companion.show.features import features_of
from companion.show.opening_sound import first_sounds
from companion.show.titles import folded

SPOKEN: Final = ("", "first ", "second ", "third ", "fourth ", "fifth ", "sixth ", "seventh ", "eighth ")


class Subject(enum.Enum):
    """The subject of a card; the value is its word in the records."""

    KEY = "key"
    STARTS = "starts"
    SOUND = "first sound"
    CHORD = "first chord"
    NEXT = "next"
    FEATURES = "features"
    ENDING = "ending"


class Card(msgspec.Struct, frozen=True):
    """One question. ``right`` holds the answers as words; ``key`` and ``chord`` are set if it can be played."""

    song: Song
    asks: Subject
    question: str
    right: tuple[str, ...]
    at: str = ""  # numbers the cards of one subject in a song
    key: Key | None = None
    chord: Chord | None = None
    number: NumberChord | None = None
    hands: Chord | None = None  # as fingered, if the keyboard is retuned

    @property
    def name(self) -> str:
        """Its name in the records, unchanged when songs move."""
        return f"{self.asks.value}{f' {self.at}' if self.at else ''}"

    @property
    def answer(self) -> str:
        """The right answer as shown."""
        return ", ".join(self.right)


def cards_of(show: Show) -> tuple[Card, ...]:
    """Return all cards of a show, in its order; a song played twice has its cards once."""
    seen: set[str] = set()
    found: list[Card] = []
    for one in show.sets:
        for song in one.songs:
            if not song.tacet and folded(song.title) not in seen:
                seen.add(folded(song.title))
                found += _of_song(song)
    return tuple(found)


def _of_song(song: Song) -> Iterator[Card]:
    if song.key:
        yield Card(song, Subject.KEY, f"In which key is {song.title}?", (str(song.key),), key=song.key)
    if song.starts_with:
        yield Card(song, Subject.STARTS, f"Who starts {song.title}?", (song.starts_with,))
    calls = first_sounds(song)
    if calls:
        yield Card(song, Subject.SOUND, f"Which sound begins {song.title}?", calls)
    yield from _first_chord(song)
    yield from _what_follows(song)
    features = features_of(song)
    if features:
        question = f"Where do people listen to the keys in {song.title}?"
        yield Card(song, Subject.FEATURES, question, tuple(dict.fromkeys(one.section or one.what for one in features)))
    if song.ending:
        yield Card(song, Subject.ENDING, f"How does {song.title} end?", (song.ending.value,))


def _first_chord(song: Song) -> Iterator[Card]:
    at, on = next(((number, on) for number, on in enumerate(chords_on(song)) if on.text), (0, None))
    if on is None:
        return
    sounding, played = _first_of(on, on.sounds), _first_of(on, on.hands)
    if sounding is None:
        return
    written = _first_of(on, None)
    number = written if isinstance(written, NumberChord) else None
    chord, hands = (one if isinstance(one, Chord) else None for one in (sounding, played))
    words = [chord.shown] if chord else []
    if hands and hands != chord:
        words = [f"{hands.shown} fingered", *(f"{word} sounding" for word in words)]
    right = (*words, *([str(number)] if number else ()))
    place = f" of the {on.section.name}" if at else ""
    question = f"First chord{place} in {song.title}?"
    yield Card(song, Subject.CHORD, question, right, key=on.sounds, chord=chord, number=number, hands=hands)


def _first_of(on: SectionChords, key: Key | None) -> Chord | NumberChord | None:
    """Return the first chord of a section in a key; None if it is unreadable."""
    try:
        line = on.line_in(key)
    except NotMusic:
        return None
    return next((one.chord for bar in line.played for one in bar.chords), None) if line else None


def _what_follows(song: Song) -> Iterator[Card]:
    """Yield cards about what comes after a section, where it is easy to get wrong or leads to a feature."""
    followers: dict[str, set[str]] = defaultdict(set)
    sections = song.road_map
    for section, after in itertools.pairwise(sections):
        followers[section.name].add(after.name)
    often = Counter(section.name for section in sections)
    times: Counter[str] = Counter()
    for section, after in itertools.pairwise(sections):
        times[section.name] += 1
        if len(followers[section.name]) < 2 and not after.feature and after.key is None:
            continue
        which = SPOKEN[times[section.name]] if often[section.name] > 1 and times[section.name] < len(SPOKEN) else ""
        question = f"{song.title}: what comes after the {which}{section.name}?"
        yield Card(song, Subject.NEXT, question, (after.name,), at=f"{section.name} {times[section.name]}")
