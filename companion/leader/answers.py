"""Turn the leader's reply, typed in any form, into changes to the show file."""

import re
from collections.abc import Iterator, Sequence
from typing import Final

import msgspec
from rapidfuzz import fuzz, process

from companion.leader.questions import QuestionGroup
from companion.music import read_key
from companion.setlist.notation import Notation
from companion.setlist.parsing.cells import clock_cell, date_in, key_cell, length_cell, meter_cell, tempo_cell
from companion.setlist.parsing.line_kinds import is_chat, read_set
from companion.setlist.parsing.remarks import WHO, read_remark
from companion.setlist.tidy import folded, tidy
from companion.show import Show, Song
from companion.show.chords import moved_words

ALIKE: Final = 82  # per cent alike: a title typed in haste
QUOTED: Final = re.compile(r"^[>\s]+")
NUMBERS: Final = re.compile(
    r"^#?(\d{1,3})\s*[.):=-]?\s+(?=\d)|"
    r"(?:^|[,;/]\s*|\s+and\s+|\s+)#?(\d{1,3})\s*"
    r"(?:[.):=-]+\s*|\s+(?:is|are|in|ends?|starts?)\b\s*|\s+)(?=[A-Za-z♭♯\"'(])"
)
STARTS: Final = re.compile(
    rf"^(?:the\s+)?({WHO}|me|you|i|everyone|everybody|all|count|click)"
    r"(?:\s+(?:starts?|intro|first|begins?|counts?(?: in)?))?$",
    re.IGNORECASE,
)
YES_NO: Final = re.compile(
    r"^(?:(?:chart|sheet|dots)\s*[:=]?\s*)?(yes|y|yep|no|nope|ja|nein)(?:\s+(?:chart|sheet|dots))?$|"
    r"^(no|have)\s+(?:a\s+)?charts?$",
    re.IGNORECASE,
)
FILLER: Final = re.compile(
    r"^(?:it'?s|is|that'?s|that one is|we (?:do|play) (?:it|that)(?: one)?|we|in|same|ends?|starts?|with|on|as|its)\s+",
    re.IGNORECASE,
)
VENUE: Final = re.compile(r"(?:venue|where|place|it'?s at|at the)\s*[:=]?\s+(\S.*)$", re.IGNORECASE)
LINK: Final = re.compile(r"https?://\S+")


class LeaderAnswer(msgspec.Struct, frozen=True):
    """One answer: the field of the show file and its value as written there. Without a song, it is about the show."""

    field: str
    value: str | bool | int
    set_at: int | None = None
    song_at: int | None = None
    title: str = ""
    before: str = ""
    also: str = ""  # a further change that follows from it

    def __str__(self) -> str:
        shown = {True: "yes", False: "no"}.get(self.value, self.value) if isinstance(self.value, bool) else self.value
        said = f"{self.title}: {self.field} {self.before + ' → ' if self.before else ''}{shown}"
        return f"{said}; {self.also}" if self.also else said


class LeaderAnswers(msgspec.Struct, frozen=True):
    """The answers understood, and the pieces not understood."""

    found: tuple[LeaderAnswer, ...]
    left: tuple[str, ...]


class _Place(msgspec.Struct, frozen=True):
    set_at: int
    song_at: int
    song: Song


def read_answers(text: str, show: Show, *, notation: Notation = Notation.LETTERS) -> LeaderAnswers:
    """Read a reply. Songs are named by their number in the message or by title; each piece shows what it answers."""
    places = [_Place(at, index, song) for at, one in enumerate(show.sets) for index, song in enumerate(one.songs)]
    found: list[LeaderAnswer] = []
    left: list[str] = []
    group: QuestionGroup | None = None
    for raw in text.splitlines():
        line = tidy(QUOTED.sub("", raw))
        heading = next((ask for ask in QuestionGroup if folded(line) == folded(ask.value)), None)
        if heading or not line:
            group = heading or group
            continue
        if one := list(_of_show(line, show)):
            found += one
            continue
        pieces = list(_pieces(line, places))
        for place, said in pieces:
            answers, rest = _of_song(place, said, group, notation=notation)
            found += answers
            left += [f"{place.song.title}: {piece}" for piece in rest]
        if not pieces and not is_chat(line) and not _is_question(line):
            left.append(line)
    unique = {(one.set_at, one.song_at, one.field): one for one in found}
    return LeaderAnswers(tuple(one for one in unique.values() if one.before != str(one.value)), tuple(left))


def _is_question(line: str) -> bool:
    """Return whether the line quotes the program's own message."""
    return line.startswith(("Hi! A few questions", "The number and a word")) or line.endswith("?")


def _of_show(line: str, show: Show) -> Iterator[LeaderAnswer]:
    """Read a line about a set or the date: Second set 21:15, 45 min."""
    if heading := read_set(line) or read_set(
        re.sub(r"\bset\b\s*[:,]?\s*(?=\D*\d)", "set (", line, count=1, flags=re.IGNORECASE) + ")"
    ):
        for at, one in enumerate(show.sets):
            if folded(one.name) == folded(heading.name):
                if heading.starts_min is not None:
                    clock = f"{heading.starts_min // 60}:{heading.starts_min % 60:02}"
                    yield LeaderAnswer("starts", clock, at, None, f"{one.name} set")
                if heading.minutes:
                    yield LeaderAnswer("minutes", heading.minutes, at, None, f"{one.name} set")
        return
    day = date_in(line)
    if day and len(line) < 60:
        yield LeaderAnswer("date", day[0].isoformat(), None, None, show.title, str(show.date or ""))
    elif (found := VENUE.match(line)) and clock_cell(found[1]) is None:
        yield LeaderAnswer("venue", found[1], None, None, show.title, show.venue or "")


