"""What commands have in common at the terminal: the time, a question, a table, JSON, and options of one name."""

import datetime as dt
import io
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, cast

import click

if TYPE_CHECKING:
    from _typeshed import ReadableBuffer as Buffer

SHOW = click.argument("show", type=click.Path(path_type=Path))
JSON = click.option("--json", "as_json", is_flag=True, help="Tell it as JSON.")
YES = click.option("--yes", is_flag=True, help="Write without asking.")


def time_now() -> dt.datetime:
    """Give the time where the player is, with its distance from UTC."""
    return dt.datetime.now().astimezone()


class Heard(io.RawIOBase):
    """Where a command's words go: what nobody reads any more is dropped, and the command does the rest of its work."""

    def __init__(self, to: io.FileIO) -> None:
        self._to: io.FileIO | None = to
        self._number = to.fileno()

    def writable(self) -> bool:
        """Take words, whoever hears them."""
        return True

    def fileno(self) -> int:
        """Give the number by which the system knows it."""
        return self._number

    def write(self, words: "Buffer", /) -> int | None:
        """Pass words on while somebody reads them; ``companion import list.pdf | head`` must still write the show."""
        if self._to is not None:
            try:
                return self._to.write(words)
            except BrokenPipeError:
                self._to = None
        return memoryview(words).nbytes


def work_is_done_whoever_reads() -> None:
    """Let a reader that goes away, as ``head`` does, end neither a command's work nor its order."""
    out = sys.stdout
    if not isinstance(out, io.TextIOWrapper) or out is not sys.__stdout__ or out.isatty():
        return
    raw = getattr(out.buffer, "raw", out.buffer)  # with PYTHONUNBUFFERED there is no buffer in between
    if isinstance(raw, io.FileIO):
        out.flush()
        heard = Heard(raw)
        sys.stdout = io.TextIOWrapper(
            cast("io.BufferedWriter", heard) if raw is out.buffer else io.BufferedWriter(heard),
            encoding=out.encoding,
            errors=out.errors,
            line_buffering=out.line_buffering,
            write_through=out.write_through,
        )


def agreed(question: str, *, as_json: bool) -> bool:
    """Ask at the terminal; where nobody can answer, the answer is no."""
    if as_json or not sys.stdin.isatty():
        click.echo("nothing is written without --yes", err=True)
        return False
    return click.confirm(question)


def print_table(heads: tuple[str, ...], rows: Sequence[tuple[str, ...]]) -> None:
    """Print a table as wide as the terminal."""
    from rich.console import Console  # noqa: PLC0415 - a table is all it is needed for
    from rich.table import Table  # noqa: PLC0415
    from rich.text import Text  # noqa: PLC0415

    table = Table(*heads, box=None, padding=(0, 2, 0, 0))
    for row in rows:
        table.add_row(*map(Text, row))
    Console(soft_wrap=False).print(table)


def print_json(value: object) -> None:
    """Print a value as JSON; what JSON has no form for, as text."""
    import msgspec  # noqa: PLC0415 - help needs no JSON

    click.echo(msgspec.json.format(msgspec.json.encode(value, enc_hook=str)).decode())
