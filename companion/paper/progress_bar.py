"""A progress bar while many pages are made; none for a page or two, or where the output is not a terminal."""

import sys
from collections.abc import Callable
from typing import Final, TypeVar

from companion.shown import unguarded

T = TypeVar("T")
WORTH_A_BAR: Final = 20  # as many pages as take about a second


def with_progress(work: Callable[[Callable[[int], None]], T], what: str = "charts") -> T:
    """Run the work, which reports the number of items as a negative number, then 1 after each."""
    if not sys.stderr.isatty():
        return work(lambda _made: None)
    from rich.console import Console
    from rich.progress import Progress

    with Progress(console=Console(file=unguarded(sys.stderr)), transient=True) as progress:
        task = progress.add_task(what, total=None, visible=False)

        def made(pages: int) -> None:
            if pages < 0:
                progress.update(task, total=-pages, visible=-pages >= WORTH_A_BAR)
            else:
                progress.advance(task, pages)

        return work(made)
