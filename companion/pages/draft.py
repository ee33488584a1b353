"""A show with a change that is still being typed: read as it would be on disk, written nowhere; what the page says."""

from collections.abc import Sequence

import msgspec

from companion.edits import Edit, SongNamed, applied
from companion.errors import CompanionError
from companion.files import SourceFile
from companion.pages.desk import SongOnDesk, Stack
from companion.pages.keyboard_sounds import as_one_text
from companion.pages.markup import Html, tag
from companion.pages.section_fields import (
    LONGEST_MAP,
    ROAD_MAP,
    chords_counted,
    edits_of_field,
    field_of,
    map_text,
    named,
    read_map,
)
from companion.pages.sheet_pictures import pictures_of
from companion.pages.sheet_view import count_html, letter_html, map_slip_html
from companion.pages.song_in_book import for_tonight
from companion.pages.stack_view import slip_id
from companion.pages.wanted import WantedEdit
from companion.show.show_file import show_in
from companion.stage import Book, make_book


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


def said_while_typed(stack: Stack, book: Book | None, wanted: WantedEdit) -> tuple[Html, ...]:
    """Return the parts of the page that a text changes while it is typed: its count, its faults, the pictures.

    While the text cannot be read, the pictures are not among them: they keep the last state that could be.
    """
    one = stack.song(SongNamed(wanted.title, wanted.occurrence))
    if wanted.section is not None:
        named(one.song, wanted.section)
    parts, is_readable = notes_while_typed(one, wanted)
    pictures = _pictures(stack, one, book, wanted) if is_readable else None
    return (*parts, pictures) if pictures is not None else parts


def notes_while_typed(one: SongOnDesk, wanted: WantedEdit) -> tuple[tuple[Html, ...], bool]:
    """Return the notes under a road map or a chord line, its faults at their letters, and whether it can be read."""
    if wanted.field == "chords" and wanted.section is not None:
        words, column = chords_counted(wanted.value, one.song, one.song.road_map[wanted.section])
        letter = None if column is None else letter_html(wanted.value.replace("\n", " "), column)
        css = "slip" if column is not None else "pencil slip"
        return (tag("p", letter, " ", words, id=slip_id("chords", one.mark, wanted.section), class_=css),), not letter
    if wanted.field != ROAD_MAP or wanted.section is not None:
        return (), True
    read = read_map(wanted.value[:LONGEST_MAP], one.song)
    return (map_slip_html(one, wanted.value, read), count_html(one, one.song, read)), not read.faults


def _pictures(stack: Stack, one: SongOnDesk, book: Book | None, wanted: WantedEdit) -> Html | None:
    field = field_of(wanted)
    part = one.song if wanted.section is None else one.song.road_map[wanted.section]
    rig = book.rig if book is not None else None
    try:
        whole = as_one_text(rig, part, wanted, compares=False)
        was = map_text(one.song) if field.key == ROAD_MAP else field.shown(part)
        edits = edits_of_field(stack, one, field, msgspec.structs.replace(whole, was=was))
        draft = drafted(stack, for_tonight(stack, one, edits))
    except CompanionError:
        return None
    there = make_book(draft.show, book.rig)[0] if book is not None else None
    return tag("div", pictures_of(there, draft.song(one.named), wanted.look), id="pictures")