def _pieces(line: str, places: Sequence[_Place]) -> Iterator[tuple[_Place, str]]:
    """Split a line at song numbers; without one, after the title that begins it."""
    marks = [mark for mark in NUMBERS.finditer(line) if 1 <= int(mark[1] or mark[2]) <= len(places)]
    unit = re.compile(r"\s*(?:bpm|min|sec|bars?)\b", re.IGNORECASE)
    marks = [mark for mark in marks if mark[1] or not unit.match(line, mark.end(2))]
    if marks and line[: marks[0].start()].strip(" ,;") == "":
        for mark, after in zip(marks, [*marks[1:], None], strict=True):
            place = places[int(mark[1] or mark[2]) - 1]
            said = line[mark.end() : after.start() if after else len(line)]
            yield place, _without_title(said, place.song.title)
        return
    if found := _titled(line, places):
        yield found


def _without_title(said: str, title: str) -> str:
    """Remove a title in front of the answer: 3 Gasworks Corner: Bb."""
    if folded(said).startswith(folded(title)) and len(said) > len(title):
        rest = re.split(r"\s*[:=–—-]\s+|\s*:\s*|\?\s*", said[len(title) - 2 :], maxsplit=1)
        return rest[1] if len(rest) > 1 else said[len(title) :]
    return said


def _titled(line: str, places: Sequence[_Place]) -> tuple[_Place, str] | None:
    cut = re.split(r"\s*(?:[:=–—]|\s-|\?)\s*", line, maxsplit=1)
    titles = {at: folded(place.song.title) for at, place in enumerate(places)}
    if len(cut) == 2 and cut[1].strip():
        best = process.extractOne(folded(cut[0]), titles, scorer=fuzz.ratio, score_cutoff=ALIKE)
        return (places[best[2]], cut[1]) if best else None
    plain = line.casefold()
    for place in sorted(places, key=lambda one: -len(one.song.title)):
        if plain.startswith(place.song.title.casefold()) and len(line) > len(place.song.title):
            return place, line[len(place.song.title) :].strip(" ,")
    return None


def _of_song(
    place: _Place, said: str, group: QuestionGroup | None, *, notation: Notation
) -> tuple[list[LeaderAnswer], list[str]]:
    """Read the answers about one song, piece by piece."""
    answers, left = [], []
    for piece in re.split(r"\s*[,;]\s*|\s+and\s+", said.strip(" .!,;")):
        plain = piece.strip(" .!\"'")
        if not plain:
            continue
        found = _answer(plain, place.song, group, notation=notation)
        for _ in range(2):
            if found is None and (shorter := FILLER.sub("", plain, count=1)) != plain:
                plain = shorter
                found = _answer(plain, place.song, group, notation=notation)
        if found is None:
            left.append(piece)
        else:
            field, value, before = found
            also = moved_words(place.song, read_key(str(value))) if field == "key" else ""
            answers.append(LeaderAnswer(field, value, place.set_at, place.song_at, place.song.title, before, also))
    return answers, left


def _answer(
    piece: str, song: Song, group: QuestionGroup | None, *, notation: Notation
) -> tuple[str, str | bool | int, str] | None:
    """Return the field that a piece answers, its value, and the old value. One row for each kind of answer."""
    key = key_cell(piece, notation=notation)
    if key and key.key and not key.doubt:
        return "key", str(key.key), str(song.key or "")
    if found := LINK.search(piece):
        return "recording", found[0], song.recording or ""
    if found := YES_NO.match(piece):
        return "chart", (found[1] or found[2]).lower() in ("yes", "y", "yep", "ja", "have"), ""
    if (tempo := tempo_cell(piece)) is not None:
        return "tempo", f"{tempo:g}", f"{song.tempo_bpm:g}" if song.tempo_bpm else ""
    if meter := meter_cell(piece):
        return "meter", str(meter), str(song.meter or "")
    if (seconds := length_cell(piece)) is not None:
        return "length", f"{seconds // 60}:{seconds % 60:02}", ""
    remark = read_remark(piece if group is not QuestionGroup.ENDING else f"{piece} ending")
    if remark.ending:
        return "ending", remark.ending.value, song.ending.value if song.ending else ""
    if found := STARTS.match(piece):
        return "starts_with", _starter(found[1]), song.starts_with or ""
    if remark.starts_with:
        return "starts_with", remark.starts_with, song.starts_with or ""
    if group is QuestionGroup.STARTS and len(piece.split()) <= 2:
        return "starts_with", piece, song.starts_with or ""
    return None


def _starter(word: str) -> str:
    """Return the starter from the player's side: "you" in the leader's reply means the keys."""
    said = read_remark(f"{word} starts").starts_with or word.lower()
    return {
        "you": "keys",
        "piano": "piano",
        "i": "the leader",
        "me": "the leader",
        "everyone": "all",
        "everybody": "all",
    }.get(said, said)
