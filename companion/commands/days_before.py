"""The days before: a set list brought in, questions to the leader, the plan, listening, recall."""

import datetime as dt
import queue
import sys
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from companion.prep.listen import Press

SHOW = click.argument("show", type=click.Path(path_type=Path))
JSON = click.option("--json", "as_json", is_flag=True, help="Tell it as JSON.")
YES = click.option("--yes", is_flag=True, help="Write without asking.")
GERMAN = click.option("--german", is_flag=True, help="Keys as in German: H is B, and B is Bb.")


@click.command("import", epilog="Example: companion import setlist.pdf --into shows/pier-street.yaml")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--into", type=click.Path(path_type=Path), help="The show file, new or with work in it, which is kept.")
@GERMAN
@YES
@JSON
def import_(file: Path, into: Path | None, *, german: bool, yes: bool, as_json: bool) -> None:
    """Make a show of a set list (CSV, XLSX, PDF, text) or a MIDI file; or bring a list's second version in."""
    if file.suffix.lower() in (".mid", ".midi"):
        _import_midi(file, into or Path(f"{file.stem}.yaml"), yes=yes, as_json=as_json)
        return
    from companion.show.lists import Imported, import_list  # noqa: PLC0415 - help needs none of it
    from companion.show.lists.telling import HEADS, in_short, plain, rows  # noqa: PLC0415

    def agree(imported: Imported) -> bool:
        if not as_json:
            _table(HEADS, rows(imported.listed))
            click.echo(in_short(imported.listed))
            for difference in imported.differences:
                click.echo(difference)
        return yes or imported.is_new or _agreed(f"Write this to {imported.show_path}?", as_json=as_json)

    imported = import_list(file, into, german=german, agree=agree)
    if imported.is_written and not imported.is_new:
        from companion.prep.desk import follow_renamed  # noqa: PLC0415

        follow_renamed(imported, _now())
    if as_json:
        _json(plain(imported))
    else:
        click.echo(f"{imported.show_path} is {'written' if imported.is_written else 'as it was'}")


def _import_midi(file: Path, into: Path, *, yes: bool, as_json: bool) -> None:
    from companion.files.writing import write_whole  # noqa: PLC0415 - help needs none of it
    from companion.show.midi_file import as_show, read_midi_file  # noqa: PLC0415
    from companion.show.writing import write_show  # noqa: PLC0415

    found = read_midi_file(file)
    for line in found.told:
        click.echo(line, err=as_json)
    writes = not into.exists() or yes or _agreed(f"{into} is there already. Write over it?", as_json=as_json)
    if writes:
        write_whole(into, write_show(as_show(found)))
    if as_json:
        _json({"show": str(into), "written": writes, "told": found.told})
    else:
        click.echo(f"{into} is {'written' if writes else 'as it was'}")


@click.command(epilog="Example: companion questions shows/pier-street.yaml")
@SHOW
@click.option("--answers", type=click.Path(path_type=Path), help="The reply, as a text file: it lands in the show.")
@GERMAN
@YES
@JSON
def questions(show: Path, answers: Path | None, *, german: bool, yes: bool, as_json: bool) -> None:
    """Write one short message to the band leader, or bring the reply into the show file."""
    from companion.prep import desk  # noqa: PLC0415 - help needs none of it

    if answers is None:
        message = desk.questions(show)
        if as_json:
            _json(message)
            return
        click.echo(message if message.now else "Nothing needs to be asked.")
        if message.later:
            click.echo(f"({len(message.later)} more are kept for next time)", err=True)
        return
    from companion.prep.answers import Answers  # noqa: PLC0415
    from companion.prep.landing import answer_questions  # noqa: PLC0415

    def agree(found: Answers) -> bool:
        for answer in found.found:
            click.echo(answer, err=as_json)
        return yes or _agreed(f"Write this to {show}?", as_json=as_json)

    landed = answer_questions(show, answers, german=german, agree=agree)
    if as_json:
        _json(landed)
        return
    for piece in landed.answers.left:
        click.echo(f"not understood: {piece}")
    click.echo(f"{show} is {'written' if landed.is_written else 'as it was'}")


