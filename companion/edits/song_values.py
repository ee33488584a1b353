"""Songs and sets of a show as an edit writes them into its file."""

from typing import Any

import msgspec

from companion.edits.addresses import SetNamed
from companion.edits.rendering import OneLine
from companion.files import Form
from companion.show import Section, Set, Show, Song
from companion.show.road_map_text import in_shorthand
from companion.show.show_file import SECTION, SONG
from companion.show.show_text import SPECIAL, write_show
from companion.show.songbook import ROAD_MAP


def set_named(show: Show, at: int) -> SetNamed:
    """Return the name by which an edit finds a set of this show."""
    names = [one.name for one in show.sets]
    return SetNamed(names[at], names[: at + 1].count(names[at]))


def song_value(song: Song) -> dict[str, object]:
    """Return a song as an edit writes it, without defaults."""
    table = _value(SONG, song)
    if song.road_map:
        short = in_shorthand(song.road_map)
        table[ROAD_MAP] = (
            short
            if isinstance(short, str)
            else [line or _written_out(one) for line, one in zip(short, song.road_map, strict=True)]
        )
    return table


def _written_out(section: Section) -> OneLine:
    return OneLine({key: _in_braces(value) for key, value in _value(SECTION, section).items()})


def _value(form: Form[Any], struct: msgspec.Struct) -> dict[str, object]:
    defaults = dict(zip(reversed(struct.__struct_fields__), reversed(struct.__struct_defaults__), strict=False))
    found = {}
    for key, field in form.fields.items():
        value = getattr(struct, field.name, None)
        if value is None or value == defaults.get(field.name) or field.name == ROAD_MAP:
            continue
        found[key] = plain_value(field.name, value)
    return found


def plain_value(field: str, value: Any) -> object:  # noqa: ANN401  any field of the show
    """Return a value of the show as an edit writes it."""
    if field == "sounds":
        if len(value) == 1 and value[0].keyboard is None:
            return value[0].sound
        return OneLine({call.keyboard: call.sound for call in value})
    if field in ("length_s", "starts_min"):
        return SPECIAL[field](value).strip('"')
    if field == "tempo_bpm":
        return int(value) if float(value).is_integer() else float(value)
    if isinstance(value, bool | int):
        return value
    return str(getattr(value, "value", value))


def _in_braces(value: object) -> object:
    return OneLine(value) if isinstance(value, dict) else value


def song_lines(song: Song) -> list[str]:
    """Return a new song's lines, unindented from its dash on."""
    lines = write_show(Show("x", sets=(Set("x", songs=(song,)),))).splitlines()
    first = next(at for at, line in enumerate(lines) if line.lstrip().startswith("- title:"))
    indent = len(lines[first]) - len(lines[first].lstrip())
    return [line[indent:] for line in lines[first:]]
