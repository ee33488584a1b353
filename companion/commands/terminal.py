"""What commands share at the terminal: the time, a question, a table, JSON, common options."""

import datetime as dt
import errno
import io
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, cast

import click

from companion.shown import guarded, harmless, unguarded

if TYPE_CHECKING:
    from collections.abc import Callable

    from _typeshed import ReadableBuffer as Buffer

    from companion.edits import EditClash
    from companion.practice_log.records import LogKind

SHOW = click.argument("show", type=click.Path(path_type=Path))
RIG = click.option(
    "--rig", metavar="FILE", type=click.Path(path_type=Path), help="The rig file: keyboards, pedals and screen."
)
JSON = click.option("--json", "as_json", is_flag=True, help="Output JSON.")
YES = click.option("--yes", is_flag=True, help="Write without asking.")
READER_GONE = (errno.EPIPE, errno.EINVAL)  # the second on Windows (Python issue 35754, from memory)


def time_now() -> dt.datetime:
    """Return the player's local time, with its offset from UTC."""
    return dt.datetime.now().astimezone()


class PipeThatMayClose(io.RawIOBase):
    """Standard output whose reader may go away: later output is dropped, and the command finishes its work."""

    def __init__(self, to: io.FileIO) -> None:
        self._to: io.FileIO | None = to
        self._number = to.fileno()

    def writable(self) -> bool:
        """Return True: output is always accepted."""
        return True

    def fileno(self) -> int:
        """Return the file descriptor."""
        return self._number

    def write(self, words: "Buffer", /) -> int | None:
        """Write while there is a reader; ``companion import list.pdf | head`` must still write the show."""
        if self._to is not None:
            try:
                return self._to.write(words)
            except OSError as gone:
                if gone.errno not in READER_GONE:
                    raise
                self._to = None
        return memoryview(words).nbytes


def ignore_broken_pipe() -> None:
    """Finish a command's work although the reader of its output, such as ``head``, has gone."""
    out = unguarded(sys.stdout)
    if not isinstance(out, io.TextIOWrapper) or out is not sys.__stdout__ or out.isatty():
        return
    raw = getattr(out.buffer, "raw", out.buffer)  # with PYTHONUNBUFFERED there is no buffer in between
    if isinstance(raw, io.FileIO):
        out.flush()
        pipe = PipeThatMayClose(raw)
        still_heard = io.TextIOWrapper(
            cast("io.BufferedWriter", pipe) if raw is out.buffer else io.BufferedWriter(pipe),
            encoding=out.encoding,
            errors=out.errors,
            line_buffering=out.line_buffering,
            write_through=out.write_through,
        )
        sys.stdout = guarded(still_heard)


def agreed(question: str, *, as_json: bool, assumed: bool = False) -> bool:
    """Ask at the terminal; return False if there is nobody to answer. ``assumed`` is the answer for enter alone."""
    if as_json or not sys.stdin.isatty():
        click.echo("Nothing written; pass --yes to confirm", err=True)
        return False
    return click.confirm(question, default=True) if assumed else click.confirm(question)


def offer_rig(rig: Path | None, *, as_json: bool) -> None:
    """Offer to create a missing rig file from the built-in one; do nothing if there is nobody to answer."""
    if rig is None or os.path.lexists(rig) or as_json or not sys.stdin.isatty():
        return
    if click.confirm(f"There is no rig file {rig}. Create it from the built-in rig?"):
        from companion.edits import NewText, commit, no_file
        from companion.rig import own_rig_text

        commit([NewText(no_file(rig), own_rig_text())], "rig")
        click.echo(f"Wrote {rig}: it plays any General MIDI instrument. Enter your keyboards, ports and sounds")


def about_clashes(*, as_json: bool) -> "Callable[[EditClash], bool] | None":
    """Return the function that asks about a value that another program changed; None if there is nobody to answer."""
    if as_json or not sys.stdin.isatty():
        return None
    return lambda clash: click.confirm(f"{clash}. Write {clash.wanted} instead?")


def print_outcome(path: Path | str, *, is_written: bool) -> None:
    """Print whether a file was written."""
    click.echo(f"Wrote {path}" if is_written else f"{path} unchanged")


def print_open(show: Path | str) -> None:
    """Print one line about questions that the leader's replies left open, if there are any."""
    from companion.leader.asking import open_line

    if line := open_line(show):
        click.echo(line, err=True)


def print_logged(did: "LogKind", titles: Sequence[str], *, as_json: bool) -> None:
    """Say what was recorded in the practice log; say so if today's plan has nothing left, as on a day off."""
    if titles:
        click.echo(f"recorded: {did.value} {', '.join(titles)}", err=as_json)
    else:
        click.echo("nothing recorded: nothing is left in today's plan", err=as_json)


def print_table(heads: tuple[str, ...], rows: Sequence[tuple[str, ...]]) -> None:
    """Print a table as wide as the terminal."""
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    table = Table(*heads, box=None, padding=(0, 2, 0, 0))
    for row in rows:
        table.add_row(*(Text(harmless(cell)) for cell in row))
    Console(soft_wrap=False, file=unguarded(sys.stdout)).print(table)


def print_json(value: object) -> None:
    """Print a value as JSON. What JSON cannot hold becomes text; undecodable bytes of a path stay escaped."""
    import msgspec

    try:
        raw = msgspec.json.encode(value, enc_hook=str)
    except UnicodeEncodeError:
        raw = msgspec.json.encode(_harmless_values(msgspec.to_builtins(value, enc_hook=str)))
    text = msgspec.json.format(raw).decode()
    try:
        text.encode(getattr(sys.stdout, "encoding", None) or "utf-8")
    except UnicodeEncodeError:  # a pipe on Windows: JSON itself has a form for every letter (RFC 8259, 7)
        import json

        text = json.dumps(json.loads(text), indent=2)
    click.echo(text)


def _harmless_values(value: object) -> object:
    match value:
        case str():
            return harmless(value)
        case dict():
            return {_harmless_values(key): _harmless_values(one) for key, one in value.items()}
        case list() | tuple():
            return [_harmless_values(one) for one in value]
    return value
