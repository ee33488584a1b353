"""The book: a show prepared for one rig, with the sounds of every section looked up."""

from collections import Counter

import msgspec

from companion.rig import Rig, Sound, SoundMissing, find_sounds
from companion.show import Section, Show, Song, SoundCall
from companion.show.chords import with_bars
from companion.show.sounding import called_in, in_force

SoundPerKeyboard = tuple[Sound | None, ...]
"""One entry for each keyboard of the rig, in the rig's order; None if the show asks for no sound."""

ENDINGS = ("outro", "tag", "ending", "end", "coda")
"""Sections that "take it out" leads to where the show does not mark one (common practice, no source)."""


class BookSection(msgspec.Struct, frozen=True):
    """A section and its sounds; ``occurrence`` counts sections of this name in the song, from 1.

    ``called`` numbers the keyboards that it calls for, from 0: on the others, what is on only stays on.
    """

    section: Section
    sounds: SoundPerKeyboard
    occurrence: int = 1
    called: frozenset[int] = frozenset()


class BookSong(msgspec.Struct, frozen=True):
    """A song with at least one section: a song without a road map has a single section.

    ``ending`` is the number of the section that "take it out" leads to; ``occurrence`` counts songs of this title in
    the show, from 1.
    """

    song: Song
    sections: tuple[BookSection, ...]
    ending: int = 0
    occurrence: int = 1


class Book(msgspec.Struct, frozen=True):
    """All songs of the show; each set in written order, as indexes into ``songs``."""

    show: Show
    rig: Rig
    songs: tuple[BookSong, ...]
    order: tuple[tuple[int, ...], ...]


class Missed(msgspec.Struct, frozen=True):
    """A sound that a song or section asks for and the rig lacks."""

    missing: SoundMissing
    asked_by: Song | Section


def make_book(show: Show, rig: Rig) -> tuple[Book, tuple[Missed, ...]]:
    """Look up every sound of the show on this rig, before the first note.

    Missing sounds are returned as faults to report before the show, so that no wrong program is sent on stage.
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
    """Return the book with one more song, not yet in any set. Sounds that the rig lacks are left out."""
    occurrence = 1 + sum(one.song.title == song.title for one in book.songs)
    return msgspec.structs.replace(book, songs=(*book.songs, _Finder(book.rig).song(song, occurrence)))


class _Finder:
    """Looks up sounds, each name once, and remembers those that the rig lacks."""

    def __init__(self, rig: Rig) -> None:
        self.rig = rig
        self.missed: list[Missed] = []
        self._found: dict[tuple[SoundCall, ...], tuple[SoundPerKeyboard, tuple[SoundMissing, ...]]] = {}

    def own(self, part: Song | Section) -> dict[int, Sound]:
        """Return the sounds that this part of the show itself asks for, by keyboard."""
        calls = part.sounds
        if not calls:
            return {}
        if calls not in self._found:
            self._found[calls] = find_sounds(self.rig, calls)
        sounds, missing = self._found[calls]
        self.missed += [Missed(one, part) for one in missing]
        return {number: sound for number, sound in enumerate(sounds) if sound is not None}

    def song(self, song: Song, occurrence: int) -> BookSong:
        """Return the song with the sounds of each of its sections."""
        written = song.road_map or (Section(name=""),)
        of_song, own = self.own(song), [(section.name, self.own(section)) for section in written]
        found, called = in_force(own, of_song), called_in(own, of_song)
        names: Counter[str] = Counter()
        sections = []
        song = with_bars(song)
        for section, sounds, boards in zip(song.road_map or written, found, called, strict=True):
            names[section.name] += 1
            on = tuple(sounds.get(number) for number in range(len(self.rig.keyboards)))
            sections.append(BookSection(section, on, names[section.name], boards))
        return BookSong(song, tuple(sections), ending_of(written), occurrence)


def ending_of(written: tuple[Section, ...]) -> int:
    """Return the number of the section that "take it out" leads to: the marked, else the last outro, tag or ending."""
    marked = [number for number, section in enumerate(written) if section.ending]
    named = [number for number, section in enumerate(written) if section.name.casefold() in ENDINGS]
    return (marked or named or [len(written) - 1])[-1]
