"""The command that prints set lists, floor lists, crib sheets, charts and band packs."""

from pathlib import Path
from typing import Any

import click

from companion.commands.terminal import JSON, SHOW, print_json
from companion.how_many import how_many


@click.command("print", epilog="Example: companion print shows/pier-street.yaml --sheet floor --paper letter")
@SHOW
@click.option(
    "--sheet",
    "sheets",
    type=click.Choice(["setlist", "floor", "crib", "charts", "pack"]),
    multiple=True,
    help="What to print: marked set list, floor list, crib sheet, charts or band pack. Repeatable.",
)
@click.option("--set", "set_name", metavar="SET", help="Print only this set, by its name or number.")
@click.option(
    "--song",
    "songs",
    metavar="TITLE",
    multiple=True,
    help="Print only this song; or part of its title. Repeatable.",
)
@click.option("--key", metavar="KEY", help="Print that song in another key.")
@click.option(
    "--for",
    "players",
    metavar="PART",
    multiple=True,
    help="Print charts for C, Bb, Eb, F or an instrument; default: the keys. Repeatable.",
)
@click.option(
    "--capo",
    metavar="FRET",
    type=click.IntRange(1, 11),
    help="Print guitar charts in the shapes for a capo on this fret.",
)
@click.option("--numbers", is_flag=True, help="Print chords as numbers.")
@click.option("--share", is_flag=True, help="Let the charts of short songs share a page.")
@click.option("--blank", is_flag=True, help="Print songs without a road map too, as empty bars.")
@click.option(
    "--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True, help="The printer's paper."
)
@click.option(
    "--out", metavar="FILE", type=click.Path(path_type=Path), help="The PDF to write; default: beside the show."
)
@JSON
def print_(show: Path, out: Path | None, *, as_json: bool, **options: Any) -> int:  # noqa: ANN401 - the options above
    """Print set list, crib sheet, charts or a band pack as PDF."""
    from companion.commands.progress_bar import with_progress
    from companion.paper import Paper, PrintJob, Sheet, print_show

    wanted = PrintJob(
        sheets=tuple(Sheet(sheet) for sheet in dict.fromkeys(options["sheets"])),
        paper=Paper(options["paper"]),
        songs=options["songs"],
        set_name=options["set_name"],
        key=options["key"],
        players=options["players"],
        in_numbers=options["numbers"],
        capo=options["capo"] or 0,
        share=options["share"],
        blank=options["blank"],
    )
    printed = with_progress(lambda progress: print_show(show, wanted, out, progress), "charts")
    if as_json:
        print_json(printed)
        return 1 if printed.faults else 0
    for line in (*printed.faults, *(f"note: {note}" for note in printed.notes)):
        click.echo(line, err=True)
    click.echo(f"{printed.path}: {how_many(printed.pages, 'page')}")
    return 1 if printed.faults else 0


COMMANDS = (print_,)
