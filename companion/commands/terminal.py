"""What commands have in common at the terminal: the time, a question, a table, JSON, and options of one name."""

import datetime as dt
import sys
from collections.abc import Sequence
from pathlib import Path

import click

SHOW = click.argument("show", type=click.Path(path_type=Path))
JSON = click.option("--json", "as_json", is_flag=True, help="Tell it as JSON.")
YES = click.option("--yes", is_flag=True, help="Write without asking.")


def time_now() -> dt.datetime:
    """Give the time where the player is, with its distance from UTC."""
    return dt.datetime.now().astimezone()


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
