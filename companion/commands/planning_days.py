"""The commands that plan the days until the show: the plan itself, how ready the player is, what was practised."""

import datetime as dt
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

import click

from companion.commands.terminal import (
    JSON,
    SHOW,
    YES,
    about_clashes,
    agreed,
    print_json,
    print_logged,
    print_outcome,
    time_now,
)
from companion.how_many import how_many

if TYPE_CHECKING:
    from companion.planning import Plan


class PlanOptions(NamedTuple):
    """The player's options besides the plan itself, named as on the command line."""

    minutes: str | None
    off: tuple[str, ...]
    rehearsal: tuple[str, ...]
    listening: int | None
    date: str | None
    why: str | None
    ics: Path | None
    pdf: Path | None
    paper: str
    practised: str | None
    ran: str | None
    took: int | None
    export: Path | None
    ready: bool
    known: bool


@click.command(epilog="Example: companion plan shows/pier-street.yaml --minutes 45,sat=120 --off sun")
@SHOW
@click.option("--minutes", metavar="MINUTES", help="Minutes a day at the keyboard: 60, or 45,sat=120.")
@click.option("--off", metavar="DAY", multiple=True, help="A day off: 12 June or sun; none for no day off. Repeatable.")
@click.option(
    "--rehearsal",
    metavar="DAY",
    multiple=True,
    help="A day on which the band rehearses: 16 June; none for none. Repeatable.",
)
@click.option("--listening", metavar="MINUTES", type=int, help="Minutes of listening a day, in the background.")
@click.option(
    "--date",
    metavar="DATE",
    help="The day of the show, if its file has none, or one that is over: 19 June 2027.",
)
@click.option("--why", metavar="SONG", help="Explain this song's place in the plan.")
@click.option("--ready", is_flag=True, help="Say how ready you are and what to do next.")
@click.option(
    "--ics", metavar="FILE", type=click.Path(path_type=Path), help="Write the days as a calendar file (iCalendar)."
)
@click.option("--pdf", metavar="FILE", type=click.Path(path_type=Path), help="Write the plan as a PDF to hang up.")
@click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True, help="Paper for --pdf.")
@click.option(
    "--practised", metavar="SONG", help='Record practice: a song, "set 1", or "today" for all that was planned.'
)
@click.option("--ran", metavar="SET", help='Record a full run of a set: "set 1".')
@click.option(
    "--took", metavar="MINUTES", type=click.IntRange(1, 600), help="With --practised: its minutes; default: 10 a song."
)
@click.option("--known", is_flag=True, help="Update 'known' in the show file; you see the change first.")
@click.option(
    "--export", metavar="FILE", type=click.Path(path_type=Path), help="Write the practice log as .csv or .json."
)
@YES
@JSON
def plan(show: Path, *, yes: bool, as_json: bool, **typed: Any) -> None:  # noqa: ANN401  the options above
    """Plan the days until the show: what to learn, what to hear.

    Minutes, days off, rehearsals and listening are kept with the show, so that the next plan is the same one.
    """
    options = PlanOptions(**typed)
    jobs = [name for name in ("export", "known", "ready", "why") if getattr(options, name)]
    if len(jobs) > 1:
        raise click.UsageError(f"{' and '.join(f'--{name}' for name in jobs)} cannot be combined: use one at a time")
    if options.took and not options.practised:
        raise click.UsageError("--took needs --practised with a song or a set")
    _record(show, options, as_json=as_json)
    if options.export is not None:
        _export(show, options.export, as_json=as_json)
    elif options.known:
        _update_known(show, yes=yes, as_json=as_json)
    elif options.ready:
        _print_readiness(show, as_json=as_json)
    else:
        _plan(show, options, yes=yes, as_json=as_json)


def _record(show: Path, options: PlanOptions, *, as_json: bool) -> None:
    """Record what was practised and what was run."""
    from companion.planning.planned import log_today, means_today
    from companion.practice_log.logged import log_practice
    from companion.practice_log.records import LogKind

    for words, did in ((options.practised, LogKind.PRACTISED), (options.ran, LogKind.RAN)):
        if words and did is LogKind.PRACTISED and means_today(show, words):
            print_logged(did, log_today(show, did, time_now()), as_json=as_json)
        elif words:
            done = log_practice(show, did, words, time_now(), minutes=options.took)
            print_logged(did, [one.title for one in done], as_json=as_json)


def _export(show: Path, to: Path, *, as_json: bool) -> None:
    from companion.practice_log.export import export_records

    written = export_records(show, to)
    click.echo(f"Wrote {to}: {how_many(written, 'record')}", err=as_json)


