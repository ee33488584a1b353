"""The command that rates a show's songs by single keys, one song at a time, large enough to read from the keys."""

import shutil
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from companion.commands.terminal import SHOW
from companion.errors import CompanionError
from companion.how_many import how_many
from companion.shown import harmless, unguarded

if TYPE_CHECKING:
    from companion.planning.rating import Rating, RatingStep

CLEAR: Final = "\x1b[2J\x1b[H"  # ECMA-48: erase the page, cursor to the top
USUAL_SOUNDS: Final = (  # offered on a General MIDI board, whose list has 128 (common practice, no source)
    *("piano", "electric piano", "organ", "strings", "brass", "synth pad", "synth lead", "clavinet", "bright piano"),
    *("choir", "synth brass", "accordion", "harpsichord", "vibes", "flute", "synth bass", "church organ", "marimba"),
)
WHAT: Final = {
    "known": "How well do you know it?",
    "hard": "How hard is it?",
    "sound": "Which sound begins it?",
}


@click.command(epilog="Example: companion rate shows/pier-street.yaml")
@SHOW
@click.option(
    "--rig", metavar="FILE", type=click.Path(path_type=Path), help="Offer the sounds of this rig; default: as for play."
)
def rate(show: Path, rig: Path | None) -> None:
    """Rate each song by keystrokes: known, hard, first sound.

    Each song takes the same keys. Each answer is written at once. Stop at any time: the next sitting continues with the
    songs that are still open.
    """
    if not sys.stdin.isatty() or not sys.stdout.isatty():
        raise CompanionError("rate reads single keys, so it needs a terminal. Write: known: 3 and hard: 2 in the file")
    from companion.debrief.last_played import last_played
    from companion.planning.earlier_shows import with_earlier
    from companion.planning.rate_writing import sit_rating
    from companion.planning.rating import rating_of
    from companion.practice_log.logged import show_and_progress
    from companion.screen.terminal_keys import keys_pressed
    from companion.show.titles import folded

    found, progress = show_and_progress(show)
    before = with_earlier(show, found, progress, last_played)[1]
    hints = {one.title: f"{one.known} in {one.source}" for one in before}
    begun = rating_of(found, _sounds(show, rig), {folded(one.title): one.known for one in before})
    if not begun.songs:
        raise CompanionError(f"{show} has no songs to rate")
    over, count = sit_rating(show, begun, keys_pressed(), lambda now, says: _draw(now, says, hints))
    unguarded(sys.stdout).write(CLEAR)
    open_ones = over.open_steps
    rest = f"{open_ones} still open: companion rate {show} continues there" if open_ones else "every song is rated"
    click.echo(f"{how_many(count, 'answer')} written; {rest}")


def _sounds(show: Path, rig: Path | None) -> list[str]:
    """Return the sounds of the rig's keyboards, then the usual ones of a General MIDI board."""
    from companion.rig import read_rig, rig_for

    boards = read_rig(rig_for(show, rig).path).rig.keyboards
    own = [sound.name for board in boards for sound in board.sounds]
    return [*own, *(USUAL_SOUNDS if any(board.general_midi for board in boards) else ())]


def _draw(now: "Rating", says: str, hints: Mapping[str, str]) -> None:
    """Draw one question: the title large, what the show says of the song, the keys."""
    from companion.planning.rating import RATE_KEYS, RatingStep, value_of

    columns = max(40, shutil.get_terminal_size().columns)
    song = now.song
    facts = [f"{rates.value} {_or_open(value_of(song, rates))}" for rates in RatingStep]
    about = [str(song.key)] if song.key else []
    about += [f"{song.tempo_bpm:g}"] if song.tempo_bpm else []
    about += [song.artist] if song.artist else []
    lines = [
        f"{now.number} of {len(now.songs)}  {'  '.join(about)}",
        "",
        *_title(song.title, columns),
        "",
        "   ".join(facts),
        "",
        _question(now.rates, now, hints.get(song.title, "")),
        *_choices(now),
        "",
        says,
    ]
    keys: dict[str, str] = {}
    for key, press in RATE_KEYS.items():
        keys.setdefault(press.value, key)  # the first of several
    labels = [f"{key}: {what}" for what, key in keys.items()]
    screen = unguarded(sys.stdout)
    screen.write(CLEAR + "\n".join(harmless(line) for line in (*lines, *_in_lines(labels, columns))) + "\n")
    screen.flush()


def _title(title: str, columns: int) -> Sequence[str]:
    """Return the title in large letters if the terminal has the blocks for it."""
    from companion.commands.large_title import BLOCKS, large_title

    try:
        "".join(BLOCKS.values()).encode(unguarded(sys.stdout).encoding or "ascii")
    except UnicodeEncodeError:
        return (title,)
    return large_title(title, columns - 1)


def _or_open(value: int | str | None) -> str:
    return "?" if value is None else str(value)


def _question(rates: "RatingStep", now: "Rating", hint: str) -> str:
    if now.is_in_road_map:
        return "Its sound is in the road map, at its first section"
    from companion.show.ratings import RATED, rated

    means = f"  {rated(rates.value)}" if rates.value in RATED else ""
    return f"{WHAT[rates.value]}{means}{f'   ({hint})' if hint and rates.value == 'known' else ''}"


def _choices(now: "Rating") -> list[str]:
    """Return the sounds that the digits choose, three in a line."""
    if now.rates.value != "sound" or now.is_in_road_map:
        return []
    named = [f"{digit} {name}" for digit, name in enumerate(now.offered, start=1)]
    return ["   ".join(f"{name:22}" for name in named[at : at + 3]).rstrip() for at in range(0, len(named), 3)]


def _in_lines(words: Sequence[str], columns: int) -> list[str]:
    """Join words with a dot between, as many in a line as fit."""
    lines: list[str] = []
    for word in words:
        if lines and len(lines[-1]) + len(word) + 3 <= columns:
            lines[-1] += f" · {word}"
        else:
            lines.append(word)
    return lines


COMMANDS = (rate,)
