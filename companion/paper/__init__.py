"""Printed sheets: set list, floor list, crib sheet, charts and band packs, laid out as numbers, then written as PDF."""

from companion.paper.leaves import Paper
from companion.paper.plan_sheet import print_plan
from companion.paper.press import NothingToPrint, PrintJob, Sheet, print_show
from companion.paper.progress_bar import with_progress

__all__ = [
    "NothingToPrint",
    "Paper",
    "PrintJob",
    "Sheet",
    "print_plan",
    "print_show",
    "with_progress",
]
