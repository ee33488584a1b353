"""The shipped typeface, measured: cap height, widths and coverage, read from the font files themselves.

Noto Sans SemiCondensed SemiBold; for what it lacks, the symbols of its family, then DejaVu Sans Condensed Bold, then a
typeface of this computer, where there is one that has the letter. Of 33
faces compared by tests/screen/confusion.py it is, of those with Greek and Cyrillic, the one whose closest letters are
least alike for the room that they take (mean of the ten closest pairs 0.083 at 0.655 capital heights a letter).

Only the tables of the OpenType specification that say how wide and high things are get read, so that layout needs no
window and is the same on every machine.
"""

import contextlib
import mmap
import struct
from bisect import bisect_left
from collections.abc import Callable, Iterator, Sequence
from functools import cache
from pathlib import Path
from typing import Final

FONTS: Final = Path(__file__).parent / "fonts"
FACES: Final = (
    FONTS / "NotoSans-SemiCondensedSemiBold.ttf",
    FONTS / "NotoSansSymbols-Bold.ttf",  # flats and sharps as heavy as the letters beside them
    FONTS / "DejaVuSansCondensed-Bold.ttf",
)
RAISED: Final = {FACES[1]: 0.12}  # of the em: so that flats and sharps reach as high as a capital
COLLECTION: Final = b"ttcf"
MAX_REMEMBERED: Final = 4000  # lines whose width is kept
UNREADABLE: Final = (OSError, ValueError, struct.error, KeyError, IndexError, StopIteration)
KERNING: Final = 1.01  # a line as painted may be a little wider than its letters one by one: hinting rounds


class Face:
    """One font file. Lengths as shares of the em. Widths are looked up when a sign is first met, since few ever are."""

    def __init__(self, path: Path) -> None:
        """Read what concerns the whole face; the rest is read from the file when it is asked for.

        Of a collection it is the first face. Raises one of UNREADABLE where the file is no typeface that can be read.
        """
        self.path = path
        self.raised = RAISED.get(path, 0.0)
        with path.open("rb") as file:
            self._whole = whole = mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ)
        start = struct.unpack_from(">I", whole, 12)[0] if whole[:4] == COLLECTION else 0
        count = struct.unpack_from(">H", whole, start + 4)[0]
        rows = (struct.unpack_from(">4sIII", whole, start + 12 + 16 * number) for number in range(count))
        tables = {tag.decode(): offset for tag, _checksum, offset, _length in rows}
        self._em: int = struct.unpack_from(">H", whole, tables["head"] + 18)[0]
        self._advances = tables["hmtx"]
        self._measured = struct.unpack_from(">H", whole, tables["hhea"] + 34)[0]
        self._segments = Segments(whole, tables["cmap"])
        self._widths: dict[str, float | None] = {}
        self.missing = self._advance(0)
        capital = self._segments.glyph(ord("H")) if "glyf" in tables else 0
        self.cap_height = self._top(tables, capital) / self._em if capital else 0.0  # symbols have none
        ascent, descent = struct.unpack_from(">hh", whole, tables["hhea"] + 4)
        self.ascent, self.descent = ascent / self._em, -descent / self._em

    def width(self, sign: str) -> float | None:
        """Width of a sign, None where this face lacks it."""
        if sign not in self._widths:
            glyph = self._segments.glyph(ord(sign))
            self._widths[sign] = self._advance(glyph) if glyph else None
        return self._widths[sign]

    def _advance(self, glyph: int) -> float:
        at = self._advances + 4 * min(glyph, self._measured - 1)
        return float(struct.unpack_from(">H", self._whole, at)[0] / self._em)

    def _top(self, tables: dict[str, int], glyph: int) -> int:
        """Height of a glyph's outline above the baseline."""
        long_offsets = struct.unpack_from(">h", self._whole, tables["head"] + 50)[0]
        at, kind, unit = (4 * glyph, ">I", 1) if long_offsets else (2 * glyph, ">H", 2)
        outline = struct.unpack_from(kind, self._whole, tables["loca"] + at)[0] * unit
        return int(struct.unpack_from(">h", self._whole, tables["glyf"] + outline + 8)[0])


