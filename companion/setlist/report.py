"""The account of an import, as table rows for the terminal and as plain data for --json."""

import itertools

from companion.how_many import how_many
from companion.setlist.imported import Imported
from companion.setlist.list_questions import questions_of
from companion.setlist.model import LineKind, ListLine, SetList, SourceLine

FOLDED = 4  # lines in a row that are set aside for the same reason
HEADS = ("where", "taken for", "understood", "in doubt")


def rows(listed: SetList) -> list[tuple[str, str, str, str]]:
    """Return a row for each line: its position, what it was taken for, what was understood, what is in doubt.

    A line not understood is shown unchanged. Many lines that are set aside for the same reason take one row.
    """
    reasons = {line.place: line.reason for line in listed.set_aside}
    found: list[tuple[str, str, str, str]] = []
    for reason, lines in itertools.groupby(listed.lines, key=lambda line: _folds_by(line, reasons)):
        run = list(lines)
        if reason and len(run) >= FOLDED:
            where = f"{run[0].place} to {run[-1].place.line}"
            found.append((where, LineKind.ASIDE.value, f"{reason}: {how_many(len(run), 'line')}", ""))
        else:
            found += [_row(line) for line in run]
    return found


def _folds_by(line: ListLine, reasons: dict[SourceLine, str]) -> str:
    """Return why a line is set aside; "" if it is played."""
    return reasons.get(line.place, "") if line.took is LineKind.ASIDE else ""


def _row(line: ListLine) -> tuple[str, str, str, str]:
    says = line.text if line.took is LineKind.LEFT else line.says or line.text
    return str(line.place), line.took.value, says, "; ".join(map(str, line.doubts))


def in_short(listed: SetList) -> str:
    """Return a summary: 24 songs in 2 sets, 3 without a key; 2 lines not understood, kept in the show's notes."""
    songs = [song for one in listed.show.sets for song in one.songs]
    keyless = sum(song.key is None for song in songs)
    sets = how_many(len(listed.show.sets), "set")
    parts = [f"{how_many(len(songs), 'song')} in {sets}, {keyless or 'none'} without a key"]
    in_part = sum(bool(line.left_words) for line in listed.left)
    if left := len(listed.left) - in_part:
        parts.append(f"{how_many(left, 'line')} not understood, kept in the show's notes")
    if in_part:
        parts.append(f"other words of {how_many(in_part, 'line')} kept in the show's notes")
    if listed.set_aside:
        parts.append(f"{how_many(len({line.place for line in listed.set_aside}), 'line')} set aside as not played")
    if questions := len(questions_of(listed)):
        parts.append(how_many(questions, "question"))
    return "; ".join(parts)


def known_text(imported: Imported) -> str | None:
    """Return how many songs of a new show come from a songbook, and how many keys are missing then."""
    if not imported.known:
        return None
    keyless = sum(song.key is None for one in imported.show.sets for song in one.songs)
    listed = sum(song.key is None for one in imported.listed.show.sets for song in one.songs)
    left = f"{keyless} of {listed} missing keys still open" if keyless else "no key is missing any more"
    stay = f": {left}" if listed else ""
    return f"{how_many(len(imported.known), 'song')} known from your songbook{stay}"


def plain(imported: Imported) -> dict[str, object]:
    """Return the result of an import as plain data."""
    return {
        "show": imported.show_path,
        "new": imported.is_new,
        "written": imported.is_written,
        "sets": [
            {
                "set": one.name,
                "songs": [{"title": song.title, "key": str(song.key) if song.key else None} for song in one.songs],
            }
            for one in imported.show.sets
        ],
        "lines": [
            dict(zip(("where", "took", "says", "doubts"), row, strict=True)) for row in map(_row, imported.listed.lines)
        ],
        "doubts": list(map(str, imported.listed.doubts)),
        "differences": [
            {
                "differs": one.differs.value,
                "group": one.group,
                "title": one.title,
                "says": one.says,
                "from": one.before,
                "to": one.after,
            }
            for one in imported.differences
        ],
        "dropped_to": imported.dropped_to,
        "kept_beside": imported.kept_beside,
    }
