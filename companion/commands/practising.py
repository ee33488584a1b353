"""Commands for practice: recall and listening."""

import importlib.util
import queue
import sys
import threading
import time
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

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
from companion.errors import CompanionError
from companion.how_many import how_many

if TYPE_CHECKING:
    from companion.listening.heard_parts import Timed
    from companion.listening.player import Press
    from companion.listening.tapped_map import TapTake
    from companion.quiz.cards import Card
    from companion.quiz.sitting import QuizResult
    from companion.rig import Rig
    from companion.show import Section, Song


@click.command(epilog="Example: companion quiz shows/pier-street.yaml --most 10")
@SHOW
@click.option("--most", metavar="NUMBER", default=20, show_default=True, help="Questions in one sitting.")
@click.option("--only", metavar="SONG", default="", help='Only these songs: a title, or "set 1".')
@click.option(
    "--rig",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="Listen only to this rig's keyboards; default: every MIDI input.",
)
@click.option("--list", "list_", is_flag=True, help="Only list what to brush up.")
@JSON
def quiz(show: Path, most: int, only: str, rig: Path | None, *, list_: bool, as_json: bool) -> None:
    """Practise recall: keys, starts, first chords, what follows.

    Type the answer, or play it: the tonic of a key, the notes of a chord. Press enter alone if you do not know;
    q ends the quiz.
    """
    from companion.planning.known_offers import offers_of_known
    from companion.practice_log.logged import show_and_progress
    from companion.quiz.sitting import cards_to_ask

    if list_:
        cards = cards_to_ask(*show_and_progress(show), time_now(), only)
        questions = [{"title": card.song.title, "question": card.question} for card in cards]
        if as_json:
            print_json(questions)
        else:
            for one in questions:
                click.echo(f"{one['title']}: {one['question']}")
        return
    sat = _run_quiz(show, most, only, rig, as_json=as_json)
    if as_json:
        print_json(sat)
        return
    click.echo(sat)
    if offered := offers_of_known(show):
        songs = how_many(len(offered), "song")
        click.echo(
            f"You know {songs} better or worse than the show file says. To update it: companion plan {show} --known"
        )


def _run_quiz(show: Path, most: int, only: str, rig: Path | None, *, as_json: bool) -> "QuizResult":
    from companion.quiz.answer_forms import ends_quiz, what_to_write
    from companion.quiz.at_keyboard import AnswerPlayed, AnswerTyped, at_the_keyboard, spelled
    from companion.quiz.judging import Grade, can_be_played, judge, judge_played
    from companion.quiz.sitting import sit_quiz
    from companion.rig import read_rig

    asked = ""  # the question that waits; a port that is found interrupts it

    def heard(port: str) -> None:
        click.echo(f"\nListening to {port}: play the tonic of a key or the notes of a chord, or type", err=True)
        click.echo(asked, nl=False, err=True)

    def next_answer(card: "Card") -> AnswerTyped | AnswerPlayed:
        """Wait for an answer. Ask again after anything else, and do not record it."""
        while True:
            answered = answers.next(can_be_played=can_be_played(card))
            if isinstance(answered, AnswerPlayed) or ends_quiz(answered.line):
                return answered
            example = what_to_write(card, answered.line or "")
            if example is None:
                return answered
            click.echo(f"  Write {example}. Enter alone if you do not know: ", nl=False, err=as_json)

    def answer(card: "Card") -> int | None:
        nonlocal asked
        asked = f"{card.question} "
        click.echo(asked, nl=False, err=as_json)
        begun = time.monotonic()
        try:
            answered = next_answer(card)
        except KeyboardInterrupt:
            return None
        if isinstance(answered, AnswerPlayed):
            grade = judge_played(card, answered.notes, answered.seconds)
            click.echo(f"({spelled(answered.notes, card.key)})", err=as_json)
        elif ends_quiz(answered.line):
            return None
        else:
            grade = judge(card, answered.line or "", time.monotonic() - begun)
        verdict = "right" if grade >= Grade.RIGHT else "nearly" if grade is Grade.NEARLY else "no"
        click.echo(f"  {verdict}: {card.answer}", err=as_json)
        return int(grade)

    with at_the_keyboard(sys.stdin, read_rig(rig).rig if rig else None, heard) as answers:
        return sit_quiz(show, time_now, answer, most, only)


