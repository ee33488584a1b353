"""Apply the answers to the doubts about a list: their corrections change its songs and lines."""

from collections.abc import Callable, Iterable, Mapping, Sequence

import msgspec

from companion.music import read_key, read_meter, read_tempo
from companion.setlist.model import (
    AsideLine,
    Beside,
    Correction,
    Doubt,
    DoubtAnswer,
    FieldCorrection,
    LineCorrection,
    LineKind,
    ListLine,
    PlaceCorrection,
    SetList,
    SetsCorrection,
    SetStart,
    SourceLine,
)
from companion.setlist.rest_of_title import with_rest
from companion.setlist.set_names_made import name_after
from companion.setlist.set_times import with_said_times
from companion.setlist.song_words import song_words
from companion.setlist.tidy import one_line
from companion.show import Set, Show, Song

NOTES_APART = "; "


def corrected(listed: SetList, answers: Sequence[tuple[Doubt, DoubtAnswer]]) -> SetList:
    """Return the list with these answers applied, all at once: songs keep their numbers until the end.

    The answered doubts are removed, and each line that an answer changed says so. An answer with ``ReadAgain`` is
    ignored: read the file again before the call.
    """
    songs: list[list[Song | None]] = [list(one.songs) for one in listed.show.sets]
    change = _Correcting(listed, songs)
    answered = {doubt for doubt, _ in answers} | pointless(listed, answers)
    lines = [_without(line, answered) for line in listed.lines]
    for doubt, answer in answers:
        at = next((at for at, line in enumerate(listed.lines) if doubt in line.doubts), None)
        for correction in with_rest(answer, change.song(doubt.song), listed.notation).corrections:
            lines = change.apply(correction, doubt, at, lines)
    words = {doubt: answer.word for doubt, answer in answers if answer.corrections}
    set_anew = {
        doubt for doubt, answer in answers if any(isinstance(one, FieldCorrection) for one in answer.corrections)
    }
    lines = [
        change.told_again(now) if set_anew & set(before.doubts) else now
        for now, before in zip(lines, listed.lines, strict=True)
    ]
    lines = [_with_answers_about(line, words) for line in lines]
    lines = [_with_words(now, before, words) for now, before in zip(lines, listed.lines, strict=True)]
    sets = tuple(_set(one, found) for one, found in zip(change.sets, songs, strict=True))
    before = [one for one in (listed.show.notes or "").split("\n") if one not in change.forgotten]
    notes = "\n".join(filter(None, (*before, *change.notes))) or None
    sets = with_said_times([one for one in sets if one.songs], listed.said_times)
    show: Show = msgspec.structs.replace(listed.show, sets=sets, notes=notes)
    return msgspec.structs.replace(
        listed,
        show=show,
        lines=tuple(lines),
        doubts=tuple(doubt for doubt in listed.doubts if doubt not in answered),
        set_aside=(*(one for one in listed.set_aside if one.place not in change.played), *change.aside),
    )


def pointless(listed: SetList, answers: Sequence[tuple[Doubt, DoubtAnswer]]) -> set[Doubt]:
    """Return the other doubts of each line that is no song, as the player says: nothing is left to ask about it."""
    no_songs = {
        doubt
        for doubt, answer in answers
        if any(isinstance(one, LineCorrection) and one.took is not LineKind.SONG for one in answer.corrections)
    }
    return {doubt for line in listed.lines if no_songs & set(line.doubts) for doubt in line.doubts}


def _without(line: ListLine, answered: set[Doubt]) -> ListLine:
    return msgspec.structs.replace(line, doubts=tuple(doubt for doubt in line.doubts if doubt not in answered))


def _with_words(now: ListLine, before: ListLine, words: Mapping[Doubt, str]) -> ListLine:
    """Return a line with what the player said about it, where that changed it."""
    said = [f"you said {words[doubt]}" for doubt in before.doubts if doubt in words]
    return msgspec.structs.replace(now, says=" · ".join(filter(None, (now.says, *said)))) if said else now


def _with_answers_about(line: ListLine, words: Mapping[Doubt, str]) -> ListLine:
    """Return a line of talk with what the player said about songs that it would change."""
    about = [doubt for doubt in words if doubt.quotes.startswith(f"{line.place}: ") and doubt not in line.doubts]
    said = [f"you said {words[doubt]}: {doubt.question}" for doubt in about]
    return msgspec.structs.replace(line, says=" · ".join(filter(None, (line.says, *said)))) if said else line


def _set(one: Set, songs: Iterable[Song | None]) -> Set:
    return msgspec.structs.replace(one, songs=tuple(song for song in songs if song is not None))


