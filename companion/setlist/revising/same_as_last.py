"""Apply a message such as "same as last time, but drop Moth" to the last show: the list that it means."""

from collections.abc import Sequence

import msgspec

from companion.how_many import how_many
from companion.setlist.model import (
    Doubt,
    DoubtAnswer,
    FieldCorrection,
    LineCorrection,
    LineKind,
    ListLine,
    ListRow,
    SaidLine,
    SetList,
    SourceLine,
)
from companion.setlist.notation import Notation
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.list_style import Style
from companion.setlist.parsing.set_headings import read_set
from companion.setlist.parsing.song_draft import Draft
from companion.setlist.parsing.song_line import read_song
from companion.setlist.parsing.text_lines import TextLine
from companion.setlist.revising.change_words import ChangeKind, ListChange, clauses_of, is_name
from companion.setlist.revising.farewells import is_farewell_clause, is_signature, without_names
from companion.show import Set, Show, Song
from companion.show.date_words import time_of_day
from companion.show.titles import folded


def changed_list(lines: Sequence[SaidLine], show: Show) -> SetList:
    """Return the show's songs with what the lines change in them. Every line is accounted for, none is lost.

    A line not understood is in doubt, and goes into the show's notes.
    """
    return _Changing(show).take(lines)


class _Changing:
    """The show's songs while changes are applied. A new song has a number too, after those of the show."""

    def __init__(self, show: Show) -> None:
        self._show = show
        self._songs: list[Song] = [song for one in show.sets for song in one.songs]
        self._titles = [song.title for song in self._songs]
        numbers = iter(range(len(self._songs)))
        self._base = show.sets or (Set("Set 1"),)
        self._sets = [[next(numbers) for _ in one.songs] for one in self._base]
        self._dropped: set[int] = set()
        self._doubts: dict[int, list[tuple[Doubt, int | None]]] = {}
        self._asked: dict[int, int] = {}  # the new song that a line's question may take away
        self._says: dict[int, list[str]] = {}
        self._left: dict[int, list[str]] = {}

    def take(self, lines: Sequence[SaidLine]) -> SetList:
        """Return the list with the changes of all lines."""
        for at, line in enumerate(lines):
            if is_signature(lines, at):
                continue
            for clause, changes in without_names(clauses_of(line.text, self._titles)):
                self._take_clause(at, clause, changes)
        sets = tuple(
            msgspec.structs.replace(one, songs=tuple(self._songs[number] for number in numbers))
            for one, numbers in zip(self._base, self._played(), strict=True)
            if numbers
        )
        show: Show = msgspec.structs.replace(self._show, sets=sets, notes=None)
        told = [self._line(at, line) for at, line in enumerate(lines)]
        about = Doubt(f"read as the songs of {self._show.title}, with the changes in this message")
        return SetList(show, tuple(told), (about,))

    def _played(self) -> list[list[int]]:
        return [[number for number in numbers if number not in self._dropped] for numbers in self._sets]

    def _take_clause(self, at: int, clause: str, changes: tuple[ListChange, ...]) -> None:
        for change in changes:
            self._says.setdefault(at, []).append(self._apply(at, change))
        if not changes and not is_farewell_clause(clause):
            self._left.setdefault(at, []).append(clause)
        if changes and any(
            self._titles.count(self._titles[number]) > 1 for one in changes for number in self._known(one)
        ):
            self._doubts.setdefault(at, []).append((Doubt(f"a song of {clause!r} is in the list more than once"), None))

    def _known(self, change: ListChange) -> tuple[int, ...]:
        """Return the songs of the show that a change names."""
        return change.songs if change.beside is None else (*change.songs, change.beside)

    def _line(self, at: int, line: SaidLine) -> ListLine:
        """Return a line's account: what it changes, or that it was not understood."""
        doubts = [self._numbered(doubt, number) for doubt, number in self._doubts.get(at, ())]
        left = [_not_understood(clause) for clause in self._left.get(at, ())]
        says = "; ".join(self._says.get(at, ()))
        took = LineKind.CHANGE if says else LineKind.LEFT if left else LineKind.ABOUT
        words = "; ".join(self._left.get(at, ())) if says else ""
        says = says or "kept in the notes" * bool(left)
        order = [one for numbers in self._played() for one in numbers]
        asked = self._asked.get(at)
        song = order.index(asked) + 1 if asked in order else None
        return ListLine(line.place, line.text, took, says, (*doubts, *left), song, words)

    def _numbered(self, doubt: Doubt, number: int | None) -> Doubt:
        """Return a doubt with its song's number in the finished list."""
        order = [one for numbers in self._played() for one in numbers]
        return msgspec.structs.replace(doubt, song=order.index(number) + 1 if number in order else None)

    # ------------------------------------------------------------------ one change

    def _apply(self, at: int, change: ListChange) -> str:
        """Apply a change; return what the account says of it."""
        names = ", ".join(self._songs[number].title for number in change.songs)
        match change.kind:
            case ChangeKind.DROP:
                self._dropped |= set(change.songs)
                return f"{names}: dropped"
            case ChangeKind.EXCHANGE:
                self._exchange(*change.songs)
                return f"{names}: change places"
            case ChangeKind.KEY:
                return f"{names}: {self._change_key(at, change)}"
            case ChangeKind.MOVE:
                self._put(at, change.songs[0], change)
                return f"{names}: moved"
            case ChangeKind.ADD:
                return self._add(at, change)
            case ChangeKind.START:
                return self._start(at, change)

    def _exchange(self, one: int, other: int) -> None:
        swapped = {one: other, other: one}
        self._sets = [[swapped.get(number, number) for number in numbers] for numbers in self._sets]

    def _change_key(self, at: int, change: ListChange) -> str:
        (number,) = change.songs
        song = self._songs[number]
        key = plain_key(change.key, notation=Notation.LETTERS) if change.key else None
        if change.semitones and song.key:
            key = song.key.transposed(change.semitones)
            no = DoubtAnswer("no", (FieldCorrection("key", str(song.key)),))
            doubt = Doubt(f"moved from {song.key}", f"Is {song.title!r} in {key}?", (DoubtAnswer("yes"), no), "key")
            self._doubts.setdefault(at, []).append((doubt, number))
        if change.is_asked and key is not None and key != song.key:
            no = DoubtAnswer("no", (FieldCorrection("key", str(song.key) if song.key else None),))
            doubt = Doubt("somebody asks for it", f"Is {song.title!r} in {key}?", (DoubtAnswer("yes"), no), "key")
            self._doubts.setdefault(at, []).append((doubt, number))
        if key is None:
            self._left.setdefault(at, []).append(f"another key for {song.title}, which has none here")
            return "no key to move"
        self._songs[number] = msgspec.structs.replace(song, key=key)
        return f"in {key}"

    def _start(self, at: int, change: ListChange) -> str:
        """Move a set's times. An hour without am or pm is of the half of the day that the sets are in."""
        there, times = self._named_set(change.set_words), change.times
        if there is None or times is None:
            self._left.setdefault(at, []).append(f"a start for {change.set_words}, which the show has not")
            return f"no {change.set_words} here"
        others = tuple(one.starts_min for one in self._base if one.starts_min is not None)
        start = times.near(self._base[there].starts_min, others)
        minutes = times.minutes or self._base[there].minutes
        base = list(self._base)
        base[there] = msgspec.structs.replace(base[there], starts_min=start, minutes=minutes)
        self._base = tuple(base)
        length = f", {how_many(times.minutes, 'minute')}" if times.minutes else ""
        return f"{base[there].name}: starts {time_of_day(start)}{length}"

    def _add(self, at: int, change: ListChange) -> str:
        row = ListRow(SourceLine(1), (change.text,), change.text)  # its place is not shown
        draft = read_song(TextLine(row, change.text, change.text), Style(key_at_end=True, capitals=True))
        number = len(self._songs)
        is_sure = _is_song(change, draft)
        if not is_sure and at in self._asked:  # one answer can take one song of a line away
            self._left.setdefault(at, []).append(change.text)
            return f"{draft.title}: not added"
        self._songs.append(draft.song())
        if not is_sure:
            answers = (DoubtAnswer("yes"), DoubtAnswer("no", (LineCorrection(LineKind.ASIDE),)))
            doubt = Doubt("taken for a new song", f"Is {draft.title!r} a song?", answers)
            self._doubts.setdefault(at, []).append((doubt, number))
            self._asked[at] = number
        self._put(at, number, change)
        self._doubts.setdefault(at, []).extend((doubt, number) for doubt in draft.doubts)
        return f"{draft.title}: added"

    def _put(self, at: int, number: int, change: ListChange) -> None:
        """Put a song at its place; where none is named, at the end of the last set before the encore, in doubt."""
        for numbers in self._sets:
            if number in numbers:
                numbers.remove(number)
        if change.beside is not None and (there := self._set_of(change.beside)) is not None:
            index = self._sets[there].index(change.beside) + (change.side == "after")
            self._sets[there].insert(index, number)
            return
        there = self._named_set(change.set_words)
        is_known = there is not None
        if there is None:
            there = 0 if change.side == "first" else self._last_set(is_encore_too=change.side == "last")
        self._sets[there].insert(0 if change.side == "first" else len(self._sets[there]), number)
        if not is_known and (change.set_words or not change.side) and at not in self._asked:
            self._asked[at] = number
            self._doubts.setdefault(at, []).append((self._place_in_doubt(number, there), number))

    def _place_in_doubt(self, number: int, there: int) -> Doubt:
        title, name = self._songs[number].title, self._base[there].name
        return Doubt(
            f"no place for {title} in the message: put at the end of {name}",
            f"Is {title!r} the last song of {name}?",
            (DoubtAnswer("yes"), DoubtAnswer("no", (LineCorrection(LineKind.ASIDE),))),
        )

    def _set_of(self, number: int) -> int | None:
        return next((there for there, numbers in enumerate(self._sets) if number in numbers), None)

    def _named_set(self, words: str) -> int | None:
        """Return the set that these words name, as the show calls it or by its number."""
        plain = words.lower().removeprefix("the ").strip()
        if not plain:
            return None
        if plain.startswith("last"):
            return self._last_set(is_encore_too=False)
        heading = read_set(plain.replace("half", "set"))
        name = folded(heading.name if heading else plain)
        return next((at for at, one in enumerate(self._base) if _same_set(one, at, name)), None)

    def _last_set(self, *, is_encore_too: bool) -> int:
        last = len(self._base) - 1
        is_encore = self._base[last].name.lower().startswith("enc")
        return last - 1 if is_encore and last and not is_encore_too else last


def _is_song(change: ListChange, draft: Draft) -> bool:
    """Return whether new words are a song without a doubt: by a key, quotes, or a place and capitals."""
    has_place = bool(change.side) and is_name(change.text)
    return draft.key is not None or change.text[:1] in "\"'“‘" or has_place


def _not_understood(clause: str) -> Doubt:
    return Doubt(f"not understood, kept in the notes: {clause}")


def _same_set(one: Set, at: int, name: str) -> bool:
    heading = read_set(one.name)
    numbers = ("first", "second", "third", "fourth", "fifth", "sixth")
    return name in (folded(one.name), folded(heading.name) if heading else "") or numbers[at : at + 1] == (name,)
