"""Printed sheets: set list, floor list, crib sheet, charts and band packs, laid out as numbers, then written as PDF."""

from companion.paper.leaves import Paper
from companion.paper.plan_sheet import print_plan
from companion.paper.press import NothingToPrint, PrintJob, PrintResult, Sheet, print_show
from companion.paper.progress_bar import with_progress
from companion.paper.readers import NoReader

__all__ = [
    "NoReader",
    "NothingToPrint",
    "Paper",
    "PrintJob",
    "PrintResult",
    "Sheet",
    "print_plan",
    "print_show",
    "with_progress",
]
