"""Commands for the days before: import a set list, ask the leader, plan, write playlists."""

import datetime as dt
from pathlib import Path
from typing import Any

import click

from companion.commands.terminal import (
    JSON,
    SHOW,
    YES,
    about_clashes,
    agreed,
    print_json,
    print_outcome,
    print_table,
    time_now,
)

MAX_NAMED = 8  # songs in one line
GERMAN = click.option("--german", is_flag=True, help="Read keys as in German: H is B, and B is Bb.")


@click.command("import", epilog="Example: companion import setlist.pdf --into shows/pier-street.yaml")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--into", type=click.Path(path_type=Path), help="The show file; work in it is kept.")
@GERMAN
@YES
@JSON
def import_(file: Path, into: Path | None, *, german: bool, yes: bool, as_json: bool) -> None:
    """Turn a set list into a show, or bring in its next version.

    Reads CSV, XLSX, PDF, Markdown, text as pasted from a message, and Standard MIDI Files (one song each).
    """
    if file.suffix.lower() in (".mid", ".midi"):
        _import_midi(file, into or Path(f"{file.stem}.yaml"), yes=yes, as_json=as_json)
        return
    from companion.practice_log.logged import renamed_records
    from companion.setlist import Imported, Notation, import_list
    from companion.setlist.report import HEADS, in_short, plain, rows

    def agree(imported: Imported) -> bool:
        if not as_json:
            print_table(HEADS, rows(imported.listed))
            click.echo(in_short(imported.listed))
            for difference in imported.differences:
                click.echo(difference)
            if imported.kept_beside:
                click.echo(f"Comments cannot be kept here: {imported.show_path} is written anew")
        return yes or imported.is_new or agreed(f"Write this to {imported.show_path}?", as_json=as_json)

    now = time_now()
    notation = Notation.GERMAN if german else Notation.LETTERS
    imported = import_list(file, into, notation=notation, agree=agree, also=lambda made: renamed_records(made, now))
    if as_json:
        print_json(plain(imported))
        return
    if imported.is_written and imported.kept_beside:
        click.echo(f"The file as you wrote it is in {imported.kept_beside}")
    if imported.is_written and imported.dropped_to:
        click.echo(f"Songs that were left out are in {imported.dropped_to}")
    print_outcome(imported.show_path, is_written=imported.is_written)


def _import_midi(file: Path, into: Path, *, yes: bool, as_json: bool) -> None:
    from companion.setlist.midi_song import MidiImported, import_midi

    def agree(imported: MidiImported) -> bool:
        for line in (*imported.found.told, *imported.otherwise, *imported.gets):
            click.echo(line, err=as_json)
        return yes or agreed(f"Write this to {into}?", as_json=as_json)

    imported = import_midi(file, into, agree)
    if imported.is_new or not imported.gets:
        for line in (*imported.found.told, *imported.otherwise):
            click.echo(line, err=as_json)
    if as_json:
        told = {"told": imported.found.told, "gets": imported.gets, "otherwise": imported.otherwise}
        print_json({"show": str(into), "written": imported.is_written, **told})
    else:
        print_outcome(into, is_written=imported.is_written)


@click.command(epilog="Example: companion undo shows/pier-street.yaml")
@click.argument("file", type=click.Path(path_type=Path))
@YES
@JSON
def undo(file: Path, *, yes: bool, as_json: bool) -> None:
    """Take back the last change companion made to a file."""
    import difflib

    from companion.edits import take_back, undo_of

    found = undo_of(file)
    if found is None:
        if as_json:
            print_json({"file": str(file), "written": False, "undone": None})
        else:
            click.echo(f"Nothing to undo in {file}")
        return
    before, path = found.file.text or "", str(file)
    click.echo(f"{found.says}, {found.at}", err=as_json)
    for line in difflib.unified_diff(before.splitlines(), found.after.splitlines(), path, path, lineterm="", n=1):
        click.echo(line, err=as_json)
    takes = yes or agreed(f"Write this to {file}?", as_json=as_json)
    if takes:
        take_back(found)
    if as_json:
        print_json({"file": path, "written": takes, "undone": found.says if takes else None})
    else:
        print_outcome(file, is_written=takes)


