"""Practising: recall and listening, typed or played."""

import queue
import sys
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from companion.commands.terminal import JSON, SHOW, print_json, time_now

if TYPE_CHECKING:
    from companion.prep.desk import Sat
    from companion.prep.listen import Press
    from companion.prep.quiz_cards import Card


@click.command(epilog="Example: companion quiz shows/pier-street.yaml --most 10")
@SHOW
@click.option("--most", default=20, show_default=True, help="Questions at one sitting.")
@click.option("--only", default="", help='Only these: a title, or "set 1".')
@click.option(
    "--rig", type=click.Path(path_type=Path), help="Hear this rig's keyboards; else every MIDI input there is."
)
@click.option("--list", "list_", is_flag=True, help="Only tell what is due.")
@JSON
def quiz(show: Path, most: int, only: str, rig: Path | None, *, list_: bool, as_json: bool) -> None:
    """Practise recall: keys, starts, first chords, what follows.

    Type the answer, or play it: the tonic of a key, the notes of a chord. An empty line is "I do not know"; q ends it.
    """
    from companion.prep import desk  # noqa: PLC0415 - help needs none of it
    from companion.prep.quiz import due_cards  # noqa: PLC0415

    if list_:
        due = due_cards(*desk.read(show), time_now())
        told = [{"title": one.card.song.title, "question": one.card.question} for one in due]
        if as_json:
            print_json(told)
        else:
            for one in told:
                click.echo(f"{one['title']}: {one['question']}")
        return
    sat = _sat(show, most, only, rig, as_json=as_json)
    if as_json:
        print_json(sat)
        return
    click.echo(f"{sat.right} right, {sat.wrong} to go over again; {sat.due} were due")
    if offered := desk.offers(show):
        songs = f"{len(offered)} song{'' if len(offered) == 1 else 's'}"
        click.echo(f"{songs} known otherwise than the show file says: companion plan {show} --known")


def _sat(show: Path, most: int, only: str, rig: Path | None, *, as_json: bool) -> "Sat":
    from companion.prep import desk  # noqa: PLC0415 - help needs none of it
    from companion.prep.at_keyboard import Played, at_the_keyboard, spelled  # noqa: PLC0415
    from companion.prep.quiz_judge import Grade, can_be_played, judge, judge_played  # noqa: PLC0415
    from companion.rig import read_rig  # noqa: PLC0415

    def heard(port: str) -> None:
        click.echo(f"\n{port} is heard: play the tonic of a key, the notes of a chord, or type", err=True)

    def answer(card: "Card") -> int | None:
        click.echo(f"{card.question} ", nl=False, err=as_json)
        begun = time.monotonic()
        try:
            given = answers.next(can_be_played=can_be_played(card))
        except KeyboardInterrupt:
            return None
        if isinstance(given, Played):
            grade = judge_played(card, given.notes, given.seconds)
            click.echo(f"({spelled(given.notes, card.key)})", err=as_json)
        elif given.line is None or given.line.strip().casefold() == "q":
            return None
        else:
            grade = judge(card, given.line, time.monotonic() - begun)
        said = "right" if grade >= Grade.RIGHT else "nearly" if grade is Grade.NEARLY else "no"
        click.echo(f"  {said}: {card.answer}", err=as_json)
        return int(grade)

    with at_the_keyboard(sys.stdin, read_rig(rig).rig if rig else None, heard) as answers:
        return desk.quiz(show, time_now, answer, most, only)


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
        done = desk.log(show, Did.HEARD, heard, time_now())
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
        listened, silent = desk.listen_to(show, player, _presses(), tell, lambda: time.sleep(0.1), time_now, only)
    finally:
        player.close()
    if as_json:
        print_json({"heard": [(song.title, share) for song, share in listened.heard], "silent": silent})
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


COMMANDS = (quiz, listen)
