"""Songs that were called on the night and are in no file yet: what was learned of them, for the songbook."""

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Final

import msgspec

from companion.edits.song_values import song_lines
from companion.errors import CompanionError
from companion.music import shown_length
from companion.setlist.known_songs import FIRST
from companion.setlist.revising.dropped_songs import with_songs
from companion.show import Song, SoundCall, read_show
from companion.show.show_file import book_songs
from companion.show.titles import folded
from companion.stage import AnyEvent, PutIn
from companion.stage.played import SongPlayed

HEADING: Final = "# Songs written once, and used by several shows.\n"
SHORTEST_S: Final = 30  # what was shorter says nothing about the song's length (common practice, no source)


def called_in(events: Iterable[AnyEvent], songs: Sequence[SongPlayed]) -> tuple[Song, ...]:
    """Return the songs that were put in and played, in the key in which they were played, with their lengths."""
    heard = {one.title: one for one in songs}
    found: dict[str, Song] = {}
    for event in events:
        if isinstance(event, PutIn) and (played := heard.get(event.song.title)) is not None:
            length_s = round(played.lasted_ms / 1000)
            key = event.song.key.transposed(played.shift) if event.song.key and played.shift else event.song.key
            found[folded(event.song.title)] = msgspec.structs.replace(
                event.song, key=key, length_s=length_s if length_s >= SHORTEST_S else event.song.length_s
            )
    return tuple(found.values())


def in_no_file(show_path: Path, songs: Sequence[Song]) -> tuple[Song, ...]:
    """Return those of the songs that neither the show nor the songbook beside it has, with sounds for any rig."""
    if not songs:
        return ()
    book = show_path.with_name(FIRST)
    try:
        known = [one for in_set in read_show(show_path).show.sets for one in in_set.songs]
        known += [one for _, one in book_songs(show_path, book)] if book.exists() else []
    except CompanionError:
        return ()  # a file with faults gets no songs
    there, boards = {folded(one.title) for one in known}, _keyboards_in(known)
    return tuple(_for_any_rig(one, boards) for one in songs if folded(one.title) not in there)


def _keyboards_in(songs: Iterable[Song]) -> frozenset[str]:
    """Return the keyboards that the songs name themselves."""
    sounds = (one for song in songs for one in (song.sounds, *(section.sounds for section in song.road_map)))
    return frozenset(folded(call.keyboard) for calls in sounds for call in calls if call.keyboard)


def _for_any_rig(song: Song, boards: frozenset[str]) -> Song:
    """Return the song with its only sound as a bare name: tonight's rig chose the keyboard, and another lacks its name.

    A keyboard that the files name stays, and so do two, which only their names tell apart.
    """
    if len(song.sounds) != 1 or folded(song.sounds[0].keyboard or "") in boards:
        return song
    return msgspec.structs.replace(song, sounds=(SoundCall(song.sounds[0].sound),))


def with_called(text: str, path: Path, songs: Sequence[Song]) -> str:
    """Return a songbook's text with these songs added."""
    newline = "\r\n" if "\r\n" in text else "\n"
    for song in songs:
        text = with_songs((text or HEADING).rstrip() + newline * 2, str(path), [(song.title, song_lines(song))])
    return text


def called_words(song: Song) -> str:
    """Return what was learned of a song, in few words: key Bb, organ, 3:10."""
    sounds = ", ".join(one.sound for one in song.sounds)
    length = shown_length(song.length_s) if song.length_s else ""
    return ", ".join(filter(None, (f"key {song.key}" if song.key else "", sounds, length)))