class _Correcting:
    """The songs while corrections change them; a song taken out leaves None, so that numbers stay."""

    def __init__(self, listed: SetList, songs: list[list[Song | None]]) -> None:
        self._listed = listed
        self._songs = songs
        self.sets = list(listed.show.sets)
        self._where = [(at, index) for at, one in enumerate(songs) for index in range(len(one))]
        self._added: dict[int, tuple[int, int]] = {}  # the same of lines that became songs, by the line
        self.notes: list[str] = []
        self.forgotten: list[str] = []  # lines in the show's notes that are songs or headings after all
        self.aside: list[AsideLine] = []
        self.played: set[SourceLine] = set()  # lines that were set aside, and are songs after all

    def song(self, number: int | None) -> Song | None:
        """Return a song as it is now."""
        if number is None:
            return None
        at, index = self._where[number - 1]
        return self._songs[at][index]

    def apply(self, correction: Correction, doubt: Doubt, at: int | None, lines: list[ListLine]) -> list[ListLine]:
        """Apply one correction; return the lines as they are then."""
        if isinstance(correction, FieldCorrection) and doubt.song:
            self._set_field(doubt.song, correction.field, correction.value)
        elif isinstance(correction, PlaceCorrection) and doubt.song:
            self._put_beside(doubt.song, correction)
        elif isinstance(correction, SetsCorrection):
            self._part(correction.starts)
        elif isinstance(correction, LineCorrection) and at is not None:
            lines = [*lines]
            if lines[at].took in (LineKind.SET, LineKind.BREAK):
                self._join_sets(at)
            self._take_out(at, correction.took)
            if correction.took in (LineKind.SONG, LineKind.SET):
                self._forget_note(at, lines[at].took)
            if correction.took is LineKind.SONG:
                self._put_in(at, correction)
                self.played.add(lines[at].place)
            elif correction.took is LineKind.SET:
                self._begin_set(at, correction.title)
            says = correction.title if correction.took in (LineKind.SONG, LineKind.SET) else ""
            lines[at] = msgspec.structs.replace(lines[at], took=correction.took, says=says, song=None)
        return lines

    def told_again(self, line: ListLine) -> ListLine:
        """Return a song's line with what the song says now."""
        at, index = self._where[line.song - 1] if line.song is not None else (0, 0)
        song = self._songs[at][index] if line.song is not None else None
        return msgspec.structs.replace(line, says=song_words(song)) if song else line

    def _part(self, starts: Sequence[SetStart]) -> None:
        """Part all songs into sets anew; a set keeps its name and times by its place."""
        firsts = {self._where[one.song - 1]: one.name for one in starts}
        sets: list[Set] = []
        songs: list[list[Song | None]] = []
        to: dict[tuple[int, int], tuple[int, int]] = {}
        for where in [(at, index) for at, found in enumerate(self._songs) for index in range(len(found))]:
            if where in firsts or not sets:
                name = firsts.get(where, "")
                one = self.sets[len(sets)] if len(sets) < len(self.sets) else Set(name_after(sets))
                sets.append(msgspec.structs.replace(one, name=name) if name else one)
                songs.append([])
            to[where] = len(sets) - 1, len(songs[-1])
            songs[-1].append(self._songs[where[0]][where[1]])
        self.sets[:], self._songs[:] = sets, songs
        self._move(lambda at, index: to[at, index])

    def _join_sets(self, line_at: int) -> None:
        """Put the songs of the set that begins below a line to the set above it."""
        above = self._above(line_at)
        below = next((line.song for line in self._listed.lines[line_at:] if line.song is not None), None)
        if above is None or below is None or (there := self._where[below - 1][0]) == above[0]:
            return
        behind = len(self._songs[above[0]])
        self._move(lambda at, index: (above[0], index + behind) if at == there else (at, index))
        self._songs[above[0]] += self._songs[there]
        self._songs[there] = []

    def _begin_set(self, line_at: int, name: str) -> None:
        """Put the songs below a line, up to the next set, to a set of their own."""
        above = self._above(line_at)
        below = next((line.song for line in self._listed.lines[line_at + 1 :] if line.song is not None), None)
        at, first = self._where[below - 1] if below is not None else (len(self.sets) - 1, len(self._songs[-1]))
        if above is None or above[0] != at:  # no song of the set is above: it only gets its name
            self.sets[at] = msgspec.structs.replace(self.sets[at], name=name)
            return
        self.sets.insert(at + 1, Set(name))
        self._songs.insert(at + 1, self._songs[at][first:])
        del self._songs[at][first:]
        self._move(
            lambda there, index: (
                (there + 1, index - first * (there == at)) if (there, index) >= (at, first) else (there, index)
            )
        )

    def _set_field(self, number: int, field: str, value: str | None) -> None:
        at, index = self._where[number - 1]
        song = self._songs[at][index]
        if song is None:
            return
        match field:
            case "key":
                song = msgspec.structs.replace(song, key=read_key(value) if value else None)
            case "record_key":
                song = msgspec.structs.replace(song, record_key=read_key(value) if value else None)
            case "length":
                song = msgspec.structs.replace(song, length_s=int(value) if value else None)
            case "tempo":
                song = msgspec.structs.replace(song, tempo_bpm=read_tempo(value) if value else None)
            case "meter":
                song = msgspec.structs.replace(song, meter=read_meter(value) if value else None)
            case "title":
                song = msgspec.structs.replace(song, title=value or song.title)
            case "artist":
                song = msgspec.structs.replace(song, artist=value)
            case "notes":  # first what is left of the title, then the line's other notes
                notes = NOTES_APART.join(filter(None, (value, song.notes))) if value else None
                song = msgspec.structs.replace(song, notes=notes)
        self._songs[at][index] = song

    def _take_out(self, line_at: int, took: LineKind) -> None:
        """Take a song's line out of the songs; as a note it goes to the song before."""
        line = self._listed.lines[line_at]
        if line.song is not None:
            at, index = self._where[line.song - 1]
            self._songs[at][index] = None
        if took is LineKind.NOTE:
            self._note(line_at)
        elif took is LineKind.ASIDE:
            self.aside.append(AsideLine(line.place, line.text, "no song, as you said"))

    def _forget_note(self, line_at: int, took: LineKind) -> None:
        """Remove the words of a line that is a song or a heading after all from where they were kept as a note."""
        words = one_line(self._listed.lines[line_at].text)
        if took is LineKind.LEFT:
            self.forgotten.append(words)
        above = self._above(line_at) if took is LineKind.NOTE else None
        song = self._songs[above[0]][above[1]] if above else None
        if above is None or song is None or not song.notes:
            return
        said = {words, one_line(self._listed.lines[line_at].says)}
        said |= {part.strip() for one in said for part in one.split(",")}
        kept = [note for note in song.notes.split(NOTES_APART) if note not in said]
        self._songs[above[0]][above[1]] = msgspec.structs.replace(song, notes=NOTES_APART.join(kept) or None)

    def _note(self, line_at: int) -> None:
        line, above = self._listed.lines[line_at], self._above(line_at)
        if above is None:
            self.notes.append(line.text)
            return
        at, index = above
        song = self._songs[at][index]
        if song is not None:
            notes = NOTES_APART.join(filter(None, (song.notes, one_line(line.text))))
            self._songs[at][index] = msgspec.structs.replace(song, notes=notes[:1000])

    def _above(self, line_at: int) -> tuple[int, int] | None:
        """Return where the nearest song above a line stands that is still there."""
        for number in reversed(range(line_at)):
            song = self._listed.lines[number].song
            where = self._added.get(number) or (self._where[song - 1] if song is not None else None)
            if where is not None and self._songs[where[0]][where[1]] is not None:
                return where
        return None

    def _put_in(self, line_at: int, correction: LineCorrection) -> None:
        """Put a new song after the nearest song above its line. Numbers given before stay true."""
        at, index = self._above(line_at) or (0, -1)
        key = read_key(correction.key) if correction.key else None
        self._songs[at].insert(index + 1, Song(correction.title, key=key, notes=correction.notes))
        self._move(lambda there, position: (there, position + (there == at and position > index)))
        self._added[line_at] = at, index + 1

    def _put_beside(self, number: int, correction: PlaceCorrection) -> None:
        """Move a song; its old place stays empty, so that nothing else moves. A song taken out stays out."""
        here, (at, index) = self._where[number - 1], self._where[correction.song - 1]
        song = self._songs[here[0]][here[1]]
        if song is None:
            return
        if correction.side is Beside.EXCHANGE:
            self._songs[here[0]][here[1]], self._songs[at][index] = self._songs[at][index], song
            self._where[number - 1], self._where[correction.song - 1] = (at, index), here
            return
        self._songs[here[0]][here[1]] = None
        is_behind = correction.side is Beside.AFTER
        if correction.set_name is not None:
            to = at + is_behind, 0
            self.sets.insert(to[0], Set(correction.set_name))
            self._songs.insert(to[0], [song])
            self._move(lambda there, position: (there + (there >= to[0]), position))
        else:
            to = at, index + is_behind
            self._songs[at].insert(to[1], song)
            self._move(lambda there, position: (there, position + (there == at and position >= to[1])))
        self._where[number - 1] = to

    def _move(self, to: Callable[[int, int], tuple[int, int]]) -> None:
        """Change where each song stands."""
        self._where = [to(*where) for where in self._where]
        self._added = {line: to(*where) for line, where in self._added.items()}
