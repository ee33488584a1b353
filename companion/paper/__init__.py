"""Printed sheets: set list, floor list, crib sheet, charts and band packs, laid out as numbers, then written as PDF."""

from typing import TYPE_CHECKING

from companion.late import late
from companion.paper.leaves import Paper

if TYPE_CHECKING:
    from companion.paper.plan_sheet import print_plan
    from companion.paper.press import NothingToPrint, PrintJob, Sheet, print_show

__all__ = [
    "NothingToPrint",
    "Paper",
    "PrintJob",
    "Sheet",
    "print_plan",
    "print_show",
]

# A picture of a chart needs neither the plan nor the press.
__getattr__ = late(__name__, ("press", "plan_sheet"))
