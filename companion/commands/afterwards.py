"""Commands after the show: the debrief, and the songbook for the next gig."""

import contextlib
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from companion.commands.terminal import JSON, SHOW, YES, about_clashes, print_json, time_now
from companion.errors import CompanionError
from companion.shown import harmless

if TYPE_CHECKING:
    from companion.debrief.into_songbook import KeptFor, SongOffer
    from companion.debrief.lessons import Lesson
    from companion.debrief.night_report import Debrief
    from companion.debrief.songs_known import KnownLearned
    from companion.edits import SongNamed

MAX_NAMED = 8  # songs in one line
KEYS = "y: take it, n: leave it, a: take all the rest, q: leave all the rest"


@click.command(epilog="Example: companion debrief shows/pier-street.yaml --markdown debrief.md")
@SHOW
@click.option(
    "--journal", metavar="FILE", type=click.Path(path_type=Path), help="Read this journal instead of the newest."
)
@JSON
@click.option("--markdown", metavar="FILE", type=click.Path(path_type=Path), help="Write the debrief as a page.")
@click.option("--write", is_flag=True, help="Ask about each lesson, and write those you accept into the show file.")
@click.option("--take", metavar="NUMBERS", help='Put these lessons into the show file, such as "1,3-5" or "all".')
@click.option("--note", nargs=2, multiple=True, metavar="SONG TEXT", help="Add a line to a song's notes. Repeatable.")
@click.option("--rehearsal", "marked", flag_value="rehearsal", help="Treat this journal as a rehearsal.")
@click.option("--night", "marked", flag_value="night", help="Treat this journal as the night itself.")
def debrief(  # noqa: PLR0913 - the command's options
    show: Path,
    journal: Path | None,
    markdown: Path | None,
    take: str | None,
    note: tuple[tuple[str, str], ...],
    marked: str | None,
    *,
    as_json: bool,
    write: bool,
) -> None:
    """Report what was played and what was different."""
    from companion.debrief.lessons import still_open
    from companion.debrief.night_report import debrief as debrief_of
    from companion.debrief.report_text import debrief_lines, debrief_page
    from companion.show import read_show

    if marked:
        _mark(show, journal, marked)
    if note and not (write or take is not None or markdown or marked or journal or as_json):
        _add_notes(show, note, as_json=as_json)  # the report is known already
        return
    night = debrief_of(show, journal)
    if night is None:
        read_show(show)  # a file that is not a show gets its error, not "no night"
    else:
        with contextlib.suppress(CompanionError):  # the report needs no show that can be read
            night = still_open(night, read_show(show).show)
    if as_json:
        print_json(night)
    elif night is None:
        click.echo(f"No night of {show} has been played on this computer yet.")
    else:
        for line in debrief_lines(night):
            click.echo(line)
    _add_notes(show, note, as_json=as_json)
    if night is None:
        return
    if markdown:
        from companion.files.outputs import write_output

        write_output(markdown, harmless(debrief_page(night)))
    if write or take is not None:
        _write(show, night, take, as_json=as_json)
    if write and take is None and sys.stdin.isatty():
        _add_notes(show, _ask_notes([song.title for song in night.songs]), as_json=as_json)


def _mark(show: Path, journal: Path | None, marked: str) -> None:
    from companion.debrief.night_kinds import JournalKind, mark
    from companion.debrief.night_report import newest_journal

    path = journal or newest_journal(show)
    if path is not None:
        mark(path, JournalKind(marked))


def _add_notes(show: Path, notes: Sequence[tuple[str, str]], *, as_json: bool) -> None:
    if not notes:
        return
    from companion.debrief.lessons import add_note

    for title, text in notes:
        click.echo(f"Noted for {add_note(show, title, text, about_clashes(as_json=as_json))}", err=as_json)


def _ask_notes(titles: list[str]) -> tuple[tuple[str, str], ...]:
    """Ask for notes on the songs as numbered in the debrief, until enter alone."""
    notes: list[tuple[str, str]] = []
    while titles:
        answer = click.prompt(
            f"A note on a song (1 to {len(titles)}; enter ends)", "", show_default=False, err=True
        ).strip()
        if not answer:
            break
        if not (answer.isascii() and answer.isdigit() and 1 <= int(answer) <= len(titles)):
            continue
        title = titles[int(answer) - 1]
        text = click.prompt(title, "", show_default=False, err=True).strip()
        notes += [(title, text)] if text else []
    return tuple(notes)


