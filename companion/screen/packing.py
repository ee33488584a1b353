"""The middle of a page: what is special here, side by side if it fits; the least important is left out first."""

from collections.abc import Sequence
from typing import Final

from msgspec.structs import replace

from companion.screen.fitting import Fitted, Fitting
from companion.screen.page import Sizes, TypeMeasure
from companion.screen.rows import LineRow, height
from companion.view import LineRole, ViewLine

ORDER: Final = (
    LineRole.WATCH,
    LineRole.FEATURE,
    LineRole.CUE,
    LineRole.TEMPO,
    LineRole.START,
    LineRole.FIRST_WORDS,
    LineRole.HITS,
    LineRole.ENDING,
    LineRole.CHORDS,
    LineRole.HINT,
    LineRole.NOTES,
)
LARGE: Final = frozenset((LineRole.FEATURE, LineRole.WATCH, LineRole.CUE))  # large if they fit, and the last to go
SMALL: Final = frozenset((LineRole.NOTES, LineRole.HINT))
MAX_ROWS: Final = {
    LineRole.CUE: 4,
    LineRole.NOTES: 3,
    LineRole.CHORDS: 8,
    LineRole.START: 2,
    LineRole.FEATURE: 2,
    LineRole.HITS: 2,
}
WATCH_ROWS: Final = 3
OWN_ROW: Final = frozenset((LineRole.CUE, LineRole.CHORDS))  # beside "watch" and a name, a cue would read as one phrase


def packed(lines: Sequence[ViewLine], pen: TypeMeasure, sizes: Sizes, room: tuple[float, float]) -> tuple[LineRow, ...]:
    """Return the rows that fit into ``room``, (width, height) in px.

    A line ``if_room`` is among them only if the others stay as large as without it. Chords are never cut.
    """
    firm = _packed([line for line in lines if not line.if_room], pen, sizes, room)
    if not any(line.if_room for line in lines):
        return firm
    fuller = _packed(lines, pen, sizes, room)
    as_before = [(one.rows, one.em_px) for row in fuller for one in row.all if not one.line.if_room]
    return fuller if as_before == [(one.rows, one.em_px) for row in firm for one in row.all] else firm


def _packed(
    lines: Sequence[ViewLine], pen: TypeMeasure, sizes: Sizes, room: tuple[float, float]
) -> tuple[LineRow, ...]:
    """Return the rows that fit, regardless of the room that lines reserve.

    Lines that may shrink do so first, then the least important go. What to do and whom to watch stay longest, on single
    rows if need be.
    """
    width, high = room
    kept = sorted((line for line in lines if line.part in ORDER), key=lambda line: ORDER.index(line.part))
    kept = [line for line in kept if line.part is not LineRole.CHORDS or _is_whole(line, pen, sizes, width)]
    while True:
        for large in range(len(kept), -1, -1):
            rows = _rows(kept, pen, sizes, width, large=large)
            if height(rows) <= high:
                return rows
        if not kept or kept[-1].part in LARGE:
            break
        kept.pop()
    while kept:
        rows = _rows(kept, pen, sizes, width, large=0, max_rows=1)
        if height(rows) <= high:
            return rows
        # The feature goes first, then the cue, and whom to watch last.
        kept.remove(min(kept, key=lambda line: (LineRole.FEATURE, LineRole.CUE, LineRole.WATCH).index(line.part)))
    return ()


