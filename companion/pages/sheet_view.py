"""The sheet of one song: all its fields, its road map as one text and as rows, what is missing, and the pictures."""

from collections.abc import Iterable, Iterator
from typing import Final

import msgspec

from companion.pages.desk import SongOnDesk, Stack
from companion.pages.field_view import AS_TYPED, FieldPlace, field_html
from companion.pages.files_beside import FilesBeside, note_on_file, offered_lists
from companion.pages.heard_drafts import heard_html
from companion.pages.key_tab import key_tab
from companion.pages.keyboard_sounds import sound_fields, sound_lists
from companion.pages.markup import Html, fragment, tag
from companion.pages.section_fields import SECTION_FIELDS, MapRead, counted, map_text
from companion.pages.song_fields import FIELDS, SongField
from companion.pages.stack_view import StackLook, lacks_of
from companion.rig import Rig
from companion.show import Section, Song

GROUPS: Final = (
    ("The song", ("title", "artist", "key", "record_key", "fingered_in", "chords_in", "tempo", "meter", "length")),
    (
        "On the night",
        ("starts_with", "count_off", "begins", "steps", "ending", "segue", "sound", "change", "first_words", "tacet"),
    ),
    ("For learning", ("known", "hard", "recording", "chart", "notes")),
)
FIELD_OF: Final = {
    "key": "key",
    "sound": "sound",
    "who starts": "starts_with",
    "road map": "road_map",
    "whom to watch": "road_map",
    "tempo": "tempo",
    "ending": "ending",
    "count-off": "count_off",
    "length": "length",
}
USUAL: Final = ("section", "bars", "passes", "sound", "feature", "open", "tacet")
MORE: Final = ("key", "watch", "cue", "first_words", "hits", "change", "ending")


ROW: Final = "@@"
"""Stands for a row's number, from 0, in what the page copies; ROW_SHOWN for the number that is shown, from 1."""
ROW_SHOWN: Final = "@+"


class SheetLook(msgspec.Struct, frozen=True):
    """What a sheet is shown with. ``pictures`` is drawn already; ``book`` says which songbook the song is from.

    ``more``: the rows that are open in the tab.
    """

    stack: StackLook
    pictures: Html | None = None
    book: Html | None = None
    rig: Rig | None = None
    beside: FilesBeside = FilesBeside()
    more: frozenset[int] = frozenset()


def sheet_html(stack: Stack, one: SongOnDesk, look: SheetLook) -> Html:
    """Return the sheet of a song."""
    return tag(
        "main",
        beside_html(stack, one),
        tag(
            "div",
            tag(
                "form",
                sheet_head_html(stack, one, look),
                *groups_html(stack, one, look),
                heard_html(is_hidden=True),
                _map(one, look),
                class_="sheet",
                attrs=AS_TYPED,
            ),
            tag("div", look.pictures, id="pictures"),
            class_="beside",
        ),
        tag("datalist", *(tag("option", value=name) for name in look.stack.sounds), id="sounds"),
        *sound_lists(look.rig),
        *offered_lists(look.beside),
        _row_more_html(one, look),
        id="stack",
        data_column=look.stack.column,
        data_song=one.mark,
        data_name=one.named.title,
        data_occurrence=one.named.occurrence,
    )


def beside_html(stack: Stack, one: SongOnDesk) -> Html:
    """Return the ways from a sheet to the stack and to the songs beside it."""
    songs = stack.songs
    number = songs.index(one)
    before = songs[number - 1] if number else None
    after = songs[number + 1] if number + 1 < len(songs) else None
    return tag(
        "nav",
        tag("a", "Back to the stack", href="#"),
        tag("a", f"Before: {before.song.title}", href=f"#{before.mark}", id="song-before") if before else None,
        tag("a", f"Next: {after.song.title}", href=f"#{after.mark}", id="song-after") if after else None,
        aria_label="Songs",
        id="songs-beside",
    )


def sheet_head_html(stack: Stack, one: SongOnDesk, look: SheetLook) -> Html:
    """Return the head of a sheet: key, title, what is missing, and where else the song is."""
    song = one.song
    lacks = () if song.tacet else lacks_of(song, stack.read.places)
    missing = (
        tag("li", tag("a", f"{word}?", href=f"#{one.mark}/{FIELD_OF[word]}")) for word in lacks if word in FIELD_OF
    )
    return tag(
        "header",
        key_tab(song.key),
        tag("h2", song.title, id="sheet-title", tabindex="-1"),
        tag("ul", *missing, class_="pencil lacks", aria_label="Still missing") if lacks else None,
        _elsewhere(stack, one),
        look.book,
        look.stack.doubts.get(one.mark),
        id="sheet-head",
    )


