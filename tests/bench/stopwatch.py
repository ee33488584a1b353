"""What the benches share: figures of several runs, their spread, and the table of figure, floor, ratio and goal."""

import os
import platform
import statistics
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]


class Row(NamedTuple):
    """One line of the table: the same thing measured on the program and on its floor, run by run.

    ``goal`` is the ratio not to be passed, or with no floor the figure itself; None: shown for information.
    """

    name: str
    unit: str
    figures: Sequence[float]
    floors: Sequence[float] = ()
    goal: float | None = None


def percentile(values: Sequence[float], share: float) -> float:
    """Return the smallest value that at least this share (0..1) of all values do not pass.

    >>> percentile([3.0, 1.0, 2.0, 4.0], 0.5)
    2.0
    """
    if not values:
        return float("nan")
    ordered = sorted(values)
    return ordered[max(0, -int(-share * len(ordered) // 1) - 1)]


def spread(values: Sequence[float]) -> float:
    """Return how far the runs lie apart, largest less smallest, as a share of their median."""
    middle = statistics.median(values)
    return (max(values) - min(values)) / middle if middle else 0.0


def ratio(row: Row) -> float:
    """Return the median over the runs of figure to floor, run by run; of the figures alone if there is no floor."""
    if not row.floors:
        return statistics.median(row.figures)
    return statistics.median(figure / floor for figure, floor in zip(row.figures, row.floors, strict=True))


def table(title: str, rows: Sequence[Row]) -> str:
    """Return the table as text. The figures are medians over the runs; the spread is that of the program's figures."""
    lines = [
        f"{title} ({os.cpu_count()} cores, Python {platform.python_version()}, {len(rows[0].figures)} runs)",
        f"{'':44}{'figure':>10}{'floor':>10}{'':5}{'ratio':>7}{'goal':>7}{'spread':>8}",
    ]
    for row in rows:
        floor = f"{statistics.median(row.floors):10.2f}" if row.floors else f"{'':10}"
        ratio_text = f"{ratio(row):7.2f}" if row.floors else f"{'':7}"
        goal = "" if row.goal is None else f"{row.goal:g}"
        met = "" if row.goal is None else "  met" if ratio(row) <= row.goal else "  MISSED"
        lines.append(
            f"{row.name:44}{statistics.median(row.figures):10.2f}{floor} {row.unit:4}{ratio_text}{goal:>7}"
            f"{spread(row.figures):7.0%} {met}"
        )
    return "\n".join(lines)


def show(title: str, rows: Sequence[Row]) -> None:
    """Print the table."""
    sys.stdout.write(table(title, rows) + "\n")
    sys.stdout.flush()
