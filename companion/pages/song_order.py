"""The order of the stack: a song moves, is added, copied to the encore, or taken out and kept aside."""

import re
from collections.abc import Sequence
from contextlib import suppress
from typing import Any, Final

import msgspec

from companion.edits import (
    AddSet,
    AddSong,
    ArrangedSet,
    CannotArrange,
    Edit,
    FileText,
    MoveSong,
    NewText,
    Remove,
    applied,
    arranged,
    no_file,
    open_text,
)
from companion.edits.addresses import found_song
from companion.edits.spans import plainly_of, spans_of
from companion.errors import CompanionError
from companion.pages.desk import SetOnDesk, SongOnDesk, Stack
from companion.setlist.revising.dropped_songs import shelf_path, with_songs

ENCORE: Final = re.compile(r"encore|zugabe|bis\b", re.IGNORECASE)
NUMBERS: Final = ("tempo", "known", "hard", "bars", "passes")
YES_OR_NO: Final = ("open", "tacet", "chart", "feature")


class NewPlace(msgspec.Struct, frozen=True):
    """Where a song goes: a set, and the song that it then follows; None for the set's top."""

    into: SetOnDesk
    after: SongOnDesk | None


def place_of(stack: Stack, set_mark: str, after_mark: str) -> NewPlace:
    """Return the place that a page names by its ids. Raises CompanionError."""
    into = next((one for one in stack.sets if one.mark == set_mark), None)
    if into is None:
        raise CompanionError("that set is no longer in this show")
    after = next((song for song in into.songs if song.mark == after_mark), None)
    if after_mark and after is None:
        raise CompanionError("that song is no longer in this set")
    return NewPlace(into, after)


def place_beside(stack: Stack, song: SongOnDesk, by: int) -> NewPlace:
    """Return the place one up (-1) or down (1), over a set's edge too. Raises CompanionError at the show's edge."""
    here = stack.sets[song.set_at]
    at = song.song_at + by
    if 0 <= at < len(here.songs):
        before = at if by > 0 else at - 1
        return NewPlace(here, here.songs[before] if before >= 0 else None)
    number = song.set_at + by
    if not 0 <= number < len(stack.sets):
        raise CompanionError(f"{song.song.title} is {'first' if by < 0 else 'last'} already")
    into = stack.sets[number]
    return NewPlace(into, into.songs[-1] if by < 0 and into.songs else None)


def moved_text(stack: Stack, song: SongOnDesk, place: NewPlace) -> str:
    """Return the show's text with a song at its new place; with its lines and comments. Raises CompanionError."""
    text, path = stack.file.text or "", str(stack.file.path)
    if place.after is not None and place.after.named == song.named:
        return text
    if place.into.songs:
        after = place.after.named if place.after else None
        return applied(text, [MoveSong(song.named, place.into.named, after)], path)
    order = [(one, [other for other in one.songs if other.named != song.named]) for one in stack.sets]
    return arranged(
        text,
        tuple(
            ArrangedSet(one.named, tuple(other.named for other in ([song] if one is place.into else songs)))
            for one, songs in order
        ),
        path,
    ).text


def says_moved(song: SongOnDesk, place: NewPlace) -> str:
    """Return the words of a move in undo and redo."""
    if all(one.named != song.named for one in place.into.songs):
        return f"moved {song.song.title} to {place.into.one.name}"
    where = f"after {place.after.song.title}" if place.after else f"to the top of {place.into.one.name}"
    return f"moved {song.song.title} {where}"


def followed(before: Stack, after: Stack, song: SongOnDesk, place: NewPlace) -> str:
    """Return the id of a moved song: among several of one title, its number may have changed."""
    at = place.after.song_at + 1 if place.after else 0
    number = next(number for number, one in enumerate(before.sets) if one.named == place.into.named)
    if number == song.set_at and song.song_at < at:
        at -= 1
    return after.sets[number].songs[at].mark


def added(stack: Stack, set_mark: str, title: str) -> tuple[Edit, ...]:
    """Return the edits that add a song at a set's end. Raises CompanionError."""
    title = title.strip()
    if not title or len(title) > 200 or not title.isprintable():
        raise CompanionError("a song needs a title of one line")
    return (AddSong(title, place_of(stack, set_mark, "").into.named),)


def copied_to_encore(stack: Stack, song: SongOnDesk) -> tuple[Edit, ...]:
    """Return the edits that put a song into the encore once more; the encore is made if there is none."""
    root = spans_of(stack.file.text or "", str(stack.file.path))
    same = natural(plainly_of(found_song(root, song.named)[1]))
    encore = next((one for one in stack.sets if ENCORE.search(one.one.name)), None)
    if encore is not None:
        return (AddSong(same, encore.named),)
    return (AddSet({"set": "Encore", "songs": [same]}),)


def natural(value: Any, key: str = "") -> object:  # noqa: ANN401  lists and tables of texts
    """Return plain texts with numbers and yes or no as such, so that they are written without quotes."""
    if isinstance(value, dict):
        return {name: natural(one, name) for name, one in value.items()}
    if isinstance(value, list):
        return [natural(one) for one in value]
    if key in NUMBERS and re.fullmatch(r"0|[1-9][0-9]{0,3}", value):
        return int(value)
    if key in NUMBERS and re.fullmatch(r"[1-9][0-9]{0,3}\.[0-9]{1,3}", value):
        return float(value)
    return {"yes": True, "no": False}.get(value, value) if key in YES_OR_NO else value


def taken_out(stack: Stack, song: SongOnDesk) -> Sequence[NewText]:
    """Return the texts of the show without a song, and of the songs kept aside with it. Raises CompanionError."""
    text, path = stack.file.text or "", str(stack.file.path)
    show = NewText(stack.file, applied(text, [Remove((song.named,))], path))
    order = tuple(
        ArrangedSet(one.named, tuple(other.named for other in one.songs if other.named != song.named))
        for one in stack.sets
    )
    kept: tuple[tuple[str, list[str]], ...] = ()
    with suppress(CannotArrange):
        kept = tuple((song.song.title, list(lines)) for _, lines in arranged(text, order, path).dropped)
    if not kept:
        return (show,)
    shelf = shelf_path(stack.file.path)
    file: FileText = open_text(shelf) if shelf.exists() else no_file(shelf)
    return show, NewText(file, with_songs(file.text or "", str(shelf), kept), stack.file.path)
