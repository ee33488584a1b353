"""The command line's group: the commands of the stage, and those of the other modules."""

import itertools
import os
import sys
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from companion import __version__
from companion.commands import (
    afterwards,
    before_the_doors,
    days_before,
    hearing_recordings,
    on_paper,
    planning_days,
    practising,
    preparing,
    rating_songs,
    read_guide,
)
from companion.commands.terminal import JSON, RIG, SHOW, ignore_broken_pipe, offer_rig, print_json, print_open
from companion.errors import CompanionError
from companion.how_many import how_many

if TYPE_CHECKING:
    from companion.night.synth import Synth

F = TypeVar("F", bound=Callable[..., Any])

SYNTH = click.option("--synth", is_flag=True, help="Play every keyboard on an installed FluidSynth, to practise.")
SOUNDFONT = click.option(
    "--soundfont", metavar="FILE", help="The sound font for FluidSynth; default: FluidSynth's own."
)
SCREENS = ("full", "window", "text", "none")


def screen_option(default: str) -> Callable[[F], F]:
    """Return the option that says where to show the stage."""
    return click.option(
        "--screen", type=click.Choice(SCREENS), default=default, show_default=True, help="Where to show the stage."
    )


class StrictGroup(click.Group):
    """A group whose commands refuse an option that is written twice, unless it is repeatable: none is silently lost."""

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Return the command and its words. Raise UsageError if a value would replace another of the same option."""
        name, command, rest = super().resolve_command(ctx, args)
        if command is not None and not ctx.resilient_parsing:
            with click.Context(command, parent=ctx, info_name=name) as inner:
                _, _, written = command.make_parser(inner).parse_args(list(rest))
                for one in written:
                    takes_one = isinstance(one, click.Option) and not (one.is_flag or one.multiple or one.count)
                    if takes_one and written.count(one) > 1:
                        raise click.UsageError(f"{one.opts[-1]} takes one value. Write it once", inner)
        return name, command, rest


@click.group(cls=StrictGroup, context_settings={"help_option_names": ["-h", "--help"]}, invoke_without_command=True)
@click.version_option(__version__, prog_name="companion")
@click.pass_context
def companion(context: click.Context) -> None:
    """Help a keyboard player from the call to the debrief.

    Without a command, prepare a show in the browser. Read more with: companion guide
    """
    if context.invoked_subcommand is None:
        preparing.serve()


@companion.command(epilog="Example: companion play shows/pier-street.yaml --screen window")
@SHOW
@RIG
@screen_option("full")
@click.option("--fresh", is_flag=True, help="Start over from the top.")
@click.option("--resume", is_flag=True, help="Continue a night that was ended, or an old one.")
@SYNTH
@SOUNDFONT
def play(
    show: Path, rig: Path | None, screen: str, *, fresh: bool, resume: bool, synth: bool, soundfont: str | None
) -> None:
    """Play a show on stage."""
    _play(show, rig, screen, fresh=fresh, resume=resume, synth=_synth(soundfont) if synth or soundfont else None)


@companion.command(epilog="Example: companion demo --screen text")
@RIG
@screen_option("window")
@SYNTH
@SOUNDFONT
def demo(rig: Path | None, screen: str, *, synth: bool, soundfont: str | None) -> None:
    """Play an invented show: no file or instrument needed."""
    from companion.night.demo import DOORS_S, demo_show
    from companion.rig import BUILT_IN

    player = _synth(soundfont) if synth or soundfont else None
    _play(demo_show(), rig or BUILT_IN, screen, fresh=True, synth=player, as_if_at_s=DOORS_S)


@companion.command(epilog="Example: companion check shows/pier-street.yaml")
@click.argument("show", type=click.Path(path_type=Path), required=False)
@RIG
@JSON
@click.option(
    "--all",
    "list_all",
    is_flag=True,
    help="List everything that is missing, not only what matters most.",
)
@click.option(
    "--schema", type=click.Choice(["show", "rig"]), help="Print the JSON Schema of a show or rig file instead."
)
@click.option(
    "--screens",
    metavar="FOLDER",
    type=click.Path(path_type=Path),
    help="Write pictures of the stage screen in every state.",
)
def check(
    show: Path | None, rig: Path | None, schema: str | None, screens: Path | None, *, as_json: bool, list_all: bool
) -> int:
    """List what is wrong in a show, then what is missing."""
    if schema:
        from companion.rig import rig_schema
        from companion.show import show_schema

        print_json(show_schema() if schema == "show" else rig_schema())
        return 0
    if show is None:
        raise click.UsageError("name a show file to check, or print a schema with --schema")
    if screens is not None:
        return _screens(show, rig, screens)
    from companion.night.preflight import examine

    offer_rig(rig, as_json=as_json)
    found = examine(show, rig)
    if as_json:
        print_json(found)
        return 1 if found.faults else 0
    _print_lines(found.faults)
    if found.faults and not found.rig:  # it cannot be played as it stands: what is missing matters later
        return 1
    _print_lines(f"note: {warning}" for warning in found.warnings)
    lines: Sequence[object] = found.missing
    rest = 0
    if not list_all:
        from companion.show.missing_text import in_short

        lines, rest = in_short(found.missing)
    for one in lines:
        click.echo(one)
    if rest:
        click.echo(f"... and {rest} more that matter less")
    print_open(show)
    faults = how_many(len(found.faults), "fault") if found.faults else "No faults"
    lists_all = "" if len(lines) == len(found.missing) else " (list each one with --all)"
    click.echo(f"{faults}; {len(found.missing) or 'nothing'} still missing{lists_all}. {found.rig}")
    return 1 if found.faults else 0


ROOMS = (
    afterwards,
    preparing,
    days_before,
    hearing_recordings,
    planning_days,
    rating_songs,
    practising,
    on_paper,
    before_the_doors,
    read_guide,
)
for one in itertools.chain.from_iterable(room.COMMANDS for room in ROOMS):
    companion.add_command(one)


def run(words: Sequence[str]) -> int:
    """Run one command. Return 0 (success), 1 (errors in a file) or 2 (usage error). Raise CompanionError."""
    ignore_broken_pipe()
    try:
        result = companion.main(args=list(words), prog_name="companion", standalone_mode=False)
    except click.ClickException as wrong:
        wrong.show()
        return wrong.exit_code
    except click.exceptions.Exit as done:
        return done.exit_code
    except click.Abort:
        return 1
    finally:
        _report_kept_aside()
    return result if isinstance(result, int) else 0


def _report_kept_aside() -> None:
    """Print which files were kept because another was written in their place."""
    outputs = sys.modules.get("companion.files.outputs")  # most commands write none
    if outputs is not None:
        for one in outputs.kept_aside():
            click.echo(one, err=True)


def _screens(show: Path, rig: Path | None, directory: Path) -> int:
    from companion.night.preflight import make_ready

    os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")  # its greeting is not what was asked for
    from companion.commands.progress_bar import with_progress
    from companion.night.default_keys import keys_page
    from companion.screen.pictures import pictures
    from companion.view import Looks

    ready = make_ready(show, rig)
    try:
        looks = Looks(keys=keys_page(ready.book.rig), chords=ready.book.rig.screen.chords)
        written = with_progress(
            lambda progress: pictures(ready.book, directory, looks=looks, progress=progress), "pictures"
        )
    except OSError as refused:
        file = next((one for one in (directory, *directory.parents) if one.exists() and not one.is_dir()), None)
        problem = f"{file} is not a folder" if file else f"{directory} cannot be written: {refused.strerror}"
        raise CompanionError(f"{problem}. Write: --screens and a folder, new or existing") from None
    click.echo(f"{how_many(len(written), 'picture')} in {directory}: look at them from where you will stand")
    return 0


def _synth(soundfont: str | None) -> "Synth":
    from companion.night.synth import Synth

    return Synth(soundfont=soundfont)


def _play(
    show: Path,
    rig: Path | None,
    screen: str,
    *,
    fresh: bool,
    resume: bool = False,
    synth: "Synth | None" = None,
    as_if_at_s: int | None = None,
) -> None:
    from companion.night.memory import StartOptions
    from companion.night.starting import ScreenMode
    from companion.night.starting import play as play_show

    options = StartOptions(fresh=fresh, resume=resume, as_if_at_s=as_if_at_s)
    try:
        play_show(show, rig_path=rig, screen=ScreenMode(screen), options=options, out=sys.stderr, synth=synth)
    finally:
        if synth is not None:
            synth.close()


def _print_lines(lines: Iterable[object]) -> None:
    for line in lines:
        click.echo(line, err=True)