def _write(show: Path, night: "Debrief", take: str | None, *, as_json: bool) -> None:
    """Write the lessons that the player takes."""
    from companion.debrief.learned import rewritten
    from companion.debrief.lessons import chosen, lessons_of, refuse, taken
    from companion.edits import open_text

    file = open_text(show)  # before the questions: what another program saves meanwhile is noticed
    lessons = lessons_of(night.learned)
    titles = [song.title for song in night.songs]
    kept, refused = (chosen(lessons, take), ()) if take is not None else _ask_lessons(lessons, titles)
    refuse(show, refused, time_now())
    after = rewritten(show, taken(kept), file)
    for line in after.left:
        click.echo(line, err=True)
    if not after.differs:
        click.echo("Nothing to write.", err=True)
        return
    click.echo(after.difference, err=True)
    after.write(time_now(), ask=about_clashes(as_json=as_json))
    for path in after.changed_files:
        click.echo(f"Wrote {path}", err=True)


def _ask_lessons(
    lessons: "tuple[Lesson, ...]", played: Sequence[str]
) -> "tuple[tuple[Lesson, ...], tuple[Lesson, ...]]":
    """Ask about each lesson; a single key answers in a terminal, a line elsewhere. Return those taken and refused.

    ``played``: the night's titles.
    """
    from companion.debrief.lessons import lesson_words, more_of
    from companion.debrief.songs_known import KnownLearned

    if lessons:
        click.echo(KEYS, err=True)
    kept: list[Lesson] = []
    refused: list[Lesson] = []
    for at, lesson in enumerate(lessons):
        if isinstance(lesson, KnownLearned):
            known = _ask_known(lesson, played, f"{at + 1} of {len(lessons)}: ")
            kept += [known] if known else []
            continue
        for line in more_of(lesson):
            click.echo(line, err=True)
        key = _key(f"{at + 1} of {len(lessons)}: {lesson_words(lesson)}?")
        if key == "a":
            kept += lessons[at:]
            break
        if key == "q":
            break
        (kept if key == "y" else refused).append(lesson)
    return tuple(kept), tuple(refused)


def _ask_known(lesson: "KnownLearned", played: Sequence[str], number: str) -> "KnownLearned | None":
    """Ask once whether the songs of the night are known now; the player names the exceptions by their numbers."""
    from companion.debrief.lessons import lesson_words, numbers_in

    question = f"{number}{lesson_words(lesson)}? (y, n, or the numbers of those that are not, such as 3,7-9)"
    while True:
        answer = _key_or_line(question).strip().casefold()
        if answer in ("y", "yes", "a"):
            return lesson
        if answer in ("", "n", "no", "q"):
            return None
        try:
            numbers = numbers_in(answer, len(played), "song", "none")
        except CompanionError as no:
            click.echo(no, err=True)
            continue
        return lesson.but([played[one - 1] for one in sorted(numbers)])


def _key_or_line(question: str) -> str:
    """Return the key pressed, or the line that begins with a digit; outside a terminal, the line."""
    if not sys.stdin.isatty():
        return str(click.prompt(question, "", show_default=False, err=True))
    click.echo(f"{question} ", nl=False, err=True)
    key = click.getchar()
    click.echo(key if key.isprintable() else "", nl=not key.isdigit(), err=True)
    return f"{key}{sys.stdin.readline()}" if key.isdigit() else key


def _key(question: str, keys: str = "ynaq", usual: str = "") -> str:
    """Ask until one of the keys is pressed; enter is the ``usual`` one, if there is any."""
    choice = f" [{'/'.join(one.upper() if one == usual else one for one in keys)}] "
    while True:
        if sys.stdin.isatty():
            click.echo(f"{question}{choice}", nl=False, err=True)
            answer = click.getchar()
            click.echo(answer if answer.isprintable() else "", err=True)
        else:
            answer = click.prompt(question, usual or None, prompt_suffix=choice, show_default=False, err=True)
        key = answer.strip()[:1].casefold() or usual
        if key and key in keys:
            return str(key)


