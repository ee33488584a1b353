"""Edits as data: what to change in a player's file, independent of how the file is written."""

import msgspec

from companion.edits.addresses import EditPlace, SectionNamed, SetNamed, SongNamed


class SetValue(msgspec.Struct, frozen=True):
    """Set the value at a place: a text, number, yes or no, list or table. Missing tables on the way are created.

    ``beside``: the place of another edit that this one depends on.
    """

    where: EditPlace
    value: object
    beside: EditPlace | None = None


class Remove(msgspec.Struct, frozen=True):
    """Remove the value at a place with the comment on its line; for a song, also the comments right above it."""

    where: EditPlace


class AddSong(msgspec.Struct, frozen=True):
    """Add a song (a title or a table) to a set, after another song; at the set's end if ``after`` is None.

    Without a set: to the first one.
    """

    song: object
    into: SetNamed | None = None
    after: SongNamed | None = None


class MoveSong(msgspec.Struct, frozen=True):
    """Move a song, with its comments, into a set, after another song; to the set's top if ``after`` is None."""

    song: SongNamed
    into: SetNamed
    after: SongNamed | None = None


class AddSet(msgspec.Struct, frozen=True):
    """Add a set (a table) after another one; as the last if ``after`` is None."""

    table: object
    after: SetNamed | None = None


class AddSection(msgspec.Struct, frozen=True):
    """Add a section (a table) to a song's road map, after another section; at the end if ``after`` is None."""

    song: SongNamed
    section: object
    after: SectionNamed | None = None


class MoveSection(msgspec.Struct, frozen=True):
    """Move a section after another one of its song; to the front if ``after`` is None."""

    song: SongNamed
    section: SectionNamed
    after: SectionNamed | None = None


Edit = SetValue | Remove | AddSong | MoveSong | AddSet | AddSection | MoveSection
