"""What a show says about itself, its sets and songs, in the words of a reply."""

from typing import Final

from companion.show import Ending, Set, Show, Song

# Answers that are no value of a key of the show file are in the song's notes, in a line that begins so.
NOTED: Final = {"recording": "version: ", "ending": "ending: "}


def note_of(field: str, value: str) -> str | None:
    """Return the line of the song's notes that holds an answer; None if the answer is a value of its key.

    >>> note_of("ending", "big rock ending"), note_of("ending", "cold")
    ('ending: big rock ending', None)
    """
    is_value = value.startswith(("http", "www.")) if field == "recording" else value in [one.value for one in Ending]
    return None if is_value or field not in NOTED else f"{NOTED[field]}{value}"


def noted(song: Song, field: str) -> str | None:
    """Return the answer that a song's notes hold, as a reply wrote it there."""
    begins = NOTED[field]
    return next(
        (line.removeprefix(begins) for line in (song.notes or "").splitlines() if line.startswith(begins)), None
    )


def show_says(show: Show, set_at: int | None, song: Song | None, field: str) -> object:
    """Return what the show says, as a reply would; None if it says nothing."""
    if song is not None:
        return song_says(song, field)
    if set_at is None or field not in ("starts", "minutes"):
        return {"date": str(show.date) if show.date else None, "venue": show.venue}.get(field)
    one: Set = show.sets[set_at]
    if field == "minutes":
        return one.minutes
    return f"{one.starts_min // 60}:{one.starts_min % 60:02}" if one.starts_min is not None else None


def song_says(song: Song, field: str) -> object:
    """Return what the show says about a song."""
    match field:
        case "key":
            return str(song.key) if song.key else None
        case "record_key":
            return str(song.record_key) if song.record_key else None
        case "tempo":
            return f"{song.tempo_bpm:g}" if song.tempo_bpm else None
        case "meter":
            return str(song.meter) if song.meter else None
        case "length":
            return f"{song.length_s // 60}:{song.length_s % 60:02}" if song.length_s else None
        case "ending":
            return song.ending.value if song.ending else noted(song, field)
        case "chart":
            return song.chart
        case "tacet":
            return song.tacet or None
        case "recording":
            return song.recording or noted(song, field)
        case "starts_with" | "segue":
            said: object = getattr(song, field)
            return said
    return None
