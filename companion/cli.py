"""The command line: reads arguments, calls one function, prints, gives 0, 1 (the show has faults) or 2 (wrong use)."""

import sys
from collections.abc import Sequence
from pathlib import Path

import click

from companion import __version__
from companion.errors import CompanionError, FaultyFile

SHOW = click.argument("show", type=click.Path(path_type=Path))
RIG = click.option("--rig", type=click.Path(path_type=Path), help="The rig file to play on.")
SCREEN = click.option(
    "--screen",
    type=click.Choice(["full", "window", "text", "none"]),
    default="full",
    show_default=True,
    help="Where the show is seen.",
)


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="companion")
def companion() -> None:
    """Help a keyboard player from the call to the debrief."""


@companion.command(epilog="Example: companion play shows/pier-street.yaml --screen window")
@SHOW
@RIG
@SCREEN
@click.option("--fresh", is_flag=True, help="Start over, whatever was played before.")
@click.option("--resume", is_flag=True, help="Take up a night that was ended, or an old one.")
def play(show: Path, rig: Path | None, screen: str, *, fresh: bool, resume: bool) -> None:
    """Play a show: the right sound under the hands, the next section in one glance, moved on by a foot."""
    from companion.night.memory import Wish  # noqa: PLC0415 - help needs no night
    from companion.night.opening import Seen  # noqa: PLC0415
    from companion.night.opening import play as play_show  # noqa: PLC0415

    play_show(show, rig_path=rig, seen=Seen(screen), wish=Wish(fresh=fresh, resume=resume), out=sys.stderr)


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command. Gives 0, 1 (a file has faults, or the stage cannot be had) or 2 (wrong use)."""
    try:
        companion.main(args=argv, prog_name="companion", standalone_mode=False)
    except click.ClickException as wrong:
        wrong.show()
        return wrong.exit_code
    except click.exceptions.Exit as done:
        return done.exit_code
    except click.Abort:
        return 1
    except FaultyFile as faulty:
        for fault in faulty.faults:
            click.echo(fault, err=True)
        return 1
    except CompanionError as trouble:
        click.echo(trouble, err=True)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