@click.command(epilog="Example: companion plan shows/pier-street.yaml --minutes 45,sat=120 --off sun")
@SHOW
@click.option("--minutes", default="60", show_default=True, help="Minutes a day at the keyboard: 60, or 45,sat=120.")
@click.option("--off", multiple=True, help="A day off: 2027-06-12, or sun. May be given again.")
@click.option("--listening", default=45, show_default=True, help="Minutes of listening a day, also in the background.")
@click.option("--why", "song", help="Explain this song's place.")
@click.option("--ready", is_flag=True, help="Say how ready you are, and what to do in the next half hour.")
@click.option("--ics", type=click.Path(path_type=Path), help="Write the days as a calendar file.")
@click.option("--practised", help='Record that a song was practised, or "set 1"; also with --minutes.')
@click.option("--ran", help='Record a full run of a set: "set 1".')
@JSON
def plan(  # noqa: PLR0913, PLR0917 - an option each
    show: Path,
    minutes: str,
    off: tuple[str, ...],
    listening: int,
    song: str | None,
    ics: Path | None,
    practised: str | None,
    ran: str | None,
    *,
    ready: bool,
    as_json: bool,
) -> None:
    """Plan the days until the show: what to learn first, what to listen to, what fits and what does not."""
    from companion.prep import desk, plan_told  # noqa: PLC0415 - help needs none of it
    from companion.prep.records import Did  # noqa: PLC0415

    now = _now()
    for words, did in ((practised, Did.PRACTISED), (ran, Did.RAN)):
        if words:
            done = desk.log(show, did, words, now, minutes=float(minutes) if minutes.isdecimal() else 0)
            click.echo(f"recorded: {did.value} {', '.join(one.title for one in done)}", err=as_json)
    if ready:
        _ready(show, now, as_json=as_json)
        return
    made = desk.planned(show, now.date(), minutes, off, listening)
    if ics is not None:
        desk.write_calendar(made, ics, now)
        click.echo(f"{ics} is written", err=as_json)
    if song:
        click.echo(desk.why(made, song))
    elif as_json:
        _json(plan_told.plain(made))
    else:
        for day, bar, told in plan_told.bars(made):
            click.echo(f"{day}  {bar:30}  {told}")
        for one in made.days:
            click.echo(f"\n{one.date:%A %d %B}")
            for line in plan_told.day_lines(one):
                click.echo(f"  {line}")
        click.echo(f"\n{plan_told.sentence(made)}")


@click.command(epilog="Example: companion playlist shows/pier-street.yaml --to ~/Music")
@SHOW
@click.option("--to", type=click.Path(path_type=Path), help="The folder to write to; else beside the show.")
@click.option("--only", default="", help='Only these: a title, or "set 1".')
@JSON
def playlist(show: Path, to: Path | None, only: str, *, as_json: bool) -> None:
    """Write the recordings in set order as M3U8 and XSPF."""
    from companion.prep import desk  # noqa: PLC0415 - help needs none of it
    from companion.prep.playlist import write_playlists  # noqa: PLC0415

    found, paths = write_playlists(desk.read(show)[0], show, to, only)
    if as_json:
        _json({"written": paths, "playlist": found})
        return
    click.echo(f"{len(found.tracks)} recordings: {' and '.join(paths)}")
    for track in found.missing:
        click.echo(f"{track.song.title}: {track.where} is not there")
    if found.without:
        click.echo(f"no recording: {', '.join(song.title for song in found.without)}")


@click.command(epilog="Example: companion quiz shows/pier-street.yaml --most 10")
@SHOW
@click.option("--most", default=20, show_default=True, help="Questions at one sitting.")
@click.option("--only", default="", help='Only these: a title, or "set 1".')
@click.option("--list", "list_", is_flag=True, help="Only tell what is due.")
@JSON
def quiz(show: Path, most: int, only: str, *, list_: bool, as_json: bool) -> None:
    """Practise recall: keys, starts, first chords, what follows. An empty answer is "I do not know"; q ends it."""
    from companion.prep import desk  # noqa: PLC0415 - help needs none of it
    from companion.prep.quiz import due_cards  # noqa: PLC0415
    from companion.prep.quiz_cards import Card  # noqa: PLC0415
    from companion.prep.quiz_judge import Grade, judge  # noqa: PLC0415

    if list_:
        due = due_cards(*desk.read(show), _now())
        told = [{"title": one.card.song.title, "question": one.card.question} for one in due]
        if as_json:
            _json(told)
        else:
            for one in told:
                click.echo(f"{one['title']}: {one['question']}")
        return

    def answer(card: Card) -> int | None:
        begun = time.monotonic()
        try:
            typed = click.prompt(card.question, default="", show_default=False, prompt_suffix=" ", err=as_json)
        except click.Abort:
            return None
        if typed.strip().casefold() == "q":
            return None
        grade = judge(card, typed, time.monotonic() - begun)
        said = "right" if grade >= Grade.RIGHT else "nearly" if grade is Grade.NEARLY else "no"
        click.echo(f"  {said}: {card.answer}", err=as_json)
        return int(grade)

    sat = desk.quiz(show, _now, answer, most, only)
    if as_json:
        _json(sat)
    else:
        click.echo(f"{sat.right} right, {sat.wrong} to go over again; {sat.due} were due")


