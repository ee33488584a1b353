"""Reading the guide in the terminal."""

import sys

import click

from companion.guide import TOPICS, page, title
from companion.shown import unguarded


@click.command(epilog="Example: companion guide stage")
@click.argument("topic", type=click.Choice(TOPICS), required=False)
def guide(topic: str | None) -> None:
    """Read a page of the guide, or list its topics."""
    if topic is None:
        for one in TOPICS:
            click.echo(f"companion guide {one:<12} {title(one)}")
        return
    text = page(topic)
    if not sys.stdout.isatty():
        click.echo(text, nl=False)
        return
    from rich.console import Console
    from rich.markdown import Markdown

    console = Console(file=unguarded(sys.stdout))
    with console.pager(styles=True):
        console.print(Markdown(text))


COMMANDS = (guide,)
