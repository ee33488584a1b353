"""Commands for the days before: import a set list, ask the leader, write playlists, undo."""

import datetime as dt
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from companion.commands.terminal import (
    JSON,
    SHOW,
    YES,
    about_clashes,
    agreed,
    print_json,
    print_open,
    print_outcome,
    print_table,
    time_now,
)
from companion.how_many import how_many

if TYPE_CHECKING:
    from companion.setlist import Notation

MAX_NAMED = 8  # songs in one line


def _notation(
    _context: click.Context,
    _option: click.Parameter,
    is_german: bool,  # noqa: FBT001  as click passes it
) -> "Notation | None":
    from companion.setlist import Notation

    return Notation.GERMAN if is_german else None


GERMAN = click.option(
    "--german", "notation", is_flag=True, callback=_notation, help="Read keys as in German: H is B, and B is Bb."
)


@click.command("import", epilog="Example: companion import setlist.pdf --into shows/pier-street.yaml")
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--into",
    metavar="SHOW",
    type=click.Path(path_type=Path),
    help="The show file. If it exists, your work in it stays.",
)
@click.option("--list", "chosen", metavar="NAME", help="Read this list of a file that holds several: a sheet's name.")
@click.option(
    "--leave",
    multiple=True,
    type=click.Choice(["keys", "dropped", "new", "moved", "renamed", "sets", "notes", "details"]),
    help="Ignore these differences in a new version. Repeatable.",
)
@GERMAN
@YES
@JSON
def import_(
    file: Path,
    into: Path | None,
    chosen: str | None,
    leave: tuple[str, ...],
    *,
    notation: "Notation | None",
    yes: bool,
    as_json: bool,
) -> None:
    """Turn a set list into a show, or merge its next version.

    Reads text, messages, mails, tables, documents, PDFs and pictures, and Standard MIDI Files (one song each).
    """
    if _is_midi(file):
        _import_midi(file, into or Path(f"{file.stem}.yaml"), yes=yes, as_json=as_json)
        return
    from companion.commands.asking_doubts import doubt_asker
    from companion.commands.choosing_differences import DifferencesTalk, differences_text
    from companion.practice_log.logged import renamed_records
    from companion.setlist import Imported, RevisionChoice, import_list
    from companion.setlist.report import HEADS, in_short, known_text, plain, rows
    from companion.setlist.revising.differences import difference_text

    can_ask = sys.stdin.isatty() and not as_json
    talk = DifferencesTalk(leave, yes=yes, as_json=as_json, can_ask=can_ask)
    has_shown: list[bool] = []

    def choose(imported: Imported, choice: RevisionChoice) -> RevisionChoice:
        if not as_json and not has_shown:
            has_shown.append(True)
            print_table(HEADS, rows(imported.listed))
            click.echo(in_short(imported.listed))
            if known := known_text(imported):
                click.echo(known)
            for doubt in imported.listed.doubts:
                click.echo(f"in doubt: {doubt}{f' ({doubt.question})' if doubt.question else ''}")
        return talk.choose(imported, choice)

    def agree(imported: Imported) -> bool:
        if not as_json:
            for line in differences_text(imported.differences, details=True) if yes or not can_ask else ():
                click.echo(line)
            for one in talk.unasked if yes or not can_ask else ():
                click.echo(f"left as it is: {difference_text(one)}")
            if imported.answered_before:
                click.echo(
                    f"{how_many(imported.answered_before, 'doubt')} settled by your answers to an earlier version"
                )
            if imported.kept_beside:
                click.echo(f"This rewrites {imported.show_path} without your comments")
        return talk.agrees(imported)

    now = time_now()
    imported = import_list(
        file,
        into,
        notation=notation,
        chosen=chosen,
        ask=doubt_asker(yes=yes, as_json=as_json),
        choose=choose,
        agree=agree,
        also=lambda made: renamed_records(made, now),
    )
    if as_json:
        print_json(plain(imported))
        return
    if imported.is_written and imported.kept_beside:
        click.echo(f"Your old file is now {imported.kept_beside}")
    if imported.is_written and imported.dropped_to:
        click.echo(f"The songs left out are in {imported.dropped_to}")
    print_outcome(imported.show_path, is_written=imported.is_written)
    print_open(imported.show_path)


def _is_midi(file: Path) -> bool:
    """Return whether a file is a MIDI file by its first bytes, or by its name if it cannot be read."""
    from companion.regular import require_regular

    try:
        require_regular(file)
        with file.open("rb") as opened:
            return opened.read(4) == b"MThd"
    except (OSError, ValueError):
        return file.suffix.lower() in (".mid", ".midi")


