"""The book: a show made ready for one rig, every section with the sound that belongs there."""

from collections import Counter

import msgspec

from companion.rig import Rig, Sound, SoundMissing, find_sounds
from companion.show import Section, Show, Song, SoundCall
from companion.show.chords import with_bars
from companion.show.sounding import in_force

Sounds = tuple[Sound | None, ...]
"""One for each keyboard of the rig, in its order; None where nothing is asked for."""

ENDINGS = ("outro", "tag", "ending", "end", "coda")
"""Sections that "take it out" leads to where the show does not say which (common practice, no source)."""


class BookSection(msgspec.Struct, frozen=True):
    """A section and the sounds that belong there; ``occurrence`` counts those of its name in the song, from 1."""

    section: Section
    sounds: Sounds
    occurrence: int = 1


class BookSong(msgspec.Struct, frozen=True):
    """A song with at least one section: one without a road map steps as one.

    ``ending`` is the number of the section that "take it out" leads to; ``occurrence`` counts the songs of this title
    in the show, from 1.
    """

    song: Song
    sections: tuple[BookSection, ...]
    ending: int = 0
    occurrence: int = 1


class Book(msgspec.Struct, frozen=True):
    """All songs of the show, and the written order of each set as numbers of ``songs``."""

    show: Show
    rig: Rig
    songs: tuple[BookSong, ...]
    order: tuple[tuple[int, ...], ...]


class Missed(msgspec.Struct, frozen=True):
    """A sound that a song or section of the show asks for and the rig lacks."""

    missing: SoundMissing
    asked_by: Song | Section


def make_book(show: Show, rig: Rig) -> tuple[Book, tuple[Missed, ...]]:
    """Find every sound of the show on this rig, before the first note.

    What is missing is a fault before the show, never a wrong program on stage.
    """
    finder = _Finder(rig)
    songs: list[BookSong] = []
    order: list[tuple[int, ...]] = []
    titles: Counter[str] = Counter()
    for one_set in show.sets:
        order.append(tuple(range(len(songs), len(songs) + len(one_set.songs))))
        for song in one_set.songs:
            titles[song.title] += 1
            songs.append(finder.song(song, titles[song.title]))
    return Book(show, rig, tuple(songs), tuple(order)), tuple(finder.missed)


def with_song(book: Book, song: Song) -> Book:
    """Give the book with one more song, which stands in no set yet. A sound that the rig lacks is left out."""
    occurrence = 1 + sum(one.song.title == song.title for one in book.songs)
    return msgspec.structs.replace(book, songs=(*book.songs, _Finder(book.rig).song(song, occurrence)))


class _Finder:
    """Looks sounds up, each name once, and remembers what was not found."""

    def __init__(self, rig: Rig) -> None:
        self.rig = rig
        self.missed: list[Missed] = []
        self._found: dict[tuple[SoundCall, ...], tuple[Sounds, tuple[SoundMissing, ...]]] = {}

    def own(self, part: Song | Section) -> dict[int, Sound]:
        """Give what this part of the show asks for itself, by keyboard."""
        calls = part.sounds
        if not calls:
            return {}
        if calls not in self._found:
            self._found[calls] = find_sounds(self.rig, calls)
        sounds, missing = self._found[calls]
        self.missed += [Missed(one, part) for one in missing]
        return {number: sound for number, sound in enumerate(sounds) if sound is not None}

    def song(self, song: Song, occurrence: int) -> BookSong:
        """Give the song with the sounds that belong to each of its sections."""
        written = song.road_map or (Section(name=""),)
        found = in_force(((section.name, self.own(section)) for section in written), self.own(song))
        names: Counter[str] = Counter()
        sections = []
        song = with_bars(song)
        for section, sounds in zip(song.road_map or written, found, strict=True):
            names[section.name] += 1
            on = tuple(sounds.get(number) for number in range(len(self.rig.keyboards)))
            sections.append(BookSection(section, on, names[section.name]))
        return BookSong(song, tuple(sections), ending_of(written), occurrence)


def ending_of(written: tuple[Section, ...]) -> int:
    """Give the number of the section that "take it out" leads to: the marked, else the last outro, tag or ending."""
    marked = [number for number, section in enumerate(written) if section.ending]
    named = [number for number, section in enumerate(written) if section.name.casefold() in ENDINGS]
    return (marked or named or [len(written) - 1])[-1]