class Segments:
    """The code points of the basic plane (cmap format 4); what is beyond it is shown as an empty box."""

    def __init__(self, whole: mmap.mmap, cmap: int) -> None:
        """Find the table of format 4. Raises StopIteration where a font has none, as no shipped one has."""
        offsets = (
            cmap + struct.unpack_from(">I", whole, cmap + 8 + 8 * number)[0]
            for number in range(struct.unpack_from(">H", whole, cmap + 2)[0])
        )
        table = next(offset for offset in offsets if struct.unpack_from(">H", whole, offset)[0] == 4)
        count = struct.unpack_from(">H", whole, table + 6)[0] // 2
        words = f">{count}H"
        self._whole = whole
        self._ends = struct.unpack_from(words, whole, table + 14)
        self._starts = struct.unpack_from(words, whole, table + 16 + 2 * count)
        self._deltas = struct.unpack_from(words, whole, table + 16 + 4 * count)
        self._ranges = table + 16 + 6 * count

    def glyph(self, code: int) -> int:
        """Return the glyph's number, 0 where there is none."""
        at = bisect_left(self._ends, code)
        if code >= 0xFFFF or at == len(self._ends) or code < self._starts[at]:
            return 0
        place = self._ranges + 2 * at
        where = struct.unpack_from(">H", self._whole, place)[0]
        if where == 0:
            return int(code + self._deltas[at]) & 0xFFFF
        glyph = struct.unpack_from(">H", self._whole, place + where + 2 * (code - self._starts[at]))[0]
        return int(glyph + self._deltas[at]) & 0xFFFF if glyph else 0


class Typeface:
    """What layout asks of a typeface: the first face that has a sign draws it.

    What none of them has is looked for once in ``further`` files, which may make ``faces`` longer.
    """

    def __init__(self, faces: tuple[Face, ...], further: Callable[[], Sequence[Path]] = tuple) -> None:
        """Take the faces in the order in which they are asked for a sign; ``further`` is asked when one is missing."""
        self.faces = faces
        self._find_further = further
        self._further: Iterator[Path] | None = None
        self._nobody_has: set[str] = set()
        self.cap_height = faces[0].cap_height
        self._shares: dict[str, float] = {}

    def em_px(self, cap_px: float) -> int:
        """Size to ask for, in px, so that a capital is at least so high."""
        return int(-(-cap_px // self.cap_height))

    def face_of(self, sign: str) -> int:
        """Return the number of the face that draws this sign; the first one's empty box where none has it."""
        number = self._number(sign)
        return 0 if number is None else number

    def lacks(self, text: str) -> str:
        """Return the letters of a text that would be drawn as an empty box, each once."""
        return "".join(dict.fromkeys(sign for sign in text if sign.isprintable() and self._number(sign) is None))

    def _number(self, sign: str) -> int | None:
        """Return the number of the face that has this sign, on this computer; None where none has it."""
        number = next((number for number, face in enumerate(self.faces) if face.width(sign) is not None), None)
        if number is not None or sign in self._nobody_has:
            return number
        if self._further is None:
            self._further = iter(self._find_further())
        for path in self._further:
            with contextlib.suppress(*UNREADABLE):
                face = Face(path)
                self.faces = (*self.faces, face)
                if face.width(sign) is not None:
                    return len(self.faces) - 1
        self._nobody_has.add(sign)
        return None

    def runs(self, text: str) -> list[tuple[int, str]]:
        """Cut a text into pieces that one face draws each: (face, text)."""
        pieces: list[tuple[int, str]] = []
        for sign in text:
            number = self.face_of(sign)
            if pieces and pieces[-1][0] == number:
                pieces[-1] = (number, pieces[-1][1] + sign)
            else:
                pieces.append((number, sign))
        return pieces

    def width_px(self, text: str, em_px: int) -> float:
        """Width of one line, in px, never less than it takes when painted."""
        share = self._shares.get(text)
        if share is None:
            if len(self._shares) > MAX_REMEMBERED:
                self._shares.clear()
            share = self._shares[text] = sum(self._width(sign) for sign in text) * KERNING
        return share * em_px

    def _width(self, sign: str) -> float:
        number = self._number(sign)
        width = None if number is None else self.faces[number].width(sign)
        return self.faces[0].missing if width is None else width


@cache
def typeface() -> Typeface:
    """Return the shipped typeface, read once, and behind it those of this computer."""
    return Typeface(tuple(Face(path) for path in FACES), _of_this_computer)


def _of_this_computer() -> Sequence[Path]:
    from companion.screen.other_faces import directories, files_in

    return files_in(directories())
