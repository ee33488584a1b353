"""A progress bar while many pages are made; none for a page or two, or where the output is not a terminal."""

import sys
from collections.abc import Callable
from typing import Final, TypeVar

from companion.shown import unguarded

T = TypeVar("T")
WORTH_A_BAR: Final = 20  # as many pages as take about a second


def with_progress(work: Callable[[Callable[[int, int], None]], T], what: str) -> T:
    """Run the work, which reports how many items are done, and of how many."""
    if not sys.stderr.isatty():
        return work(lambda _done, _of: None)
    from rich.console import Console
    from rich.progress import Progress

    with Progress(console=Console(file=unguarded(sys.stderr)), transient=True) as progress:
        task = progress.add_task(what, total=None, visible=False)

        return work(lambda done, of: progress.update(task, completed=done, total=of, visible=of >= WORTH_A_BAR))
