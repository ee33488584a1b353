"""The shipped typeface, measured: cap height, widths and coverage, read from the font files themselves.

Noto Sans SemiCondensed SemiBold; for letters that it lacks, the symbols of its family, then DejaVu Sans Condensed Bold,
then a typeface of this computer. Of the 33 faces compared by tests/screen/confusion.py, among those with Greek and
Cyrillic, its most similar letters differ most for the room that they take (mean of the ten closest pairs 0.083 at 0.655
capital heights a letter).

The code reads only the OpenType tables for widths and heights, so layout needs no window and is the same on every
machine.
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
RAISED: Final = {FACES[1]: 0.12}  # of the em, so that flats and sharps are as high as a capital
COLLECTION: Final = b"ttcf"
MAX_REMEMBERED: Final = 4000  # most lines whose width is kept
UNREADABLE: Final = (OSError, ValueError, struct.error, KeyError, IndexError, StopIteration)
KERNING: Final = 1.01  # a painted line may be a little wider than the sum of its letters: hinting rounds


class Face:
    """One font file. Lengths are shares of the em. A sign's width is read at its first use, since few are ever used."""

    def __init__(self, path: Path) -> None:
        """Read what concerns the whole face, and leave the rest in the file until needed.

        Of a collection, read the first face. Raises one of UNREADABLE if the file is not a readable typeface.
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
        """Return the width of a sign, None if this face lacks it."""
        if sign not in self._widths:
            glyph = self._segments.glyph(ord(sign))
            self._widths[sign] = self._advance(glyph) if glyph else None
        return self._widths[sign]

    def _advance(self, glyph: int) -> float:
        at = self._advances + 4 * min(glyph, self._measured - 1)
        return float(struct.unpack_from(">H", self._whole, at)[0] / self._em)

    def _top(self, tables: dict[str, int], glyph: int) -> int:
        """Return the height of a glyph's outline above the baseline, in font units."""
        long_offsets = struct.unpack_from(">h", self._whole, tables["head"] + 50)[0]
        at, kind, unit = (4 * glyph, ">I", 1) if long_offsets else (2 * glyph, ">H", 2)
        outline = struct.unpack_from(kind, self._whole, tables["loca"] + at)[0] * unit
        return int(struct.unpack_from(">h", self._whole, tables["glyf"] + outline + 8)[0])


class Segments:
    """Glyphs of the code points in the basic plane (cmap format 4); others show as an empty box."""

    def __init__(self, whole: mmap.mmap, cmap: int) -> None:
        """Find the table of format 4. Raises StopIteration if the font has none; all shipped fonts have one."""
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
        """Return the glyph's number, 0 if there is none."""
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
    """Several faces as one: the first face that has a sign draws it.

    A sign that none of them has is looked for once in the ``further`` files; a face loaded from there joins ``faces``.
    """

    def __init__(self, faces: tuple[Face, ...], further: Callable[[], Sequence[Path]] = tuple) -> None:
        """``faces`` are searched in this order; ``further`` is called when a sign is first missing from all of them."""
        self.faces = faces
        self._find_further = further
        self._further: Iterator[Path] | None = None
        self._nobody_has: set[str] = set()
        self.cap_height = faces[0].cap_height
        self._shares: dict[str, float] = {}

    def em_px(self, cap_px: float) -> int:
        """Return the type size in px at which a capital is at least this high."""
        return int(-(-cap_px // self.cap_height))

    def face_of(self, sign: str) -> int:
        """Return the number of the face that draws this sign; 0, for its empty box, if none has it."""
        number = self._number(sign)
        return 0 if number is None else number

    def lacks(self, text: str) -> str:
        """Return the signs of a text that would show as an empty box, each once."""
        return "".join(dict.fromkeys(sign for sign in text if sign.isprintable() and self._number(sign) is None))

    def _number(self, sign: str) -> int | None:
        """Return the number of the first face with this sign, loading further ones if need be; None if none has it."""
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
        """Split a text into pieces of one face each: (face's number, piece)."""
        pieces: list[tuple[int, str]] = []
        for sign in text:
            number = self.face_of(sign)
            if pieces and pieces[-1][0] == number:
                pieces[-1] = (number, pieces[-1][1] + sign)
            else:
                pieces.append((number, sign))
        return pieces

    def width_px(self, text: str, em_px: int) -> float:
        """Return the width of one line in px, never less than its painted width."""
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
    """Return the shipped typeface, read once, with this computer's typefaces as fallback."""
    return Typeface(tuple(Face(path) for path in FACES), _of_this_computer)


def _of_this_computer() -> Sequence[Path]:
    from companion.screen.other_faces import directories, files_in

    return files_in(directories())
