"""Prepare in the browser: the command that serves the pages."""

from pathlib import Path

import click


@click.command(epilog="Example: companion prepare shows/pier-street.yaml")
@click.argument("show", type=click.Path(path_type=Path), required=False)
@click.option("--no-browser", is_flag=True, help="Print the address instead of opening it.")
def prepare(show: Path | None, *, no_browser: bool) -> None:
    """Prepare a show in the browser."""
    serve(show, browser=not no_browser)


def serve(show: Path | None = None, *, browser: bool = True) -> None:
    """Serve the pages until ctrl-c. Its libraries load only here."""
    from companion.pages.web_server import prepare as serve_pages

    serve_pages(show, browser=browser)


COMMANDS = (prepare,)