@click.command(epilog='Example: companion listen shows/pier-street.yaml --only "set 1"')
@SHOW
@click.option("--only", metavar="SONG", default="", help='Only these songs: a title, or "set 1".')
@click.option(
    "--heard", metavar="SONG", help='Record what you heard elsewhere: a title, "set 1", or "today" as planned.'
)
@click.option(
    "--recordings",
    metavar="FOLDER",
    type=click.Path(path_type=Path),
    help="Attach recordings from this folder; you see them first.",
)
@click.option("--map", "map_", metavar="TITLE", help="Work out this song's road map from your taps.")
@click.option(
    "--names",
    metavar="SECTIONS",
    default="",
    help='With --map: its sections in shorthand: "Intro*, Verse, Chorus @choir".',
)
@click.option(
    "--rig",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="With --map: the rig whose pedals you tap; default: as for play.",
)
@click.option("--fresh", is_flag=True, help="With --map: forget earlier taps.")
@YES
@JSON
def listen(
    show: Path,
    only: str,
    heard: str | None,
    recordings: Path | None,
    map_: str | None,
    *,
    as_json: bool,
    **mapping: Any,  # noqa: ANN401 - the options above
) -> None:
    """Play the recordings in set order and count your hearings.

    The road map moves along as you listen. A hearing counts if you hear at least 80 percent of the recording.
    """
    from companion.listening.player import KEYS, Mixer, Now
    from companion.listening.session import listen_to
    from companion.planning.planned import log_today, means_today
    from companion.practice_log.logged import log_practice
    from companion.practice_log.records import LogKind

    if heard:
        if means_today(show, heard):
            titles = log_today(show, LogKind.HEARD, time_now())
        else:
            titles = tuple(song.title for song in log_practice(show, LogKind.HEARD, heard, time_now()))
        print_logged(LogKind.HEARD, titles, as_json=as_json)
        return
    if recordings is not None:
        _attach(show, recordings, yes=mapping["yes"], as_json=as_json)
        return
    if map_:
        _map(show, map_, as_json=as_json, **mapping)
        return
    click.echo(", ".join(f"{'space' if key == ' ' else key}: {press.value}" for key, press in KEYS.items()), err=True)
    shown = ""

    def report(now: Now) -> None:
        nonlocal shown
        line = f"{now.song.title}  {now.section}{f', then {now.coming}' if now.coming else ''}"
        if line != shown:
            shown = line
            click.echo(line, err=True)

    def drafted(song: "Song") -> "Sequence[Timed]":
        return opened(show, song)

    player = Mixer()
    keys = KeysPressed({"space" if key == " " else key for key in KEYS}, {"q"})

    def presses() -> Iterator["Press"]:
        yield from (KEYS[" " if key == "space" else key] for key, _ in keys.since())

    try:
        listened, silent = listen_to(
            show, player, presses, report, lambda: time.sleep(0.1), time_now, only=only, sections=drafted
        )
    finally:
        player.close()
    if as_json:
        print_json({"heard": [(song.title, share) for song, share in listened.heard], "silent": silent})
        return
    for line in silent:
        click.echo(line)
    whole = [song.title for song, share in listened.heard if share >= 0.8]
    click.echo(f"heard: {', '.join(whole) or 'nothing from start to end'}")


