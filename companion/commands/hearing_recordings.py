"""The command that listens to the recordings of a show and drafts what it heard."""

import importlib.util
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from companion.commands.terminal import JSON, SHOW, print_json, print_outcome, print_table
from companion.errors import CompanionError

if TYPE_CHECKING:
    from companion.audio.heard_draft import SongDraft
    from companion.audio.show_hearing import SongHeard
    from companion.show import Song

HEADS = ("song", "key", "tempo", "meter", "form", "doubts")
NAMES = {"key": "key on the record", "tempo": "tempo", "meter": "meter", "form": "road map", "chords": "chords"}


@click.command(epilog="Example: companion hear shows/pier-street.yaml --song Kettle")
@SHOW
@click.option("--song", metavar="SONG", default="", help='Only these songs: a title, or "set 1".')
@click.option(
    "--downbeat",
    "downbeats",
    metavar="1:12.4",
    multiple=True,
    callback=lambda _context, _option, typed: tuple(_seconds(one) for one in typed),
    help="With --song: a bar begins here in the recording; all bars move with it. Repeatable.",
)
@click.option("--chords", is_flag=True, help="Show each section with its chords.")
@click.option("--yes", is_flag=True, help="Write what is certain into empty fields; ask nothing, name the rest.")
@JSON
def hear(show: Path, song: str, downbeats: tuple[float, ...], *, chords: bool, yes: bool, as_json: bool) -> None:
    """Draft key, tempo, form and chords from the recordings.

    Everything stays on this computer. A minute of music takes about five seconds; each result is kept, so you can
    stop with Ctrl-C and continue later. A draft never replaces what you wrote: it starts from
    your meter, tempo, record key and road map, and from the sections that you tapped with listen --map.
    """
    _require_audio_libraries()
    from companion.audio.show_hearing import songs_with_recordings
    from companion.practice_log.song_progress import named_songs
    from companion.show import read_show

    read = read_show(show).show
    chosen = None
    if song:
        chosen = named_songs(read, song)
        if not chosen:
            raise CompanionError(f"{show} has no song or set like {song!r}")
    if downbeats and (chosen is None or len(chosen) != 1):
        raise CompanionError("--downbeat needs one song. Write: --song and its title")
    songs = songs_with_recordings(read, chosen)
    if not songs:
        raise CompanionError("no song has a recording. Write: recording: and a file beside the show")
    heard = _heard(songs, show, downbeats)
    if as_json:
        print_json([_plain(one) for one in heard])
    else:
        _print(heard, chords=chords or bool(song))
    _land(show, heard, yes=yes, may_ask=not as_json and sys.stdin.isatty())


def _require_audio_libraries() -> None:
    """Raise CompanionError if what hearing needs is not installed."""
    missing = [name for name in ("av", "numpy", "soxr") if importlib.util.find_spec(name) is None]
    if missing:
        raise CompanionError(f"hearing needs {', '.join(missing)}. Write: pip install '.[ears]' in companion's folder")


def _seconds(typed: str) -> float:
    from companion.listening.recording_place import NoPlace, seconds_at

    try:
        return seconds_at(typed)
    except NoPlace as wrong:
        raise click.BadParameter(str(wrong)) from wrong


def _heard(songs: "list[Song]", show: Path, downbeats: tuple[float, ...]) -> "list[SongHeard]":
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeRemainingColumn

    from companion.audio.anchors import Anchors, anchors_of
    from companion.audio.show_hearing import hear_songs
    from companion.listening.map_session import kept_throughs
    from companion.practice_log.records import read_records
    from companion.shown import harmless_line, unguarded

    records = read_records(show).kept

    def anchors(song: "Song") -> Anchors:
        takes = kept_throughs(records, song.title, str(song.recording))
        return anchors_of(song, downbeats, [at_ms / 1000 for take in takes for at_ms in take.firsts])

    heard = []
    columns = (TextColumn("{task.completed}/{task.total}"), BarColumn(), TextColumn("{task.description}"))
    with Progress(
        *columns, TimeRemainingColumn(), console=Console(file=unguarded(sys.stderr)), transient=True
    ) as progress:
        task = progress.add_task("", total=len(songs))
        try:
            for one in hear_songs(
                songs,
                show.resolve().parent,
                lambda song, stage: progress.update(task, description=f"{harmless_line(song.title)}: {stage}"),
                anchors,
            ):
                heard.append(one)
                progress.advance(task)
        except KeyboardInterrupt:
            click.echo(f"Stopped after {len(heard)} of {len(songs)}: run it again to continue", err=True)
    return heard


def _print(heard: "list[SongHeard]", *, chords: bool) -> None:
    from companion.audio.draft_lines import before_bar_one, clock, hints, section_line

    rows = [_row(one) for one in heard]
    print_table(HEADS, rows)
    if not chords:
        return
    for one in heard:
        if one.draft is not None:
            click.echo(f"\n{one.song.title}")
            for section in one.draft.sections:
                click.echo(f"  {clock(section.start_s):>5}  {section_line(section)}  {section.chords}")
            for line in (before_bar_one(one.draft), *hints(one.draft)):
                click.echo(f"  {line}" if line else "", nl=bool(line))