@click.command(epilog='Example: companion songbook shows/pier-street.yaml --only "Rope Walk Shuffle"')
@SHOW
@click.option(
    "--into",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="The songbook; default: songbook.yaml beside the show.",
)
@click.option("--only", multiple=True, metavar="TITLE", help="Only this song. Repeatable.")
@click.option(
    "--keep",
    type=click.Choice(["band", "everyone", "show"]),
    help="Who your version is for, if the songbook has another; asks nothing.",
)
@YES
@JSON
def songbook(
    show: Path, into: Path | None, only: tuple[str, ...], keep: str | None, *, yes: bool, as_json: bool
) -> None:
    """Put a show's songs into the songbook, for the next gig."""
    from companion.debrief.called_songs import called_words
    from companion.debrief.into_songbook import KeptFor, kept_unasked, offer, put_in, with_songs_called, write
    from companion.debrief.lessons import songs_called

    book = into or show.with_name("songbook.yaml")
    offered = offer(show, book)
    wanted = {one.casefold() for one in only}
    called = songs_called(show, with_refused=bool(only))
    titles = [*(one.title for one in offered.offers), *(one.title for one in called)]
    if missing := wanted - {one.casefold() for one in titles}:
        known = ", ".join(titles[:MAX_NAMED]) or "none"
        raise click.UsageError(
            f"{show} has no song called {', '.join(sorted(missing))} to put into the songbook. It has: {known}"
        )
    offers = [one for one in offered.offers if not wanted or one.title.casefold() in wanted]
    if yes:
        asked = KeptFor(keep) if keep else None
        choices, rest = {one.name: asked or kept_unasked(one, offered.band) for one in offers}, "a"
    else:
        choices, rest = _choose_songs(offers, offered.band, KeptFor(keep) if keep else None)
    called = tuple(one for one in called if not wanted or one.title.casefold() in wanted)
    asks = "{} was called on the night ({}). Put it in?"
    if rest != "a":
        called = tuple(
            one for one in called if not rest and _key(asks.format(one.title, called_words(one)), "yn") == "y"
        )
    changed = with_songs_called(offered, put_in(offered, choices) if choices else (), called)
    write(changed)
    shown = [*(one.title for one in offers if one.name in choices), *(one.title for one in called)]
    if as_json:
        print_json({"songbook": str(book), "songs": shown, "written": bool(changed)})
        return
    if not titles:
        click.echo(f"Every song of {show} is in {book} already.")
    elif shown:
        click.echo(f"{len(shown)} of {len(titles)} songs put into {book}; {show} uses them from there")
    else:
        click.echo(f"{show} unchanged")


def _choose_songs(
    offers: "list[SongOffer]", band: str | None, keep: "KeptFor | None"
) -> "tuple[dict[SongNamed, KeptFor], str]":
    """Ask which songs go into the songbook, and for whom a version that differs is kept.

    Also return the key that answered for all the rest: a, q, or "" if none did.
    """
    from companion.debrief.into_songbook import KeptFor

    choices: dict[SongNamed, KeptFor] = {}
    kinds = {"b": KeptFor.BAND, "e": KeptFor.EVERYONE, "s": KeptFor.SHOW}
    if offers:
        click.echo(KEYS, err=True)
    rest = ""
    for at, one in enumerate(offers, 1):
        adds = f"; it gets {', '.join(one.adds)}" if one.adds else ""
        what = "new" if one.is_new else f"in the songbook{adds}"
        key = rest or _key(f"{at} of {len(offers)}: {one.title} ({what})?")
        rest = key if key in "aq" else ""
        if key == "q":
            break
        if key == "n":
            continue
        kept = keep or KeptFor.SHOW
        if one.differs and keep is None:
            for_band = f"b for {band}, " if band and not one.is_new else ""
            keys = "besn" if for_band else "esn"
            which = "Which is usual? " if "key" in one.differs else ""
            asks = f"   {'; '.join(one.words)}: {which}{for_band}e for everyone, s for this show alone, n to leave it"
            chosen = _key(asks, keys, "s" if "key" in one.differs else "")
            if chosen == "n":
                continue
            kept = kinds[chosen]
        choices[one.name] = kept
    return choices, rest


COMMANDS = (debrief, songbook)
