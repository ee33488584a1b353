"""Apply the leader's revised list to an existing show: the differences, and the show with all work kept."""

import datetime as dt
import re
from collections.abc import Mapping, Sequence
from typing import Final, TypeVar

import msgspec

from companion.how_many import how_many
from companion.setlist.model import LineKind, SetList
from companion.setlist.readers.limits import LONGEST_SHOW_NOTES
from companion.setlist.revising.differences import Difference, Differs, by_weight
from companion.setlist.revising.matching import match
from companion.setlist.revising.revision import KnownSong, Origin, Revision, RevisionChoice
from companion.setlist.revising.set_matching import longest_run, sets_continued
from companion.setlist.revising.song_merge import merge
from companion.setlist.tidy import cut, day_text
from companion.show import Set, Show, Song
from companion.show.date_words import time_of_day
from companion.show.titles import folded

KEY_OPEN: Final = re.compile(r"\b(?:key\b[\s:=]*)?(?:tbc|tbd|tba|to be confirmed)\b|\bkey\b[\s:=]*\?+", re.IGNORECASE)

Fact = TypeVar("Fact", str | None, dt.date | None)


def revise(
    show: Show,
    listed: SetList,
    shelf: Sequence[KnownSong] = (),
    known: Mapping[str, KnownSong] | None = None,
    choice: RevisionChoice | None = None,
) -> Revision:
    """Apply a list to a show.

    The list's values win, but for what ``choice`` leaves; everything that it does not mention stays: road maps, sounds,
    charts ... ``shelf`` holds dropped songs: one that is listed again comes back. ``known``: songs that the songbooks
    beside the show know, by the list's title.
    """
    return _Revising(show, listed, shelf, known or {}, choice or RevisionChoice()).revision()


class _Placed(msgspec.Struct):
    """A song at its place in the revised show. ``old``: its number in the old show."""

    song: Song
    origin: Origin | None = None
    old: int | None = None