def _import_midi(file: Path, into: Path, *, yes: bool, as_json: bool) -> None:
    from companion.setlist.midi_song import MidiImported, import_midi

    def agree(imported: MidiImported) -> bool:
        for line in (*imported.found.remarks, *imported.otherwise, *imported.gets):
            click.echo(line, err=as_json)
        return yes or agreed(f"Write this to {into}?", as_json=as_json)

    imported = import_midi(file, into, agree)
    if imported.is_new or not imported.gets:
        for line in (*imported.found.remarks, *imported.otherwise):
            click.echo(line, err=as_json)
    if as_json:
        details = {"remarks": imported.found.remarks, "gets": imported.gets, "otherwise": imported.otherwise}
        print_json({"show": str(into), "written": imported.is_written, **details})
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
@click.option("--answers", metavar="FILE", type=click.Path(path_type=Path), help="Import the reply, a text file.")
@click.argument("also_done", nargs=-1, metavar="")
@click.option(
    "--done", multiple=True, metavar="NUMBERS", help="Close open questions by their numbers: 2, or 1-5 8, or all."
)
@GERMAN
@YES
@JSON
def questions(
    show: Path,
    answers: Path | None,
    also_done: tuple[str, ...],
    done: tuple[str, ...],
    *,
    notation: "Notation | None",
    yes: bool,
    as_json: bool,
) -> None:
    """Ask the band leader what is missing; import the reply."""
    from companion.leader.asking import message_for

    now = time_now()
    if also_done and not done:
        raise click.UsageError(f"there is one show. Numbers of open questions follow --done: {' '.join(also_done)}")
    if done:
        _close(show, (*done, *also_done), now, as_json=as_json)
        return
    if answers is not None:
        _bring_in(show, answers, now, notation=notation, yes=yes, as_json=as_json)
        return
    message = message_for(show, now)
    if as_json:
        print_json(message.plain())
        return
    click.echo(message.message if message.message.now else "Nothing needs to be asked.")
    for line in message.beside():
        click.echo(line, err=True)


def _close(show: Path, numbers: tuple[str, ...], now: dt.datetime, *, as_json: bool) -> None:
    """Close open questions and list the rest. The message is not printed: closing is the player's business alone."""
    from companion.leader.alike import open_lines
    from companion.leader.asking import close_questions, open_now

    closed = close_questions(show, numbers, now)
    left = open_now(show)
    if as_json:
        print_json({"closed": list(open_lines(closed)), "open": list(open_lines(left))})
        return
    click.echo(f"Closed: {', '.join(open_lines(closed)) or 'nothing'}")
    click.echo("\n".join(["Still open:", *open_lines(left)]) if left else "Nothing is open any more.")


def _bring_in(
    show: Path, answers: Path, now: dt.datetime, *, notation: "Notation | None", yes: bool, as_json: bool
) -> None:
    from companion.commands.asking_doubts import ReplyDoubtsAsked
    from companion.leader.alike import open_lines
    from companion.leader.answer_words import difference_words
    from companion.leader.answers import LeaderAnswer, LeaderAnswers
    from companion.leader.landing_answers import answer_questions
    from companion.leader.reply_report import plain, reply_report
    from companion.setlist import Notation

    doubts = ReplyDoubtsAsked(yes=yes, as_json=as_json)

    def agree(found: LeaderAnswers) -> bool:
        doubts.see(found.found)
        for line in reply_report(found):
            click.echo(line, err=as_json)
        return yes or not found.found or agreed(f"Write this to {show}?", as_json=as_json)

    def settle(answer: LeaderAnswer) -> bool | None:
        if not answer.contradicts:
            return doubts.is_sure(answer)
        if yes or as_json or not sys.stdin.isatty():
            return None
        differs = difference_words(answer.field, answer.before, answer.value)
        return click.confirm(f"{answer.title}: {differs}. Change it?")

    about = about_clashes(as_json=as_json)
    notation = notation or Notation.LETTERS
    landed = answer_questions(show, answers, now, notation=notation, agree=agree, settle=settle, ask=about)
    if as_json:
        print_json(plain(landed))
        return
    if landed.dropped_to and landed.is_written:
        click.echo(f"The songs left out are in {landed.dropped_to}")
    if landed.open:
        click.echo(f"Still open (close one with --done and its number):\n{chr(10).join(open_lines(landed.open))}")
    print_outcome(show, is_written=landed.is_written)


@click.command(epilog="Example: companion playlist shows/pier-street.yaml --to ~/Music")
@SHOW
@click.option(
    "--to", metavar="FOLDER", type=click.Path(path_type=Path), help="Write to this folder; default: beside the show."
)
@click.option("--only", metavar="SONG", default="", help='Only these songs: a title, or "set 1".')
@JSON
def playlist(show: Path, to: Path | None, only: str, *, as_json: bool) -> None:
    """Write the recordings in set order as M3U8 and XSPF."""
    from companion.listening.playlist import write_playlists
    from companion.practice_log.logged import show_and_progress

    found, paths = write_playlists(show_and_progress(show)[0], show, to, only)
    if as_json:
        print_json({"written": paths, "playlist": found})
        return
    tracks = how_many(len(found.tracks), "recording")
    click.echo(f"{tracks} written to {' and '.join(paths)}")
    for track in found.missing:
        click.echo(f"{track.song.title}: {track.where} does not exist")
    if found.without:
        named = ", ".join(song.title for song in found.without[:MAX_NAMED])
        more = f" and {len(found.without) - MAX_NAMED} more" if len(found.without) > MAX_NAMED else ""
        click.echo(f"no recording: {named}{more}. Write: recording: and its file or link")


COMMANDS = (import_, questions, playlist, undo)
