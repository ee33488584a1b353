"""Commands before the doors: ports, pedals, sound check."""

import sys
from collections.abc import Iterable
from pathlib import Path

import click

from companion.commands.terminal import JSON, RIG, SHOW, offer_rig, print_json


@click.command(epilog="Example: companion ports --rig config/two-tiers.yaml")
@RIG
@JSON
def ports(rig: Path | None, *, as_json: bool) -> None:
    """List MIDI ports, how to write them, and what a rig uses."""
    from companion.rig import read_rig
    from companion.soundcheck import port_list, ports_now

    found = ports_now(read_rig(rig).rig if rig else None)
    if as_json:
        print_json(found)
    else:
        _lines(port_list.lines(found))


@click.command(epilog="Example: companion pedals --rig config/rig.yaml")
@RIG
@click.option("--show", is_flag=True, help="Only print what each switch does.")
@JSON
def pedals(rig: Path | None, *, show: bool, as_json: bool) -> None:
    """Set pedals up by pressing them, your own sustain first."""
    from companion.rig import BUILT_IN, read_rig
    from companion.soundcheck import set_up_pedals
    from companion.soundcheck.pedals import pedal_map

    if not show:
        if rig is None:
            raise click.UsageError("name the rig file to write to (--rig FILE), or print the pedals with --show")
        offer_rig(rig, as_json=as_json)
        if set_up_pedals(rig, out=sys.stderr if as_json else sys.stdout) is None:
            raise click.exceptions.Exit(1)
    in_force = pedal_map.pedal_map(read_rig(rig or BUILT_IN).rig, read_rig(BUILT_IN).rig)
    if as_json:
        print_json(in_force)
    else:
        _lines(pedal_map.lines(in_force))


@click.command(epilog="Example: companion soundcheck shows/pier-street.yaml --minutes 5")
@SHOW
@RIG
@click.option("--minutes", type=click.FloatRange(min=0.1), help="Hear features first and end within this many minutes.")
@click.option("--capture", is_flag=True, help="Store what a hired keyboard sends when you choose its sounds.")
@click.option("--fresh", is_flag=True, help="Hear everything again.")
@JSON
def soundcheck(
    show: Path, rig: Path | None, minutes: float | None, *, capture: bool, fresh: bool, as_json: bool
) -> int:
    """Hear each sound once, press each pedal: ready or not."""
    from companion.soundcheck import capture_sounds, sound_check

    offer_rig(rig, as_json=as_json)
    out = sys.stderr if as_json else sys.stdout
    if capture:
        missing = capture_sounds(show, rig, out=out)
        if as_json:
            print_json({"missing": missing})
        return 1 if missing else 0
    report = sound_check(show, rig, minutes=minutes, fresh=fresh, out=out)
    if as_json:
        print_json(report)
    return 0 if report.ready else 1


def _lines(lines: Iterable[str]) -> None:
    for line in lines:
        click.echo(line)


COMMANDS = (ports, pedals, soundcheck)
