"""The process that prints a sheet for the page: ``python -m companion.pages.printed_apart``.

It takes a PrintRequest on standard input, writes the PDF, and answers in JSON. The libraries that print would take
30 MiB of the server's memory all day.
"""

import os
import sys
from pathlib import Path
from typing import Final

import msgspec

from companion.child import limit_this_process
from companion.errors import CompanionError, FaultyFile

MAX_MEMORY: Final = 1 << 30  # bytes of address space
MAX_CPU_S: Final = 60  # the charts of 70 songs take two


class PrintRequest(msgspec.Struct, frozen=True):
    """A sheet to print, by the command's words for sheet and paper, from the show at this path to a file."""

    show: bytes
    sheet: str
    paper: str
    out: bytes


class PrintedSheet(msgspec.Struct, frozen=True):
    """How many pages were written and what the player must know of them; or the ``problem`` that prevented any."""

    pages: int = 0
    notes: tuple[str, ...] = ()
    problem: str = ""


def printed(request: PrintRequest) -> PrintedSheet:
    """Print one sheet."""
    from companion.paper import Paper, PrintJob, Sheet, print_show

    job = PrintJob((Sheet(request.sheet),), Paper(request.paper))
    try:
        found = print_show(Path(os.fsdecode(request.show)), job, Path(os.fsdecode(request.out)))
    except FaultyFile as faulty:
        return PrintedSheet(problem="; ".join(one.problem for one in faulty.faults))
    except CompanionError as error:
        return PrintedSheet(problem=str(error))
    return PrintedSheet(found.pages, (*(one.problem for one in found.faults), *found.notes))


def main() -> int:
    """Answer for the request on standard input."""
    limit_this_process(MAX_MEMORY, MAX_CPU_S)
    answer = printed(msgspec.json.decode(sys.stdin.buffer.read(), type=PrintRequest))
    sys.stdout.buffer.write(msgspec.json.encode(answer))
    return 0


if __name__ == "__main__":
    sys.exit(main())