@click.command(epilog="Example: companion questions shows/pier-street.yaml")
@SHOW
@click.option("--answers", type=click.Path(path_type=Path), help="Bring in the reply, a text file.")
@GERMAN
@YES
@JSON
def questions(show: Path, answers: Path | None, *, german: bool, yes: bool, as_json: bool) -> None:
    """Ask the band leader what is missing; bring the reply in."""
    from companion.leader.questions import ask
    from companion.practice_log.logged import show_and_progress

    if answers is None:
        message = ask(show_and_progress(show)[0])
        if as_json:
            print_json(message)
            return
        click.echo(message if message.now else "Nothing needs to be asked.")
        if message.later:
            click.echo(f"({len(message.later)} more questions wait for next time)", err=True)
        return
    from companion.leader.answers import LeaderAnswers
    from companion.leader.landing_answers import answer_questions
    from companion.setlist import Notation

    def agree(found: LeaderAnswers) -> bool:
        for answer in found.found:
            click.echo(answer, err=as_json)
        return yes or agreed(f"Write this to {show}?", as_json=as_json)

    about = about_clashes(as_json=as_json)
    notation = Notation.GERMAN if german else Notation.LETTERS
    landed = answer_questions(show, answers, notation=notation, agree=agree, ask=about)
    if as_json:
        print_json(landed)
        return
    for piece in landed.answers.left:
        click.echo(f"not understood: {piece}")
    print_outcome(show, is_written=landed.is_written)


@click.command(epilog="Example: companion plan shows/pier-street.yaml --minutes 45,sat=120 --off sun")
@SHOW
@click.option("--minutes", default="60", show_default=True, help="Minutes a day at the keyboard: 60, or 45,sat=120.")
@click.option("--off", multiple=True, help="A day off: 2027-06-12, or sun. Repeatable.")
@click.option("--listening", default=45, show_default=True, help="Minutes of listening a day, also in the background.")
@click.option("--date", type=click.DateTime(["%Y-%m-%d"]), help="The day of the show, if its file has none.")
@click.option("--why", "song", help="Explain this song's place.")
@click.option("--ready", is_flag=True, help="Say how ready you are and what to do next.")
@click.option("--ics", type=click.Path(path_type=Path), help="Write the days as a calendar file (iCalendar).")
@click.option("--pdf", type=click.Path(path_type=Path), help="Write the plan as a PDF to hang up.")
@click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True, help="Paper for --pdf.")
@click.option("--practised", help='Record practice of a song or of "set 1"; also with --minutes.')
@click.option("--ran", help='Record a full run of a set: "set 1".')
@click.option("--known", is_flag=True, help="Update known: in the show file; you see the change first.")
@click.option("--export", type=click.Path(path_type=Path), help="Write the practice log as .csv or .json.")
@YES
@JSON
def plan(show: Path, song: str | None, *, ready: bool, known: bool, yes: bool, as_json: bool, **asked: Any) -> None:  # noqa: ANN401 - the options above
    """Plan the days until the show: what to learn, what to hear."""
    from companion.planning import plan_text
    from companion.planning.planned import explain_place, plan_days, write_calendar
    from companion.practice_log.logged import log_practice
    from companion.practice_log.records import Did

    now, minutes = time_now(), asked["minutes"]
    for words, did in ((asked["practised"], Did.PRACTISED), (asked["ran"], Did.RAN)):
        if words:
            done = log_practice(show, did, words, now, minutes=float(minutes) if minutes.isdecimal() else 0)
            click.echo(f"recorded: {did.value} {', '.join(one.title for one in done)}", err=as_json)
    if asked["export"] is not None:
        from companion.practice_log.export import export_records

        written = export_records(show, asked["export"])
        click.echo(f"Wrote {asked['export']}: {written} records", err=as_json)
        return
    if known:
        _known(show, yes=yes, as_json=as_json)
        return
    if ready:
        _ready(show, now, as_json=as_json)
        return
    date = asked["date"].date() if asked["date"] else None
    made = plan_days(show, now.date(), minutes, asked["off"], asked["listening"], date)
    if asked["ics"] is not None:
        write_calendar(made, asked["ics"], now)
        click.echo(f"Wrote {asked['ics']}", err=as_json)
    if asked["pdf"] is not None:
        from companion.paper import Paper, print_plan

        pages = print_plan(made, asked["pdf"], Paper(asked["paper"]))
        click.echo(f"{asked['pdf']}: {pages} page{'' if pages == 1 else 's'}", err=as_json)
    if song:
        click.echo(explain_place(made, song))
    elif as_json:
        print_json(plan_text.plain(made))
    else:
        for day, bar, told in plan_text.bars(made):
            click.echo(f"{day}  {bar:30}  {told}")
        for one in made.days:
            click.echo(f"\n{one.date:%A %d %B}")
            for line in plan_text.day_lines(one):
                click.echo(f"  {line}")
        for heading, lines in (
            ("What does not fit:", plan_text.left_lines(made)),
            ("What would help most:", made.helps),
        ):
            if lines:
                click.echo(f"\n{heading}")
                for line in lines:
                    click.echo(f"  {line}")
        click.echo(f"\n{plan_text.sentence(made)}")