def advised(
    lines: Sequence[ViewLine], pen: TypeMeasure, sizes: Sizes, room: tuple[float, float]
) -> tuple[LineRow, ...]:
    """Return rows of how the set runs and the songs to drop: as many whole titles as fit, the best cut first.

    If not all fit, the last words say how many more there are; with room for one row, it names the first song.
    ``room`` is (width, height) in px.
    """
    width, high = room
    head = next(line for line in lines if line.part is LineRole.ADVICE)
    songs = [line for line in lines if line.part is LineRole.DROP]
    named = [*(replace(song, text=f"{song.text},") for song in songs[:-1]), *songs[-1:]]
    for arcmin in (sizes.cue, sizes.least):
        rows = _listed([head, *named], pen, sizes, width, arcmin)
        if height(rows) <= high:
            return rows
    for many in range(len(songs) - 1, -1, -1):
        more = ViewLine(LineRole.HINT, f"and {len(songs) - many} more")
        rows = _listed([head, *named[:many], *((more,) if many else ())], pen, sizes, width, sizes.least)
        if height(rows) <= high and (many or not songs):
            return rows
    first = tuple(replace(song, label="drop") for song in songs[:1]) or (head,)
    row = LineRow((Fitting(pen, width, sizes.least, ((sizes.least, 1),)).fit(first[0]),))
    return (row,) if row.height <= high else ()


def _listed(
    lines: Sequence[ViewLine], pen: TypeMeasure, sizes: Sizes, width: float, arcmin: float
) -> tuple[LineRow, ...]:
    rows: list[LineRow] = []
    for line in lines:
        fitted = Fitting(pen, width, sizes.least, ((arcmin, 1), (arcmin, 2), (sizes.least, 2))).fit(line)
        _add(rows, fitted, width, sizes.gap)
    return tuple(rows)


def _rows(
    lines: Sequence[ViewLine], pen: TypeMeasure, sizes: Sizes, width: float, *, large: int, max_rows: int | None = None
) -> tuple[LineRow, ...]:
    rows: list[LineRow] = []
    for number, line in enumerate(lines):
        fitted = _fitted(line, pen, sizes, width, smaller=number >= large, max_rows=max_rows)
        _add(rows, fitted, width, sizes.gap)
    return tuple(rows)


def _add(rows: list[LineRow], fitted: Fitted, width: float, gap: float) -> None:
    """Put a line beside the last one if it fits and may be there, else on a new row."""
    longer = LineRow((*rows[-1].left, fitted)) if rows else None
    if longer and len(fitted.rows) == 1 and _is_open(rows[-1], fitted) and longer.span(gap) <= width:
        rows[-1] = longer
    else:
        rows.append(LineRow((fitted,)))


def _is_open(row: LineRow, fitted: Fitted) -> bool:
    alone = OWN_ROW & {one.line.part for one in (*row.left, fitted)}
    return not alone and all(len(one.rows) == 1 for one in row.left)


def _fitted(
    line: ViewLine, pen: TypeMeasure, sizes: Sizes, width: float, *, smaller: bool, max_rows: int | None
) -> Fitted:
    if line.part is LineRole.WATCH:
        return _watch(line, pen, sizes, width)
    most = max_rows or MAX_ROWS.get(line.part, 1)
    arcmin = sizes.least if line.part in SMALL or (smaller and line.part not in LARGE) else sizes.cue
    ways = [(arcmin, rows) for rows in range(1, most + 1)]
    if line.part is LineRole.CHORDS:  # four bars a row in smaller letters before two in larger ones
        ways = [(arcmin, 1), *((size, rows) for rows in (2, 4, most) for size in (arcmin, sizes.least))]
    if arcmin > sizes.least:
        ways.append((sizes.least, most))
    return Fitting(pen, width, sizes.least, tuple(ways)).fit(line)


def _is_whole(line: ViewLine, pen: TypeMeasure, sizes: Sizes, width: float) -> bool:
    ways = ((sizes.least, MAX_ROWS[line.part]),)
    return Fitting(pen, width, sizes.least, ways).whole(line) is not None


def _watch(line: ViewLine, pen: TypeMeasure, sizes: Sizes, width: float) -> Fitted:
    """Fit whom to watch, uncut: smaller, then without the label (the glasses say the same), then on more rows."""
    bare = replace(line, label="")
    for rows in range(1, WATCH_ROWS + 1):
        for form in (line, bare):
            fitted = Fitting(pen, width, sizes.least, ((sizes.cue, rows), (sizes.least, rows))).whole(form)
            if fitted:
                return fitted
    return Fitting(pen, width, sizes.least, ((sizes.least, WATCH_ROWS),)).fit(bare)