@click.command(epilog='Example: companion listen shows/pier-street.yaml --only "set 1"')
@SHOW
@click.option("--only", default="", help='Only these: a title, or "set 1".')
@click.option("--heard", help='Record what was heard elsewhere: a title, or "set 1".')
@JSON
def listen(show: Path, only: str, heard: str | None, *, as_json: bool) -> None:
    """Play the recordings in set order, the road map moving with them; a hearing counts from 80 percent on."""
    from companion.prep import desk  # noqa: PLC0415 - help needs none of it
    from companion.prep.listen import KEYS, Mixer, Now  # noqa: PLC0415
    from companion.prep.records import Did  # noqa: PLC0415

    if heard:
        done = desk.log(show, Did.HEARD, heard, _now())
        click.echo(f"recorded: heard {', '.join(song.title for song in done)}", err=as_json)
        return
    click.echo(", ".join(f"{'space' if key == ' ' else key}: {press.value}" for key, press in KEYS.items()), err=True)
    told = ""

    def tell(now: Now) -> None:
        nonlocal told
        line = f"{now.song.title}  {now.section}{f', then {now.coming}' if now.coming else ''}"
        if line != told:
            told = line
            click.echo(line, err=True)

    player = Mixer()
    try:
        listened, silent = desk.listen_to(show, player, _presses(), tell, lambda: time.sleep(0.1), _now, only)
    finally:
        player.close()
    if as_json:
        _json({"heard": [(song.title, share) for song, share in listened.heard], "silent": silent})
        return
    for line in silent:
        click.echo(line)
    click.echo(f"heard: {', '.join(song.title for song, share in listened.heard if share >= 0.8) or 'nothing whole'}")


def _presses() -> "Callable[[], Iterator[Press]]":
    """Give a function that gives what was pressed since it was last asked, without waiting."""
    from companion.prep.listen import KEYS, Press  # noqa: PLC0415 - help needs none of it
    from companion.screen.terminal_keys import INTERRUPT, keys_pressed  # noqa: PLC0415

    pressed: queue.SimpleQueue[Press] = queue.SimpleQueue()
    keys = {"space" if key == " " else key: press for key, press in KEYS.items()} | {INTERRUPT: Press.QUIT}

    def read() -> None:
        for key in keys_pressed():
            if key in keys:
                pressed.put(keys[key])

    def since() -> Iterator[Press]:
        while not pressed.empty():
            yield pressed.get()

    if sys.stdin.isatty():
        threading.Thread(target=read, name="keys", daemon=True).start()
    return since


def _ready(show: Path, now: dt.datetime, *, as_json: bool) -> None:
    from companion.prep import desk  # noqa: PLC0415 - help needs none of it

    night = desk.ready(show, now)
    if as_json:
        _json(
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


def _now() -> dt.datetime:
    return dt.datetime.now().astimezone()


def _agreed(question: str, *, as_json: bool) -> bool:
    """Ask at the terminal; where nobody can answer, the answer is no."""
    if as_json or not sys.stdin.isatty():
        click.echo("nothing is written without --yes", err=True)
        return False
    return click.confirm(question)


def _table(heads: tuple[str, ...], rows: Sequence[tuple[str, ...]]) -> None:
    from rich.console import Console  # noqa: PLC0415 - a table is all it is needed for
    from rich.table import Table  # noqa: PLC0415
    from rich.text import Text  # noqa: PLC0415

    table = Table(*heads, box=None, padding=(0, 2, 0, 0))
    for row in rows:
        table.add_row(*map(Text, row))
    Console(soft_wrap=False).print(table)


def _json(value: object) -> None:
    import msgspec  # noqa: PLC0415 - help needs no JSON

    click.echo(msgspec.json.format(msgspec.json.encode(value, enc_hook=str)).decode())


COMMANDS = (import_, questions, plan, playlist, quiz, listen)
