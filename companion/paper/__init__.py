"""Printed sheets: set list, floor list, crib sheet, charts and band packs, laid out as numbers, then written as PDF."""

from companion.paper.leaves import Paper
from companion.paper.plan_sheet import print_plan
from companion.paper.press import NothingToPrint, Printed, Sheet, Wanted, print_show
from companion.paper.progress import with_progress
from companion.paper.readers import NoReader

__all__ = [
    "NoReader",
    "NothingToPrint",
    "Paper",
    "Printed",
    "Sheet",
    "Wanted",
    "print_plan",
    "print_show",
    "with_progress",
]
