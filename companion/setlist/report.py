"""The account of an import, as table rows for the terminal and as plain data for --json."""

from companion.setlist.importing import Imported
from companion.setlist.model import LineKind, SetList

HEADS = ("where", "taken for", "understood", "in doubt")


def rows(listed: SetList) -> list[tuple[str, str, str, str]]:
    """Return a row for each line: its position, what it was taken for, what was understood, what is in doubt.

    A line not understood is shown unchanged.
    """
    return [
        (
            str(line.place),
            line.took.value,
            line.text if line.took is LineKind.LEFT else line.says or line.text,
            "; ".join(map(str, line.doubts)),
        )
        for line in listed.lines
    ]


def in_short(listed: SetList) -> str:
    """Return a summary: 24 songs in 2 sets, 3 without a key; 2 lines not understood, kept in the show's notes."""
    songs = [song for one in listed.show.sets for song in one.songs]
    keyless = sum(song.key is None for song in songs)
    parts = [f"{_many(len(songs), 'song')} in {_many(len(listed.show.sets), 'set')}, {keyless or 'none'} without a key"]
    if listed.left:
        parts.append(f"{_many(len(listed.left), 'line')} not understood, kept in the show's notes")
    if listed.set_aside:
        parts.append(f"{_many(len({line.place for line in listed.set_aside}), 'line')} not played, set aside")
    if listed.in_doubt:
        parts.append(f"{_many(len(listed.in_doubt), 'line')} in doubt")
    return "; ".join(parts)


def _many(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


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
        "lines": [dict(zip(("where", "took", "says", "doubts"), row, strict=True)) for row in rows(imported.listed)],
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
