"""What differs between two readings of a show: the parts of a page to put in the place of those that a tab shows."""

from collections.abc import Iterator

from companion.pages.desk import SetOnDesk, SongOnDesk, Stack
from companion.pages.markup import Html, tag
from companion.pages.sheet_view import (
    SheetLook,
    beside_html,
    groups_html,
    map_line_html,
    row_html,
    rows_html,
    sheet_head_html,
)
from companion.pages.stack_view import StackLook, set_html, song_html, tape_html


def changed_on_stack(before: Stack, now: Stack, look: StackLook) -> tuple[Html, ...] | None:
    """Return the parts of the stack that differ; None if it has other sets."""
    if [one.mark for one in before.sets] != [one.mark for one in now.sets]:
        return None
    sets = zip(before.sets, now.sets, strict=True)
    return tuple(part for was, one in sets for part in _changed_in_set(was, one, now, look))


def _changed_in_set(was: SetOnDesk, one: SetOnDesk, now: Stack, look: StackLook) -> Iterator[Html]:
    if [song.mark for song in was.songs] != [song.mark for song in one.songs]:
        yield set_html(one, now, look)
        return
    if was.one != one.one:
        yield tape_html(one, look)  # its times count all songs
    for before, song in zip(was.songs, one.songs, strict=True):
        if before.song != song.song:
            yield song_html(song, now.read.places, look)


def changed_on_sheet(
    before: tuple[Stack, SongOnDesk], now: tuple[Stack, SongOnDesk], look: SheetLook
) -> tuple[Html, ...]:
    """Return the parts of a song's sheet that differ, and those that say what lies outside the show's files."""
    was, one = before[1], now[1]
    always = (beside_html(*now), sheet_head_html(*now, look), tag("div", look.pictures, id="pictures"))
    groups = zip(groups_html(*before, look), groups_html(*now, look), strict=True)
    changed = [then for first, then in groups if first != then]
    line = map_line_html(one, look)
    changed += [line] if line != map_line_html(was, look) else []
    return (*always, *changed, *_changed_rows(was, one, look))


def _changed_rows(was: SongOnDesk, one: SongOnDesk, look: SheetLook) -> Iterator[Html]:
    before, now = was.song.road_map, one.song.road_map
    if len(before) != len(now):
        yield rows_html(one, look)
        return
    yield from (row_html(one, number, look) for number, section in enumerate(now) if section != before[number])