def _elsewhere(stack: Stack, one: SongOnDesk) -> Html | None:
    """Return the way to the same song's other sheets in this show; each has fields of its own."""
    same = [each for each in stack.songs if each.named.title == one.named.title and each.named != one.named]
    if not same:
        return None
    links = (tag("a", stack.sets[each.set_at].one.name, href=f"#{each.mark}") for each in same)
    return tag("p", "Also played in ", *(part for link in links for part in (link, " ")), class_="elsewhere")


def groups_html(stack: Stack, one: SongOnDesk, look: SheetLook) -> tuple[Html, ...]:
    """Return the song's own fields, group by group."""
    return tuple(_group(stack, one, number, look) for number in range(len(GROUPS)))


def _group(stack: Stack, one: SongOnDesk, number: int, look: SheetLook) -> Html:
    words, keys = GROUPS[number]

    def fields() -> Iterator[Html]:
        for key in keys:
            note = note_on_file(stack, one, key, look.beside) if key in ("chart", "recording") else None
            for field in _all(key, one.song, look):
                yield _field(one, field, field.shown(one.song), look.stack, note=note)

    return tag(
        "fieldset",
        tag("legend", words),
        *fields(),
        tag("button", "Tap the tempo", type="button", data_tap=f"tempo-{one.mark}")
        if "tempo" in keys and not look.stack.is_read_only
        else None,
        class_="fields",
        id=f"group-{number}",
    )


def _all(key: str, part: Song | Section, look: SheetLook) -> tuple[SongField, ...]:
    """Return the fields of a key: one, or for sounds one for each keyboard."""
    fields = FIELDS if isinstance(part, Song) else SECTION_FIELDS
    return (sound_fields(look.rig, part) if key == "sound" else ()) or (fields[key],)


def _field(
    one: SongOnDesk,
    field: SongField,
    now: str,
    look: StackLook,
    section: int | str | None = None,
    note: Html | None = None,
) -> Html:
    """Return one labelled field, of the song or of one of its sections."""
    return field_html(field, now, FieldPlace(one.mark, section, is_read_only=look.is_read_only), note)


# ------------------------------------------------------------------ the road map


def _map(one: SongOnDesk, look: SheetLook) -> Html:
    return tag(
        "fieldset",
        tag("legend", "Road map"),
        map_line_html(one, look),
        rows_html(one, look),
        class_="map",
    )


def map_line_html(one: SongOnDesk, look: SheetLook) -> Html:
    """Return the road map as one text, with the notes under it."""
    now = map_text(one.song)
    lost = bool(one.song.road_map) and not now
    name = f"road_map-{one.mark}"
    return tag(
        "div",
        tag(
            "label",
            tag("span", "As in the margin: Intro 4*, Verse 16, Chorus 8 x2 @strings, Outro open"),
            " ",
            tag(
                "textarea",
                now,
                id=name,
                data_was=now or None,
                data_field="road_map",
                rows=max(7, min(now.count("\n") + 2, 16)),
                readonly=look.stack.is_read_only or lost,
                aria_describedby=f"{name}-slip {name}-count",
            ),
        ),
        tag("p", "One text cannot hold all of this road map: edit its rows.", class_="pencil") if lost else None,
        tag("p", id=f"{name}-slip", class_="slip"),
        tag("p", counted(one.song, one.song.road_map), id=f"{name}-count", class_="pencil"),
        class_="field wide",
        id="map-line",
    )


def rows_html(one: SongOnDesk, look: SheetLook) -> Html:
    """Return the road map as rows, one a section."""
    count = len(one.song.road_map)
    return tag(
        "div",
        tag("ol", *(row_html(one, number, look) for number in range(count))),
        _button("add-row", "Add a section", count - 1) if not look.stack.is_read_only else None,
        id="rows",
    )


def row_html(one: SongOnDesk, number: int, look: SheetLook) -> Html:
    """Return a section's row. Rarely used fields appear if they are filled in, or if the tab shows them."""
    section = one.song.road_map[number]
    has_more = any(SECTION_FIELDS[key].shown(section) for key in MORE)
    return tag(
        "li",
        *_row_fields(one, number, section, (*USUAL, "chords"), look),
        tag(
            "details",
            tag("summary", "More" if not has_more else "More: key, watch, cue, words, hits, ending"),
            _more_html(one, number, section, look) if has_more or number in look.more else None,
            id=f"more-{number}-{one.mark}",
            open=has_more,
        ),
        class_="row fields",
        id=f"row-{number}-{one.mark}",
        data_row=number,
        aria_label=f"Section {number + 1}: {section.name}",
    )