@click.command(epilog="Example: companion playlist shows/pier-street.yaml --to ~/Music")
@SHOW
@click.option("--to", type=click.Path(path_type=Path), help="Write to this folder; default: beside the show.")
@click.option("--only", default="", help='Only these songs: a title, or "set 1".')
@JSON
def playlist(show: Path, to: Path | None, only: str, *, as_json: bool) -> None:
    """Write the recordings in set order as M3U8 and XSPF."""
    from companion.listening.playlist import write_playlists
    from companion.practice_log.logged import show_and_progress

    found, paths = write_playlists(show_and_progress(show)[0], show, to, only)
    if as_json:
        print_json({"written": paths, "playlist": found})
        return
    click.echo(f"{len(found.tracks)} recordings: {' and '.join(paths)}")
    for track in found.missing:
        click.echo(f"{track.song.title}: {track.where} does not exist")
    if found.without:
        named = ", ".join(song.title for song in found.without[:MAX_NAMED])
        more = f" and {len(found.without) - MAX_NAMED} more" if len(found.without) > MAX_NAMED else ""
        click.echo(f"no recording: {named}{more}. Write: recording: and its file or link")


def _known(show: Path, *, yes: bool, as_json: bool) -> None:
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
        told = [{"title": song.title, "written": written, "known": known} for song, written, known in offered]
        print_json({"offered": told, "written": takes})
    else:
        print_outcome(show, is_written=takes)


def _ready(show: Path, now: dt.datetime, *, as_json: bool) -> None:
    from companion.planning.planned import readiness
    from companion.practice_log.logged import show_and_progress
    from companion.quiz.scheduling import due_cards

    night = readiness(show, now, due=len(due_cards(*show_and_progress(show), now, most_new=0)))
    if as_json:
        print_json(
            {
                "score": night.score,
                "ready": night.is_ready,
                "now": night.now,
                "songs": [
                    {"title": one.song.title, "score": one.score, "state": one.state.value, "lacks": one.lacks}
                    for one in night.songs
                ],
            }
        )
        return
    for one in night.songs:
        lacks = f": {', '.join(one.lacks)}" if one.lacks else ""
        click.echo(f"{one.score:3d}  {one.state.value:8} {one.song.title}{lacks}")
    click.echo(f"\nThe night: {night.score} of 100, {'ready' if night.is_ready else 'not ready yet'}.")
    for line in night.now:
        click.echo(f"In the next half hour: {line}")


COMMANDS = (import_, questions, plan, playlist, undo)