def _plan(show: Path, options: PlanOptions, *, yes: bool, as_json: bool) -> None:
    """Print the plan, or a song's place in it; write the requested files; keep the time with the show."""
    from companion.debrief.last_played import last_played
    from companion.planning import plan_text
    from companion.planning.planned import explain_place, is_kept, keep_time, plan_days, practice_time
    from companion.planning.typed_days import TypedDays

    now = time_now()
    off, rehearsals = (", ".join(days) or None for days in (options.off, options.rehearsal))
    time = practice_time(show, options.minutes, off, options.listening, rehearsals, today=now.date())
    date = TypedDays(now.date()).day(options.date) if options.date is not None else None
    made = plan_days(show, now.date(), time, date, last_played)
    _write_files(made, options, now, as_json=as_json)
    if options.why:
        click.echo(explain_place(made, options.why))
    elif as_json:
        print_json(plan_text.plain(made))
    elif any((options.pdf, options.ics, options.practised, options.ran)):  # the days are not what was asked for
        click.echo(plan_text.sentence(made))
    else:
        _print_plan(made)
    if is_kept(show, time):
        return
    if yes or agreed(f"Keep {plan_text.time_line(made)} with {show}?", as_json=as_json):
        keep_time(show, time, about_clashes(as_json=as_json))
        click.echo(f"Wrote {show}", err=as_json)


def _write_files(made: "Plan", options: PlanOptions, now: dt.datetime, *, as_json: bool) -> None:
    if options.ics is not None:
        from companion.planning.planned import write_calendar

        write_calendar(made, options.ics, now)
        click.echo(f"Wrote {options.ics}", err=as_json)
    if options.pdf is not None:
        from companion.paper import Paper, print_plan

        pages = print_plan(made, options.pdf, Paper(options.paper))
        click.echo(f"{options.pdf}: {how_many(pages, 'page')}", err=as_json)


def _print_plan(made: "Plan") -> None:
    from companion.planning import plan_text

    for day, bar, summary in plan_text.bars(made):
        click.echo(f"{f'{day}  {bar}':42}  {summary}")
    parts = [(f"{one.date:%A %d %B}", plan_text.day_lines(one)) for one in made.days]
    parts += plan_text.remarks(made)
    for heading, lines in parts:
        if lines:
            click.echo(f"\n{heading}")
        for line in lines:
            click.echo(f"  {line}")
    click.echo(f"\n{plan_text.time_line(made)}\n{plan_text.sentence(made)}")


def _update_known(show: Path, *, yes: bool, as_json: bool) -> None:
    """Offer a new ``known`` for the songs that were worked on."""
    from companion.edits import open_text
    from companion.planning.known_offers import offers_of_known, take_known

    file = open_text(show)
    offered = offers_of_known(show)
    for song, written, known in offered:
        click.echo(f"{song.title}: known {'?' if written is None else written} → {known}", err=as_json)
    takes = bool(offered) and (yes or agreed(f"Write this to {show}?", as_json=as_json))
    if takes:
        taken = [(song, known) for song, _, known in offered]
        take_known(show, taken, time_now(), file, about_clashes(as_json=as_json))
    if as_json:
        rows = [{"title": song.title, "written": written, "known": known} for song, written, known in offered]
        print_json({"offered": rows, "written": takes})
    else:
        print_outcome(show, is_written=takes)


def _print_readiness(show: Path, *, as_json: bool) -> None:
    """Print how ready each song and the night are."""
    from companion.debrief.last_played import last_played
    from companion.planning.planned import readiness
    from companion.planning.readiness import FROM_NEARLY, FROM_READY
    from companion.practice_log.logged import show_and_progress
    from companion.quiz.scheduling import due_cards

    now = time_now()
    night = readiness(show, now, len(due_cards(*show_and_progress(show), now, most_new=0)), last_played)
    if as_json:
        songs = [
            {"title": one.song.title, "score": one.score, "state": one.state.value, "lacks": one.lacks}
            for one in night.songs
        ]
        print_json({"score": night.score, "ready": night.is_ready, "now": night.now, "songs": songs})
        return
    click.echo(f"Points out of 100: ready from {FROM_READY}, nearly ready from {FROM_NEARLY}.\n")
    for one in night.songs:
        lacks = f": {'; '.join(one.lacks)}" if one.lacks else ""
        click.echo(f"{one.score:3d}  {one.state.value:8}  {one.song.title}{lacks}")
    click.echo(f"\nThe night: {night.score} of 100, {'ready' if night.is_ready else 'not ready yet'}.")
    if night.now:
        click.echo("\nIn the next half hour:")
    for line in night.now:
        click.echo(f"  {line}")


COMMANDS = (plan,)