class _Revising:
    """One list against one show. Songs have numbers, from 0 through all sets of their version."""

    def __init__(
        self,
        show: Show,
        listed: SetList,
        shelf: Sequence[KnownSong],
        known: Mapping[str, KnownSong],
        choice: RevisionChoice,
    ) -> None:
        self._show, self._listed, self._known, self._choice = show, listed, known, choice
        self._places = [(at, index) for at, one in enumerate(show.sets) for index in range(len(one.songs))]
        self._old = [show.sets[at].songs[index] for at, index in self._places]
        self._new = [song for one in listed.show.sets for song in one.songs]
        self._new_sets = [at for at, one in enumerate(listed.show.sets) for _ in one.songs]
        self._pairs = {pair.new: pair for pair in match(self._old, self._new, choice.apart)}
        free = [at for at in range(len(self._new)) if at not in self._pairs]
        back = match([one.song for one in shelf], [self._new[at] for at in free])
        self._back = {free[pair.new]: shelf[pair.old] for pair in back}
        shared = [(self._places[pair.old][0], self._new_sets[at]) for at, pair in self._pairs.items()]
        self._sets_from = sets_continued(show.sets, listed.show.sets, shared)
        self._differences: list[Difference] = []

    def revision(self) -> Revision:
        rows, waiting = self._in_new_order()
        for number, placed in sorted(waiting.items()):
            self._put_back(rows, number, placed)
        kept = {placed.old for row in rows for placed in row}
        full = [at for at, row in enumerate(rows) if row]
        sets = tuple(self._set(at, rows[at]) for at in full)
        self._tell_gone_sets(rows)
        renamed = {one.old_title: one.title for one in self._differences if one.differs is Differs.RENAMED}
        sets = tuple(
            msgspec.structs.replace(one, songs=tuple(_segue_renamed(song, renamed) for song in one.songs))
            for one in sets
        )
        self._differences += _broken_segues(sets)
        show = self._show
        result = msgspec.structs.replace(
            show,
            band=self._fact("band", show.band, None if show.band else self._listed.show.band),
            venue=self._fact("venue", show.venue, None if show.venue else self._listed.show.venue),
            date=self._fact("date", show.date, self._listed.show.date),
            notes=_notes(show, self._listed),
            sets=sets,
        )
        return Revision(
            result,
            by_weight(self._differences),
            tuple(tuple(placed.origin for placed in rows[at]) for at in full),
            tuple(self._sets_from[at] for at in full),
            tuple(place for number, place in enumerate(self._places) if number not in kept),
        )

    def _fact(self, name: str, before: Fact, after: Fact) -> Fact:
        """Return a fact about the show, the list's if it says another and that is taken."""
        if after is None or after == before:
            return before
        said = [_day(one) if isinstance(one, dt.date) else str(one) for one in (before or "none", after)]
        was = None if before is None else str(before)
        is_taken = self._tells(Differs.SHOW, self._show.title, f"{name} {' → '.join(said)}", name, was, str(after))
        return after if is_taken else before

    def _tells(
        self,
        differs: Differs,
        title: str,
        says: str,
        name: str,
        before: str | None = None,
        after: str | None = None,
    ) -> bool:
        """Note a difference; return whether it is taken."""
        named = f"{differs.value}:{name}"
        if named in self._choice.left:
            return False
        self._differences.append(Difference(differs, title, says, "", before, after, named, self._only_changes))
        return True

    # ------------------------------------------------------------------ songs

    def _in_new_order(self) -> tuple[list[list[_Placed]], dict[int, _Placed]]:
        """Return the songs in the list's order, and those that wait to go back to their old places."""
        moved = self._moved()
        rows: list[list[_Placed]] = [[] for _ in self._listed.show.sets]
        waiting: dict[int, _Placed] = {}
        for number, song in enumerate(self._new):
            row = rows[self._new_sets[number]]
            here = _at(self._listed.show.sets[self._new_sets[number]].name, number - self._first_of_set(number))
            if number not in self._pairs:
                if (placed := self._new_song(number, song, here)) is not None:
                    row.append(placed)
                continue
            old = self._pairs[number].old
            placed = self._merged(number, song)
            there = self._where(old)
            if number in moved and not self._tells(
                Differs.MOVED, placed.song.title, f"{there} → {here}", str(number), there, here
            ):
                waiting[old] = placed
            else:
                row.append(placed)
        matched = {pair.old for pair in self._pairs.values()}
        for old, song in enumerate(self._old):
            if old not in matched and not self._tells(Differs.DROPPED, song.title, self._where(old), str(old)):
                waiting[old] = _Placed(song, Origin(*self._places[old]), old)
        return rows, waiting

    def _first_of_set(self, number: int) -> int:
        return self._new_sets.index(self._new_sets[number])

    def _merged(self, number: int, song: Song) -> _Placed:
        """Return a song of both versions, with the list's values."""
        pair = self._pairs[number]
        old, is_open = self._old[pair.old], self._is_key_open(number)
        if is_open and song.notes:
            notes = "; ".join(note for note in song.notes.split("; ") if not KEY_OPEN.fullmatch(note.strip()))
            song = msgspec.structs.replace(song, notes=notes or None)
        merged, differences = merge(old, song, pair.alike, str(number), lambda name: name not in self._choice.left)
        self._differences += differences
        if is_open and old.key and song.key is None:
            self._tells(
                Differs.KEY_OPEN, merged.title, f"the list leaves it open; {old.key} stays", str(number), str(old.key)
            )
        return _Placed(merged, Origin(*self._places[pair.old]), pair.old)

    def _is_key_open(self, number: int) -> bool:
        """Return whether the song's line says that its key is still to come."""
        return any(line.song == number + 1 and KEY_OPEN.search(line.text) for line in self._listed.lines)

    def _new_song(self, number: int, song: Song, here: str) -> _Placed | None:
        """Return a song that the show lacks: from the dropped ones, from a songbook, or new. None if it is left."""
        taken = self._back.get(number)
        kind = Differs.BACK if taken else Differs.NEW
        taken = taken or self._known.get(song.title)
        key = str(song.key or (taken and taken.song.key) or "no key")
        said = f"from {taken.use.partition('#')[0]}" if taken and kind is Differs.NEW else ""
        parts = (here,) if kind is Differs.BACK else (here, key, said)
        title = taken.song.title if taken else song.title
        if not self._tells(kind, title, ", ".join(filter(None, parts)), str(number), None, key):
            return None
        if taken is None:
            return _Placed(song)
        merged, differences = merge(taken.song, song, 100.0, str(number), lambda name: name not in self._choice.left)
        self._differences += differences
        return _Placed(merged, Origin(use=taken.use))

    def _moved(self) -> set[int]:
        """Return the songs that are in another set than before, or in another order within theirs."""
        moved: set[int] = set()
        for at in range(len(self._listed.show.sets)):
            source = self._sets_from[at]
            here = [number for number in self._pairs if self._new_sets[number] == at]
            stayed = [number for number in sorted(here) if self._places[self._pairs[number].old][0] == source]
            first = self._first_of_set(here[0]) if here else 0
            olds = [self._pairs[number].old for number in stayed]
            steady = {old for old, number in zip(olds, stayed, strict=True) if self._places[old][1] == number - first}
            in_order = longest_run(olds, steady)
            moved |= {number for number in here if number not in stayed or self._pairs[number].old not in in_order}
        return moved

    def _put_back(self, rows: list[list[_Placed]], number: int, placed: _Placed) -> None:
        """Put a song after the one that it followed in the old show."""
        set_at = self._places[number][0]
        before = [old for old in range(number - 1, -1, -1) if self._places[old][0] == set_at]
        where = {one.old: (at, index) for at, row in enumerate(rows) for index, one in enumerate(row)}
        target = self._sets_from.index(set_at) if set_at in self._sets_from else None
        for old in before:
            if old in where and target in (None, where[old][0]):
                at, index = where[old]
                rows[at].insert(index + 1, placed)
                return
        if target is None:  # the set is gone, but not this song of it
            self._sets_from = (*self._sets_from, set_at)
            rows.append([])
            target = len(rows) - 1
        rows[target].insert(0, placed)

    # ------------------------------------------------------------------ sets

    def _set(self, at: int, row: Sequence[_Placed]) -> Set:
        """Return a set with its songs; what the list does not say of it stays."""
        songs, source = tuple(placed.song for placed in row), self._sets_from[at]
        if at >= len(self._listed.show.sets) and source is not None:  # kept for songs that the player keeps
            return msgspec.structs.replace(self._show.sets[source], songs=songs)
        one = self._listed.show.sets[at]
        if source is None:
            if self._show.sets:
                self._tells(Differs.SET_NEW, one.name, how_many(len(songs), "song"), str(at))
            return msgspec.structs.replace(one, songs=songs)
        old = self._show.sets[source]
        name = old.name
        if (
            old.name
            and folded(old.name) != folded(one.name)
            and self._has_headings
            and self._tells(Differs.SET_RENAMED, one.name, f"was {old.name}", str(at), old.name, one.name)
        ):
            name = one.name
        starts_min = self._time(Differs.SET_STARTS, name, at, old.starts_min, one.starts_min)
        minutes = self._time(Differs.SET_MINUTES, name, at, old.minutes, one.minutes)
        return Set(name=name, starts_min=starts_min, minutes=minutes, songs=songs)

    def _time(self, differs: Differs, name: str, at: int, before: int | None, after: int | None) -> int | None:
        """Return when a set starts, or its minutes: the list's if it says another and that is taken."""
        if after is None or after == before:
            return before
        shown = time_of_day if differs is Differs.SET_STARTS else _minutes
        was = None if before is None else shown(before)
        is_taken = self._tells(differs, name, f"{was or 'none'} → {shown(after)}", str(at), was, shown(after))
        return after if is_taken else before

    @property
    def _only_changes(self) -> bool:
        """Return whether the list is a message that says what changes in the show, and nothing else."""
        return all(line.took in (LineKind.ABOUT, LineKind.LEFT) for line in self._listed.lines)

    @property
    def _has_headings(self) -> bool:
        """Return whether the list names its sets itself."""
        return any(line.took is LineKind.SET for line in self._listed.lines)

    def _tell_gone_sets(self, rows: Sequence[Sequence[_Placed]]) -> None:
        """Report each set that no new one continues: what it said of itself, and where its songs are."""
        for at, one in enumerate(self._show.sets):
            if at in self._sets_from:
                continue
            goes_on = [
                self._listed.show.sets[there].name
                for there, row in enumerate(rows[: len(self._listed.show.sets)])
                if any(placed.old is not None and self._places[placed.old][0] == at for placed in row)
            ]
            starts = f"started {time_of_day(one.starts_min)}" if one.starts_min is not None else ""
            minutes = _minutes(one.minutes) if one.minutes is not None else ""
            songs = f"its songs go on in {', '.join(goes_on)}" if goes_on else "its songs are dropped" * bool(one.songs)
            self._tells(Differs.SET_GONE, one.name, ", ".join(filter(None, (starts, minutes, songs))), str(at))

    def _where(self, number: int) -> str:
        at, index = self._places[number]
        return _at(self._show.sets[at].name, index)


