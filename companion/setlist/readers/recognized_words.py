"""Turn words that were read from a picture into rows, and doubt every line until the player agrees."""

import re
import statistics
from collections import defaultdict
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.setlist.model import Doubt, DoubtAnswer, LineCorrection, LineKind, ListLine, ListPage, SetList, TextSpan
from companion.setlist.readers.limits import LONGEST_CELL, MAX_WORDS
from companion.setlist.readers.pdf import rows_of
from companion.setlist.readers.printed_lines import PrintedLine
from companion.setlist.readers.refusal import no_list
from companion.show import Song

COLUMNS: Final = 12  # level page block paragraph line word left top width height confidence text
WORD_LEVEL: Final = "5"
LEAST_SURE: Final = 50.0  # per cent; what has no letter and is below it is dust or a shadow
WIDE_GAP: Final = 1.4  # heights of the letters; a word space is a third of one
SAME_LINE: Final = 0.6  # share of the height

KEY_AT_END: Final = re.compile(r"\s*[-–—]\s*([A-G][b#♭♯]?(?:m|min)?)$")
NUMBER: Final = re.compile(r"^(\d{1,2})[.,]\s*(?=[^\W\d])")


class ReadWord(msgspec.Struct, frozen=True):
    """A word with its place in pixels from the top left corner, and how sure its reading is, in per cent."""

    line: tuple[str, ...]
    left: int
    top: int
    width: int
    height: int
    sure: float
    text: str


def pages_of_words(raw: bytes, shown: str) -> tuple[ListPage, ...]:
    """Return rows from the program's words, one part a page. Raises FaultyFile if there are none or too many."""
    pages = [_words(part) for part in raw.split(b"\f")]
    if sum(map(len, pages)) > MAX_WORDS:
        raise no_list(shown, f"more than {MAX_WORDS:,} words; a list has two hundred", "the list alone")
    lines = tuple(tuple(_lines(words)) for words in pages)
    if not any(lines):
        raise no_list(shown, "no word could be read in the picture", "a sharper picture, closer and in even light")
    return rows_of(lines)


def _words(part: bytes) -> list[ReadWord]:
    found = []
    for line in part.decode(errors="replace").splitlines():
        cells = line.split("\t")
        if len(cells) != COLUMNS or cells[0] != WORD_LEVEL or not cells[11].strip():
            continue
        try:
            left, top, width, height = map(int, cells[6:10])
            sure = float(cells[10])
        except ValueError:
            continue
        if height > 0 and (sure >= LEAST_SURE or any(sign.isalnum() for sign in cells[11])):
            found.append(ReadWord(tuple(cells[1:5]), left, top, width, height, sure, cells[11].strip()[:LONGEST_CELL]))
    return found


def _lines(words: Sequence[ReadWord]) -> list[PrintedLine]:
    """Return the lines from the top down: words of the program's line, and of other lines at the same height."""
    grouped: dict[tuple[str, ...], list[ReadWord]] = defaultdict(list)
    for word in words:
        grouped[word.line].append(word)
    rows: list[list[ReadWord]] = []
    for line in sorted(grouped.values(), key=_middle):
        if rows and abs(_middle(rows[-1]) - _middle(line)) < SAME_LINE * max(_height(rows[-1]), _height(line)):
            rows[-1] += line
        else:
            rows.append(line)
    return [PrintedLine(-_middle(row), _height(row), _pieces(row)) for row in rows]


def _middle(words: Sequence[ReadWord]) -> float:
    return statistics.median(word.top + word.height / 2 for word in words)


def _height(words: Sequence[ReadWord]) -> float:
    return statistics.median(word.height for word in words)


def _pieces(words: Sequence[ReadWord]) -> tuple[TextSpan, ...]:
    pieces: list[TextSpan] = []
    height = _height(words)
    for word in sorted(words, key=lambda word: word.left):
        end = word.left + word.width
        if pieces and word.left - pieces[-1].end < WIDE_GAP * height:
            pieces[-1] = TextSpan(pieces[-1].begin, end, f"{pieces[-1].text} {word.text}")
        else:
            pieces.append(TextSpan(word.left, end, word.text))
    return tuple(TextSpan(piece.begin, piece.end, _respaced(piece.text)) for piece in pieces)


def _respaced(text: str) -> str:
    """Return a piece with the spaces that reading loses around a dash, and the point that it takes for a comma.

    >>> _respaced("4,Moth -D")
    '4. Moth - D'
    """
    return NUMBER.sub(r"\1. ", KEY_AT_END.sub(r" - \1", text))


def in_doubt(listed: SetList) -> SetList:
    """Return the list with a question for every song: what a program read from a picture is a proposal."""
    songs = [song for one in listed.show.sets for song in one.songs]
    lines = tuple(
        msgspec.structs.replace(line, doubts=(*line.doubts, *_doubts(line, songs[line.song - 1])))
        if line.song
        else line
        for line in listed.lines
    )
    about = Doubt("read from a picture by a program: compare every line with the picture")
    return msgspec.structs.replace(listed, lines=lines, doubts=(about, *listed.doubts))


def _doubts(line: ListLine, song: Song) -> tuple[Doubt, ...]:
    """Return what to ask about a song: whether its title is right, and its key if it has one."""
    says = "read from a picture"
    no_song = DoubtAnswer("no", (LineCorrection(LineKind.ASIDE),))
    title = Doubt(says, f'Is there a song "{song.title}"?', (DoubtAnswer("yes"), no_song), "title", line.song)
    if song.key is None:
        return (title,)
    said = f"key {song.key}, read from a picture"
    return title, Doubt(said, f"Is {song.title} in {song.key}?", (DoubtAnswer("yes"),), "key", line.song)
