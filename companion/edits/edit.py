"""What an edit is: data, which says what should be otherwise in a player's file, and nothing of lines or signs."""

import msgspec

from companion.edits.addresses import SectionNamed, SetNamed, SongNamed, Where


class SetValue(msgspec.Struct, frozen=True):
    """Set the value at a place: a text, number, yes or no, list or table. What leads there is made where it lacks.

    ``beside``: the place of another edit, without which this one makes no sense.
    """

    where: Where
    value: object
    beside: Where | None = None


class Remove(msgspec.Struct, frozen=True):
    """Take out what stands at a place, with the comment on its line; a song also with the comments right above it."""

    where: Where


class AddSong(msgspec.Struct, frozen=True):
    """Add a song (a title or a table) to a set, behind another song; at the set's end where ``after`` is None.

    No set: the first one.
    """

    song: object
    into: SetNamed | None = None
    after: SongNamed | None = None


class MoveSong(msgspec.Struct, frozen=True):
    """Move a song into a set, behind another song; to its top where ``after`` is None. Its comments go with it."""

    song: SongNamed
    into: SetNamed
    after: SongNamed | None = None


class AddSet(msgspec.Struct, frozen=True):
    """Add a set (a table) behind another one; as the last where ``after`` is None."""

    table: object
    after: SetNamed | None = None


class AddSection(msgspec.Struct, frozen=True):
    """Add a section (a table) to a song's road map, behind another section; at its end where ``after`` is None."""

    song: SongNamed
    section: object
    after: SectionNamed | None = None


class MoveSection(msgspec.Struct, frozen=True):
    """Move a section behind another one of its song; to the front where ``after`` is None."""

    song: SongNamed
    section: SectionNamed
    after: SectionNamed | None = None


Edit = SetValue | Remove | AddSong | MoveSong | AddSet | AddSection | MoveSection
