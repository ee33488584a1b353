"""A show with a change that is still being typed: read as it would be on disk, written nowhere."""

from collections.abc import Sequence

import msgspec

from companion.edits import Edit, applied
from companion.files import SourceFile
from companion.pages.desk import SongOnDesk, Stack
from companion.show.show_file import show_in


def drafted(stack: Stack, edits: Sequence[Edit]) -> Stack:
    """Return the show with these edits, each song named as before. Raises CompanionError or FaultyFile."""
    if not edits:
        return stack
    path = str(stack.file.path)
    read = show_in(SourceFile(path, applied(stack.file.text or "", edits, path)))
    sets = tuple(
        msgspec.structs.replace(
            before,
            one=one,
            songs=tuple(
                SongOnDesk(song.named, new, song.set_at, song.song_at)
                for song, new in zip(before.songs, one.songs, strict=True)
            ),
        )
        for before, one in zip(stack.sets, read.show.sets, strict=True)
    )
    return msgspec.structs.replace(stack, read=read, sets=sets)