def _row_fields(
    one: SongOnDesk, number: int | str, section: Section, keys: Iterable[str], look: SheetLook
) -> Iterator[Html]:
    for key in keys:
        for field in _all(key, section, look):
            yield _field(one, field, field.shown(section), look.stack, number)


def _more_html(one: SongOnDesk, number: int | str, section: Section, look: SheetLook) -> Html:
    moves = (
        _button("row-up", "Up", number),
        _button("row-down", "Down", number),
        _button("add-row", "One more after it", number),
        _button("row-out", "Take out", number),
    )
    return fragment(
        tag("div", *_row_fields(one, number, section, MORE, look), class_="fields"),
        tag("div", *moves, class_="buttons") if not look.stack.is_read_only else None,
    )


def _row_more_html(one: SongOnDesk, look: SheetLook) -> Html:
    """Return what a row rarely has, empty: the page copies it into a row that is opened, with its number for ROW."""
    return tag("template", _more_html(one, ROW, Section(""), look), id="row-more")


def _button(does: str, label: str, number: int | str) -> Html:
    shown = number + 1 if isinstance(number, int) else ROW_SHOWN
    return tag(
        "button", label, tag("span", f" {shown}", class_="unseen"), type="button", data_row_do=does, data_at=number
    )


def map_slip_html(one: SongOnDesk, typed: str, read: MapRead) -> Html:
    """Return the faults of a road map that is being typed, each at its letter."""
    name = f"road_map-{one.mark}"
    lines = typed.split("\n")

    def line_words(line: int) -> tuple[str, ...]:
        return (f"Line {line}: ",) if len(lines) > 1 else ()

    slips = [
        tag(
            "li",
            *line_words(fault.line),
            _at_letter(lines, fault.line, fault.column),
            f": {fault.problem}",
            *_write(fault.write),
        )
        for fault in (*read.faults, *read.warnings)[:5]
    ]
    return (
        tag("p", *slips, id=f"{name}-slip", class_="slip")
        if not slips
        else tag("div", tag("ul", *slips), id=f"{name}-slip", class_="slip")
    )


def count_html(one: SongOnDesk, song: Song, read: MapRead) -> Html:
    """Return the count below a road map that is being typed."""
    return tag("p", counted(song, read.sections), id=f"road_map-{one.mark}-count", class_="pencil")


def letter_html(text: str, column: int) -> Html:
    """Return a text with the letter at a column (from 0) marked."""
    return _at_letter([text], 1, column + 1)


def _at_letter(lines: list[str], line: int, column: int) -> Html:
    text = lines[line - 1] if 0 < line <= len(lines) else ""
    at = column - 1
    start, end = max(0, at - 12), at + 12
    letter = text[at : at + 1] or " "
    before = ("…" if start else "") + text[start:at]
    return tag("code", before, tag("mark", letter), text[at + 1 : end], "…" if end < len(text) else "")


def _write(words: str) -> tuple[Html | str, ...]:
    return (". Write: ", tag("b", words)) if words else ()


def pictures_html(stage: Html | None, chart: tuple[Html, ...], look: dict[str, str]) -> Html:
    """Return the stage screen of a moment, and the printed chart; ``look`` is what the stage is asked to show."""
    rounds = int(look.get("rounds", "0"))
    light = look.get("light", "dark")
    return fragment(
        tag(
            "section",
            tag("h3", f"On stage: {look['words']}"),
            tag("div", stage or tag("p", "nothing to show", class_="pencil"), class_="stage"),
            tag(
                "p",
                tag("button", "Up next", type="button", data_look="section", data_value=""),
                tag("button", f"Round {rounds + 2}", type="button", data_look="rounds", data_value=rounds + 1)
                if look.get("open")
                else None,
                tag(
                    "button",
                    "Bright day" if light == "dark" else "Dark stage",
                    type="button",
                    data_look="light",
                    data_value="day" if light == "dark" else "dark",
                ),
                class_="buttons",
            ),
            id="stage-picture",
            aria_live="off",
        ),
        tag("section", tag("h3", "Printed"), *(tag("div", page, class_="leaf-picture") for page in chart))
        if chart
        else None,
    )
