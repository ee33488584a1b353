"""Which sound is on in each section, by the names that the show gives, without a rig."""

from companion.show.model import Section, Song, SoundCall


def sounds_on(song: Song) -> tuple[tuple[SoundCall, ...], ...]:
    """Tell the sounds of each section of the road map, in written order; one without a road map has one.

    A section's own; else that of the last section of the same name; else the song's; else the section before. Each
    keyboard has its own, and a bare name counts as one more keyboard, since only the rig knows which it is.
    """
    own_of_song = _by_keyboard(song.sounds)
    of_name: dict[str, dict[str | None, SoundCall]] = {}
    before = own_of_song
    found: list[tuple[SoundCall, ...]] = []
    for section in song.road_map or (Section(name=""),):
        name = section.name.casefold()
        before = {**before, **own_of_song, **of_name.get(name, {}), **_by_keyboard(section.sounds)}
        of_name[name] = before
        found.append(tuple(before.values()))
    return tuple(found)


def _by_keyboard(calls: tuple[SoundCall, ...]) -> dict[str | None, SoundCall]:
    return {call.keyboard: call for call in calls}