def _notes(show: Show, listed: SetList) -> str | None:
    """Add what was not understood to the show's notes, except lines already there."""
    had = (show.notes or "").split("\n")
    said = [line.left_words or line.text for line in listed.left]
    new = [words for words in said if words and words not in had]
    return cut("\n".join(filter(None, (show.notes, *new))), LONGEST_SHOW_NOTES) or None


def _segue_renamed(song: Song, renamed: Mapping[str, str]) -> Song:
    target = renamed.get(song.segue or "")
    return msgspec.structs.replace(song, segue=target) if target else song


def _broken_segues(sets: Sequence[Set]) -> list[Difference]:
    broken = []
    for one in sets:
        for at, song in enumerate(one.songs):
            follows = one.songs[at + 1].title if at + 1 < len(one.songs) else None
            if song.segue and (follows is None or folded(follows) != folded(song.segue)):
                says = f"goes into {song.segue}, but {follows or 'nothing'} follows"
                broken.append(Difference(Differs.SEGUE, song.title, says))
    return broken


def _minutes(minutes: int) -> str:
    return how_many(minutes, "minute")


def _day(day: dt.date | None) -> str:
    return day_text(day) if day else "none"


def _at(set_name: str, index: int) -> str:
    return f"{set_name} {index + 1}"
