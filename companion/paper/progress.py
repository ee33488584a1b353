"""A bar of progress in the terminal while charts are laid out; nothing where nobody watches, or for a page or two."""

import sys
from collections.abc import Callable
from typing import Final, TypeVar

T = TypeVar("T")
WORTH_A_BAR: Final = 20  # charts that take about a second


def with_progress(work: Callable[[Callable[[int], None]], T]) -> T:
    """Do the work, which tells how many charts there will be as a number below 0, and 1 after each."""
    if not sys.stderr.isatty():
        return work(lambda _charts: None)
    from rich.console import Console  # noqa: PLC0415 - only somebody who waits needs it
    from rich.progress import Progress  # noqa: PLC0415

    with Progress(console=Console(stderr=True), transient=True) as progress:
        task = progress.add_task("charts", total=None, visible=False)

        def charted(charts: int) -> None:
            if charts < 0:
                progress.update(task, total=-charts, visible=-charts >= WORTH_A_BAR)
            else:
                progress.advance(task, charts)

        return work(charted)
