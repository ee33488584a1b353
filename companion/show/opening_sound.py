"""The sounds that a song begins with."""

from companion.show.model import Song


def first_sounds(song: Song) -> tuple[str, ...]:
    """Return the sounds that a song begins with: those of its first section, else its own."""
    first = next((section for section in song.road_map if not section.tacet), None)
    calls = first.sounds if first and first.sounds else song.sounds
    return tuple(call.sound for call in calls)