def opened(show: Path, song: "Song") -> "Sequence[Timed]":
    """Show the draft of a song whose recording was heard, beside what is written; return when its sections are played.

    The draft's times are those of the recording; without one, the road map is counted from the beginning.
    """
    from companion.listening.heard_parts import Timed, timed_sections

    draft = None
    if all(importlib.util.find_spec(name) for name in ("numpy", "platformdirs")):
        from companion.audio.anchors import anchors_of
        from companion.audio.draft_lines import lines_beside
        from companion.audio.show_hearing import kept_draft

        draft = kept_draft(show.resolve().parent / str(song.recording), anchors_of(song))
    if draft is None or not draft.sections:
        return timed_sections(song)
    for line in lines_beside(song, draft):
        click.echo(f"  heard: {line}" if not line.startswith("?") else f"  {line}", err=True)
    features = {one.name: one.feature or "" for one in song.road_map}
    return [Timed(one.name, one.start_s, one.end_s, features.get(one.name, "")) for one in draft.sections]


def _attach(show: Path, folder: Path, *, yes: bool, as_json: bool) -> None:
    """Show the recordings found for songs, ask about each doubt, and write those that are sure or agreed."""
    from companion.edits import open_text
    from companion.listening.recording_folder import attach_recordings, line_of, look_for_recordings

    file = open_text(show)
    looked = look_for_recordings(show, folder)
    taken = [one for one in looked.matches.found if one.is_sure]
    for one in taken:
        click.echo(line_of(one), err=as_json)
    doubts = [one for one in looked.matches.found if not one.is_sure]
    can_ask = sys.stdin.isatty() and not as_json and not yes
    for one in doubts:
        if can_ask:
            taken += [one] if click.confirm(f"{line_of(one)}. Is this the song?") else []
        else:
            click.echo(f"doubt: {line_of(one)}", err=as_json)
    for line in (*(f"{one.path}: no matching song" for one in looked.matches.without_song), *looked.aside):
        click.echo(line, err=as_json)
    writes = bool(taken) and (yes or agreed(f"Write {how_many(len(taken), 'recording')} to {show}?", as_json=as_json))
    if writes:
        attach_recordings(show, taken, file, about_clashes(as_json=as_json))
    if as_json:
        rows = [{"title": one.song.title, "file": one.file.path, "how": one.how.value} for one in taken]
        left = [{"title": one.song.title, "file": one.file.path, "how": one.how.value} for one in doubts]
        print_json({"found": rows, "doubts": left, "aside": looked.aside, "written": writes})
    else:
        print_outcome(show, is_written=writes)


def _map(show: Path, title: str, names: str, rig: Path | None, *, fresh: bool, yes: bool, as_json: bool) -> None:
    """Let the player tap; show the road map with its doubts and the difference; write it when that is agreed."""
    import msgspec

    from companion.listening.map_session import map_song
    from companion.listening.map_writing import with_map
    from companion.listening.tapped_map import named_sections, tapped_map
    from companion.rig import read_rig, rig_for

    named = named_sections(names)  # a fault is reported before anything plays
    taps_of = read_rig(rig_for(show, rig).path).rig
    song, throughs = map_song(show, title, lambda one, path: _tapped(one, path, taps_of), time_now, fresh=fresh)
    if not song.road_map and not names and throughs and sys.stdin.isatty() and not as_json:
        named = _ask_names()
    made = tapped_map(song, throughs, named)
    asks = made.tempo_bpm is not None and song.tempo_bpm is not None and not yes
    lines = [str(line) for line in made.lines]
    if made.tempo_bpm is not None:
        was = f", {song.tempo_bpm:g} was written" if song.tempo_bpm else ""
        lines.append(f"tempo {made.tempo_bpm:g} (within {max(made.off_bpm, 0.1):.1f}){was}")
    lines += made.doubts
    if made.problem:
        lines.append(f"{song.title}: {made.problem}")
    for line in lines:
        click.echo(line, err=as_json)
    if asks and not agreed(f"Write tempo {made.tempo_bpm:g} in place of {song.tempo_bpm:g}?", as_json=as_json):
        made = msgspec.structs.replace(made, tempo_bpm=None)
    written = None if made.problem else with_map(show, made)
    differs = written is not None and written.differs
    if written is not None and differs:
        click.echo(written.difference, err=as_json)
        if yes or agreed(f"Write this to {show}?", as_json=as_json):
            written.write(ask=about_clashes(as_json=as_json))
        else:
            differs = False
    if as_json:
        sections = [{"section": one.name, "bars": one.bars, "passes": one.passes} for one in made.road_map]
        print_json(
            {"title": song.title, "tempo": made.tempo_bpm, "road_map": sections, "report": lines, "written": differs}
        )
    else:
        print_outcome(show, is_written=differs)


