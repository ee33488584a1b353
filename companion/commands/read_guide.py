"""Reading the guide in the terminal."""

import sys

import click

from companion.guide import TOPICS, page, title, topic_about
from companion.shown import unguarded


class Topic(click.Choice[str]):
    """A topic, or a command: then the topic that says most about it."""

    def convert(self, value: str, param: click.Parameter | None, ctx: click.Context | None) -> str:
        """Return the topic. Raises BadParameter if no page says anything about it."""
        about = topic_about(value) if value.isalpha() and value not in TOPICS else None
        return about or super().convert(value, param, ctx)


@click.command(epilog="Example: companion guide stage")
@click.argument("topic", metavar="[TOPIC]", type=Topic(TOPICS), required=False)
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
