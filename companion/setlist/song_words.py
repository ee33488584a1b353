"""What was understood of a song, in one line of the account."""

from companion.music import shown_length
from companion.show import Song


def song_words(one: Song, *marks: str) -> str:
    """Return what a song says, with the list's own ``marks`` before its notes.

    >>> song_words(Song("Moth", artist="The Kettles", length_s=185, notes="slowly"), "★")
    'Moth · by The Kettles · 3:05 · ★ · (slowly)'
    """
    parts = [
        one.title,
        one.artist and f"by {one.artist}",
        one.key and f"in {one.key}",
        one.record_key and f"record in {one.record_key}",
        one.tempo_bpm and f"{one.tempo_bpm:g} bpm",
        one.meter and str(one.meter),
        one.length_s and shown_length(one.length_s),
        one.starts_with and f"{one.starts_with} start",
        one.ending and f"ending {one.ending.value}",
        one.chart is not None and f"chart {'yes' if one.chart is True else one.chart or 'no'}",
        *marks,
        one.notes and f"({one.notes})",
    ]
    return " · ".join(str(part) for part in parts if part)
