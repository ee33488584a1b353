"""The pen: draws words, lines and highlighter on a leaf, and measures them as it draws."""

from typing import Final

from companion.paper.leaves import Bookmark, Highlighter, Jump, Leaf, LeafMark, Paper, PaperInk, PenLine, Words
from companion.paper.paper_fonts import ASCENT, CAP_HEIGHT, DESCENT, cut, width_pt, wrapped

EDGE_PT: Final = 36.0  # half an inch, more than home printers leave unprinted (common practice, no source)
SMALL_PT: Final = 8.0
SHARPS: Final = str.maketrans({"b": "♭", "#": "♯"})
LEADING: Final = 1.3  # share of the size: from line to line
StyledWord = tuple[str, str, bool]  # label, text, whether to highlight it


class LeafPen:
    """Draws on one leaf. All positions are in points from its top left."""

    def __init__(self, paper: Paper) -> None:
        self.paper = paper
        self.marks: list[LeafMark] = []
        self.left, self.right = EDGE_PT, paper.width - EDGE_PT
        self.top, self.bottom = EDGE_PT, paper.height - EDGE_PT

    def write(
        self, x: float, y: float, text: str, size: float, ink: PaperInk = PaperInk.PEN, room: float = 0.0
    ) -> float:
        """Write a line with its baseline at ``y``, cut to ``room``; return the x where it ends."""
        if not text:
            return x
        text = cut(text, size, room) if room else text
        self.marks.append(Words(x, y, text, size, ink))
        return x + width_pt(text, size)

    def write_left_of(self, x: float, y: float, text: str, size: float, ink: PaperInk = PaperInk.PEN) -> float:
        """Write a line that ends at ``x``; return the x where it begins."""
        begin = x - width_pt(text, size)
        self.write(begin, y, text, size, ink)
        return begin

    def squeezed(self, x: float, y: float, text: str, size: float, squeeze: float) -> float:
        """Write a line with narrower letters; return the x where it ends."""
        self.marks.append(Words(x, y, text, size, squeeze=squeeze))
        return x + width_pt(text, size) * squeeze

    def line(
        self, x1: float, y1: float, x2: float, y2: float, thick: float = 0.6, ink: PaperInk = PaperInk.PEN
    ) -> None:
        """Draw a line."""
        self.marks.append(PenLine(x1, y1, x2, y2, thick, ink))

    def highlight(self, x: float, y: float, width: float, size: float) -> None:
        """Highlight words of this size whose baseline is ``y``."""
        self.marks.append(
            Highlighter(x - 1.5, y - size * (CAP_HEIGHT + 0.16), width + 3, size * (CAP_HEIGHT + DESCENT + 0.1))
        )

    def jump(self, y: float, height: float, leads_to: str) -> None:
        """Link the whole line above ``y`` to another leaf."""
        self.marks.append(Jump(self.left, y, self.right - self.left, height, leads_to))

    def say(
        self,
        x: float,
        y: float,
        room: float,
        remarks: list[StyledWord],
        size: float,
        lines: int = 99,
        start: float = 0.0,
    ) -> float:
        """Write the remarks one after the other, over several lines; return the baseline after the last.

        Labels are in pencil before their text. The first line begins at ``start``, if that is further right.
        """
        here, used = max(x, start), 1
        for label, words, lit in remarks:
            before = f"{label} " if label else ""
            wide = width_pt(before + words, size)
            if here > x and here + wide > x + room and used < lines:
                here, y, used = x, y + size * LEADING, used + 1
            if here > x and here + width_pt(before, size) + size * 3 > x + room:
                break
            here = self.write(here, y, before, size, PaperInk.PENCIL)
            indent = size if here + width_pt(words, size) > x + room else 0.0
            pieces = wrapped(words, size, room - indent, lines - used + 1, first=x + room - here)
            for number, piece in enumerate(pieces):
                if number:
                    here, y, used = x + indent, y + size * LEADING, used + 1
                if lit and piece:
                    self.highlight(here, y, width_pt(piece, size), size)
                here = self.write(here, y, piece, size)
            here += size * 1.2
        return y + size * LEADING if remarks else y

    def leaf(self, bookmark: str = "", level: int = 0, name: str = "") -> Leaf:
        """Return the finished leaf."""
        return Leaf(tuple(self.marks), (Bookmark(bookmark, level, name),) if bookmark or name else ())


def with_foot(leaf: Leaf, paper: Paper, left: str, right: str) -> Leaf:
    """Return a leaf with a line at its foot: the document's name and the page number."""
    y = paper.height - EDGE_PT + SMALL_PT * (ASCENT - 0.1)
    pen = LeafPen(paper)
    begin = pen.write_left_of(pen.right, y, right, SMALL_PT, PaperInk.PENCIL)
    pen.write(pen.left, y, left, SMALL_PT, PaperInk.PENCIL, begin - pen.left - 12)
    return Leaf((*leaf.marks, *pen.marks), leaf.bookmarks)
