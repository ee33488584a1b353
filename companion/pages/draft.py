"""A show with a change that is still being typed: read as it would be on disk, written nowhere; what the page says."""

import functools
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.edits import Edit, Remove, SetValue, SongNamed, applied, lines_of_song
from companion.errors import CompanionError
from companion.files import SourceFile
from companion.pages.desk import SetOnDesk, SongOnDesk, Stack
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
from companion.show import Set, Song
from companion.show.show_file import show_in
from companion.stage import Book, make_book

MAX_SONGS: Final = 8  # kept: the ones that are typed in


def drafted(stack: Stack, edits: Sequence[Edit]) -> Stack:
    """Return the show with these edits, each song named as before. Raises CompanionError or FaultyFile."""
    if not edits:
        return stack
    path = str(stack.file.path)
    alone = _read_alone(stack, edits, path)
    if alone is not None:
        return _with_song(stack, *alone)
    read = show_in(SourceFile(path, applied(stack.file.text or "", edits, path)))
    sets = tuple(
        _with_songs(before, one, tuple(one.songs)) for before, one in zip(stack.sets, read.show.sets, strict=True)
    )
    return msgspec.structs.replace(stack, read=read, sets=sets)


def _with_songs(before: SetOnDesk, one: Set, songs: tuple[Song, ...]) -> SetOnDesk:
    same = (msgspec.structs.replace(song, song=new) for song, new in zip(before.songs, songs, strict=True))
    return msgspec.structs.replace(before, one=one, songs=tuple(same))


def _with_song(stack: Stack, named: SongNamed, song: Song) -> Stack:
    """Return the show with another song in the place of one."""
    at = stack.song(named)
    before = stack.sets[at.set_at]
    songs = (*before.one.songs[: at.song_at], song, *before.one.songs[at.song_at + 1 :])
    one = msgspec.structs.replace(before.one, songs=songs)
    sets = (*stack.sets[: at.set_at], _with_songs(before, one, songs), *stack.sets[at.set_at + 1 :])
    show = msgspec.structs.replace(stack.show, sets=tuple(each.one for each in sets))
    return msgspec.structs.replace(stack, read=msgspec.structs.replace(stack.read, show=show), sets=sets)


def _read_alone(stack: Stack, edits: Sequence[Edit], path: str) -> tuple[SongNamed, Song] | None:
    """Return the one song that the edits change, read without the rest of the show; None if it has to be read whole."""
    names = {edit.where[0] if isinstance(edit, SetValue | Remove) else None for edit in edits}
    named = names.pop()
    if names or not isinstance(named, SongNamed):
        return None
    first = SongNamed(named.title)
    here = [
        msgspec.structs.replace(edit, where=(first, *edit.where[1:]))
        for edit in edits
        if isinstance(edit, SetValue | Remove)
    ]
    try:
        read = show_in(SourceFile(path, applied(_lines(stack.file.text or "", named, path), here, path)))
    except CompanionError:  # the whole show says what is wrong, at its place
        return None
    return named, read.show.sets[0].songs[0]


@functools.lru_cache(MAX_SONGS)
def _lines(text: str, named: SongNamed, path: str) -> str:
    """Return a show of one song's lines. Raises CompanionError if it shares lines with others."""
    return "\n".join(("show: one song", "songs:", *lines_of_song(text, named, path), ""))


def parts_while_typed(stack: Stack, book: Book | None, wanted: WantedEdit) -> tuple[Html, ...]:
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
        return (
            tag(
                "p", letter, ": " if letter else " ", words, id=slip_id("chords", one.mark, wanted.section), class_=css
            ),
        ), not letter
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
