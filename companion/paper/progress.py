"""A bar of progress in the terminal while many pages are made; nothing where nobody watches, or for a page or two."""

import sys
from collections.abc import Callable
from typing import Final, TypeVar

from companion.shown import unguarded

T = TypeVar("T")
WORTH_A_BAR: Final = 20  # pages that take about a second


def with_progress(work: Callable[[Callable[[int], None]], T], what: str = "charts") -> T:
    """Do the work, which tells how many of them there will be as a number below 0, and 1 after each."""
    if not sys.stderr.isatty():
        return work(lambda _made: None)
    from rich.console import Console  # noqa: PLC0415 - only somebody who waits needs it
    from rich.progress import Progress  # noqa: PLC0415

    with Progress(console=Console(file=unguarded(sys.stderr)), transient=True) as progress:
        task = progress.add_task(what, total=None, visible=False)

        def made(pages: int) -> None:
            if pages < 0:
                progress.update(task, total=-pages, visible=-pages >= WORTH_A_BAR)
            else:
                progress.advance(task, pages)

        return work(made)