def _row(one: "SongHeard") -> tuple[str, ...]:
    from companion.audio.draft_lines import section_line
    from companion.audio.landing import agreement, key_text

    draft, song = one.draft, one.song
    if draft is None:
        return song.title, "", "", "", "", one.problem
    agreed = agreement(song, one.unaided or draft)
    form = ", ".join(section_line(section) for section in draft.sections)
    if agreed.form is not None:
        form += f" ({100 * agreed.form:.0f} % as written)"
    key = key_text(song, draft)
    if song.record_key is not None and not agreed.key:
        key = f"{(one.unaided or draft).record_key or '?'} (written: {song.record_key})"
    tempo = f"{draft.tempo_bpm:g}" if draft.tempo_bpm else ""
    if song.tempo_bpm is not None and not agreed.tempo:
        tempo += f" (written: {song.tempo_bpm:g})"
    return song.title, key, tempo, draft.meter or "", form, "; ".join(draft.doubts)


def _plain(one: "SongHeard") -> dict[str, object]:
    import msgspec

    from companion.audio.landing import agreement, offered

    found: dict[str, object] = {"title": one.song.title, "problem": one.problem, "seconds": round(one.seconds, 1)}
    if one.draft is not None:
        found["draft"] = msgspec.structs.replace(
            one.draft,
            record_key=str(one.draft.record_key),
            second_key=str(one.draft.second_key),
            sections=tuple(
                {**msgspec.structs.asdict(section), "key": str(section.key) if section.key else None}
                for section in one.draft.sections
            ),
        )
        found["offered"] = offered(one.song, one.draft)
        found["agreement"] = agreement(one.song, one.unaided or one.draft)
    return found


def _land(show: Path, heard: "list[SongHeard]", *, yes: bool, may_ask: bool) -> None:
    """Put drafts into the show: what is sure with ``yes``, else what the player agrees to, song by song."""
    from companion.audio.landing import offered, sure_parts, with_drafts

    drafts = [(one.song, one.draft) for one in heard if one.draft is not None and offered(one.song, one.draft)]
    if not drafts:
        return
    if yes:
        chosen = [(song, draft, sure_parts(draft)) for song, draft in drafts]
        written = with_drafts(show, chosen)
        if written.edits:
            written.write()
        for line in (*written.what, *_left_out(chosen)):
            click.echo(line, err=True)
        click.echo(f"{show} unchanged" if not written.edits else f"Wrote {show}", err=True)
        return
    if not may_ask:
        click.echo("Nothing written; pass --yes to write what is sure", err=True)
        return
    for song, draft in sorted(drafts, key=lambda one: -len(one[1].doubts)):
        parts = _agreed(song, draft)
        if parts is None:
            return
        written = with_drafts(show, [(song, draft, parts)])
        if written.edits:
            written.write()
        print_outcome(show, is_written=bool(written.edits))


def _left_out(chosen: "list[tuple[Song, SongDraft, tuple[str, ...]]]") -> list[str]:
    """Return a line for each song of which something doubtful was not written, and how to answer."""
    from companion.audio.landing import offered

    lines = []
    for song, draft, sure in chosen:
        left = [NAMES[part] for part in offered(song, draft) if part not in sure]
        if left:
            doubts = f" ({'; '.join(draft.doubts)})" if draft.doubts else ""
            lines.append(f"{song.title}: not written, not sure: {', '.join(left)}{doubts}")
    if lines:
        lines.append("Run it again without --yes to hear the doubts and answer")
    return lines


def _agreed(song: "Song", draft: "SongDraft") -> list[str] | None:
    """Ask about each part of a song's draft; return the parts to write, or None to stop."""
    from companion.audio.landing import offered, sure_parts, tonight_too

    sure = sure_parts(draft)
    click.echo(f"\n{song.title}")
    for doubt in draft.doubts:
        click.echo(f"  ? {doubt}")
    parts = []
    if key := tonight_too(song, draft):
        click.echo(f"  The record is in {key}, and tonight's key is not written. Ask the leader.")
        if click.confirm(f"  Do you play it in {key} too?", default=False):
            parts.append("tonight")
    for part, value in offered(song, draft).items():
        click.echo(f"  {NAMES[part]}: " + value.replace("\n", "\n    "))
        answer = click.prompt(
            "  Write it? yes, no, stop",
            default="yes" if part in sure else "no",  # what is in doubt is written only after a yes
            type=click.Choice(["yes", "no", "stop", "y", "n", "s"]),
            show_choices=False,
        )
        if answer[0] == "s":
            return None
        if answer[0] == "y":
            parts.append(part)
    return parts


COMMANDS = (hear,)
