"""Words into a width: wrapped, then in a known shorter form, then cut in the middle; never smaller than was allowed."""

from typing import Final

import msgspec

from .legibility import ASSUMED_DISTANCE_M, ASSUMED_WIDTH_MM, height_mm
from .parts import Line, Mark
from .typeface import Typeface
from .words import middle_cut

ABOVE: Final = 0.25  # room over a capital for its accent, in capital heights
BELOW: Final = 0.36  # room under the baseline
LEADING: Final = ABOVE + 1 + BELOW
BLEED: Final = {Mark.HIGHLIGHT: 0.30, Mark.CIRCLE: 0.35, Mark.TAPE: 0.30, Mark.TORN: 0.35, Mark.CHOSEN: 0.30}
"""How far a mark reaches to each side of its words, in capital heights."""

GLASSES_WIDE: Final = 2.0  # the drawn pair of glasses, in capital heights
ASSUMED_RATIO: Final = 9 / 16


class Page(msgspec.Struct, frozen=True):
    """The paper: the picture's size in px, and how many px are one arc minute to the player's eyes."""

    width: int
    height: int
    px_per_arcmin: float

    @property
    def is_portrait(self) -> bool:
        """Whether it stands upright."""
        return self.height > self.width


def page_of(
    size_px: tuple[int, int],
    screen_px: tuple[int, int],
    width_mm: float | None = None,
    distance_m: float | None = None,
) -> Page:
    """Give the page for a picture of this size on a screen of that size; an unknown screen is a 13-inch one at 1.5 m."""
    if width_mm is None:
        diagonal_px = (screen_px[0] ** 2 + screen_px[1] ** 2) ** 0.5
        diagonal_mm = ASSUMED_WIDTH_MM * (1 + ASSUMED_RATIO**2) ** 0.5
        px_per_mm = diagonal_px / diagonal_mm
    else:
        px_per_mm = screen_px[0] / width_mm
    return Page(*size_px, px_per_mm * height_mm(1, distance_m or ASSUMED_DISTANCE_M))


class Pen(msgspec.Struct, frozen=True):
    """A page and a typeface: turns arc minutes into sizes, words into widths."""

    page: Page
    face: Typeface

    def em_px(self, arcmin: float) -> int:
        """Type size whose capitals are seen under at least this angle."""
        return self.face.em_px(arcmin * self.page.px_per_arcmin)

    def px(self, arcmin: float) -> float:
        """Length seen under this angle."""
        return arcmin * self.page.px_per_arcmin


class Fitted(msgspec.Struct, frozen=True):
    """A line made to fit: its words as rows, its size, and what it takes in px (``bleed`` on both sides not counted)."""

    line: Line
    rows: tuple[str, ...]
    em_px: int
    label_em_px: int
    label_px: float  # from the left edge to the words
    width: float
    row_height: float
    bleed: float

    @property
    def height(self) -> float:
        """All rows."""
        return self.row_height * len(self.rows)


def fit(pen: Pen, line: Line, width: float, ways: tuple[tuple[float, int], ...], label_arcmin: float) -> Fitted:
    """Make a line fit into a width. ``ways`` are (arc minutes, rows at most), the most wanted first; the last may cut."""
    for form in (line.text, *line.shorter):
        for arcmin, most_rows in ways:
            fitted = _as_written(pen, line, form, width, arcmin, most_rows, label_arcmin)
            if fitted is not None:
                return fitted
    arcmin, most_rows = ways[-1]
    form = (line.text, *line.shorter)[-1]
    keep, too_many = 1, len(form)
    while too_many - keep > 1:
        middle = (keep + too_many) // 2
        if _as_written(pen, line, middle_cut(form, middle), width, arcmin, most_rows, label_arcmin) is None:
            too_many = middle
        else:
            keep = middle
    cut = _as_written(pen, line, middle_cut(form, keep), width, arcmin, most_rows, label_arcmin)
    return cut or _measured(pen, line, (form[:1],), arcmin, label_arcmin)


def _as_written(
    pen: Pen, line: Line, form: str, width: float, arcmin: float, most_rows: int, label_arcmin: float
) -> Fitted | None:
    rows = wrapped(pen, form, width - _before(pen, line, arcmin, label_arcmin), pen.em_px(arcmin), most_rows)
    return _measured(pen, line, rows, arcmin, label_arcmin) if rows else None


def _measured(pen: Pen, line: Line, rows: tuple[str, ...], arcmin: float, label_arcmin: float) -> Fitted:
    em_px = pen.em_px(arcmin)
    cap_px = em_px * pen.face.cap_height
    before = _before(pen, line, arcmin, label_arcmin)
    widest = max(pen.face.width_px(row, em_px) for row in rows)
    label_em_px = pen.em_px(min(label_arcmin, arcmin))
    bleed = BLEED.get(line.mark, 0) * cap_px
    return Fitted(line, rows, em_px, label_em_px, before, before + widest, cap_px * LEADING, bleed)


def _before(pen: Pen, line: Line, arcmin: float, label_arcmin: float) -> float:
    """Room that the label and a drawn pair of glasses take before the words."""
    cap_px = pen.em_px(arcmin) * pen.face.cap_height
    room = GLASSES_WIDE * cap_px + 0.4 * cap_px if line.mark is Mark.GLASSES else 0.0
    if line.label:
        room += pen.face.width_px(f"{line.label} ", pen.em_px(min(label_arcmin, arcmin)))
        room += (BLEED.get(line.mark, 0) + 0.1) * cap_px
    return room


def wrapped(pen: Pen, text: str, width: float, em_px: int, most_rows: int) -> tuple[str, ...]:
    """Break a text at its spaces into at most so many rows; empty where that does not do."""
    rows: list[str] = []
    for word in text.split() or [""]:
        longer = f"{rows[-1]} {word}" if rows else word
        if rows and pen.face.width_px(longer, em_px) <= width:
            rows[-1] = longer
        elif pen.face.width_px(word, em_px) <= width and len(rows) < most_rows:
            rows.append(word)
        else:
            return ()
    return tuple(rows)
