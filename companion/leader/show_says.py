"""What a show says about itself, its sets and songs, in the words of a reply."""

from companion.show import Set, Show, Song


def show_says(show: Show, set_at: int | None, song: Song | None, field: str) -> object:
    """Return what the show says, as a reply would; None where it says nothing."""
    if song is not None:
        return song_says(song, field)
    if set_at is None:
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
        case "tempo":
            return f"{song.tempo_bpm:g}" if song.tempo_bpm else None
        case "meter":
            return str(song.meter) if song.meter else None
        case "length":
            return f"{song.length_s // 60}:{song.length_s % 60:02}" if song.length_s else None
        case "ending":
            return song.ending.value if song.ending else None
        case "chart":
            return song.chart
        case "tacet":
            return song.tacet or None
        case "starts_with" | "recording" | "segue":
            said: object = getattr(song, field)
            return said
    return None
