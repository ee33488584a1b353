"""A section's chords, bar by bar, so that no row of a screen ends inside a bar."""

import re
from collections.abc import Callable, Iterator
from typing import Final

BARS_A_ROW: Final = (8, 4, 2, 1)  # the preferred first: common practice, no source
_BAR: Final = re.compile(r"[|:\s]*[^|]+(?:\|+:?(?:\s*[x×][0-9]+)?)?")


def rows_of_bars(text: str, most_rows: int, fits: Callable[[str], bool]) -> tuple[str, ...]:
    """Break chords at bar lines into at most ``most_rows`` rows that all fit; empty if there is no way.

    One row if it fits, else a row for each phrase, else rows of equally many bars.
    """
    for rows in _ways(text):
        if len(rows) <= most_rows and all(fits(row) for row in rows):
            return rows
    return ()


def bars_of(text: str) -> tuple[str, ...]:
    """Return the bars of a chord line, each with the bar line that ends it.

    >>> bars_of("| 1 | 4 1/3 || (5 | 1) x3")
    ('| 1 |', '4 1/3 ||', '(5 |', '1) x3')
    """
    return tuple(" ".join(bar.split()) for bar in _BAR.findall(text)) or (text,)


def _ways(text: str) -> Iterator[tuple[str, ...]]:
    bars = bars_of(text)
    yield (" ".join(bars),)
    yield _phrases(bars)
    for size in BARS_A_ROW:
        yield tuple(" ".join(bars[start : start + size]) for start in range(0, len(bars), size))


def _phrases(bars: tuple[str, ...]) -> tuple[str, ...]:
    rows: list[list[str]] = [[]]
    for bar in bars:
        rows[-1].append(bar)
        if bar.endswith("||"):
            rows.append([])
    return tuple(" ".join(row) for row in rows if row)