def _ask_names() -> tuple["Section", ...]:
    """Ask for the sections in shorthand until they can be read."""
    from companion.listening.tapped_map import named_sections

    asks = "The sections, such as Intro*, Verse, Chorus @choir (enter: Part 1, Part 2 ...)"
    while True:
        try:
            return named_sections(click.prompt(asks, default="", show_default=False))
        except CompanionError as no:
            click.echo(no)


def _tapped(song: "Song", path: str, rig: "Rig") -> tuple["TapTake", ...]:
    from companion.listening.map_session import TakeProgress, Tapped, feet_tap, tap_through
    from companion.listening.player import Mixer
    from companion.listening.tapped_map import MapTap

    by_key = {
        "space": MapTap.FIRST,
        "t": MapTap.BEAT,
        "backspace": MapTap.TAKE_BACK,
        "b": MapTap.BACK,
        "r": MapTap.AGAIN,
        "q": MapTap.DONE,
    }
    click.echo(f"{song.title}. " + ", ".join(f"{key}: {tap.value}" for key, tap in by_key.items()), err=True)
    keys = KeysPressed(set(by_key), {"q"})

    def show_progress(take: TakeProgress) -> None:
        begun = len(take.through.firsts)
        names = [section.name for section in song.road_map]
        coming = (
            f"; next: {names[begun]}" if begun < len(names) else "; next: the end" if begun == len(names) > 0 else ""
        )
        over = f". It is over: r {MapTap.AGAIN.value}, q {MapTap.DONE.value}" if take.is_over else ""
        click.echo(f"{begun} tapped, {how_many(len(take.through.beats), 'beat')}{coming}{over}", err=True)

    player = Mixer()
    try:
        with feet_tap(rig) as feet:

            def taps() -> Iterator[Tapped]:
                yield from feet()
                yield from (Tapped(by_key[key], at_ns) for key, at_ns in keys.since())

            return tap_through(path, player, taps, show_progress, lambda: time.sleep(0.01), stays=keys.is_terminal)
    finally:
        player.close()


class KeysPressed:
    """The keys that are pressed in the terminal, each with its moment; none if there is no terminal."""

    def __init__(self, wanted: set[str], last: set[str]) -> None:
        """Read these keys until one of the ``last``, after which the terminal is free for a question."""
        self._pressed: queue.SimpleQueue[tuple[str, int]] = queue.SimpleQueue()
        self._wanted, self._last = wanted, last
        self.is_terminal = sys.stdin is not None and sys.stdin.isatty()
        if self.is_terminal:
            threading.Thread(target=self._read, name="keys", daemon=True).start()

    def _read(self) -> None:
        from companion.clock import now_ns
        from companion.screen.terminal_keys import INTERRUPT, keys_pressed

        for pressed in keys_pressed():
            key = min(self._last) if pressed == INTERRUPT else pressed
            if key in self._wanted:
                self._pressed.put((key, now_ns()))
            if key in self._last:
                return

    def since(self) -> Iterator[tuple[str, int]]:
        """Return what was pressed since the last call, without waiting."""
        while not self._pressed.empty():
            yield self._pressed.get()


COMMANDS = (quiz, listen)
