"""The writer of show files; its text reads back to an equal show."""

from collections.abc import Callable
from typing import Any, Final

import msgspec

from companion.files import Form
from companion.files.scalars import spoken
from companion.music import shown_length
from companion.show.model import PracticeTime, Set, Show, Song, SoundCall
from companion.show.practice_time import written
from companion.show.road_map_text import in_shorthand
from companion.show.show_file import SECTION, SET, SHOW, SONG


def write_show(show: Show) -> str:
    """Return the text of a show file that reads back to an equal show. Songs from a songbook are written out."""
    lines = _keys(SHOW, show, "")
    if show.sets:
        lines.append("sets:")
        for one in show.sets:
            lines += _dashed(_set(one), "  ")
    return "\n".join(lines) + "\n"


def _set(one: Set) -> list[str]:
    lines = _keys(SET, one, "")
    if one.songs:
        lines.append("songs:")
        for song in one.songs:
            lines += _dashed(_song(song), "  ")
    return lines


def _song(song: Song) -> list[str]:
    lines = _keys(SONG, song, "")
    if not song.road_map:
        return lines
    short = in_shorthand(song.road_map)
    if isinstance(short, str):
        return [*lines, *f"road_map: {spoken(short)}".split("\n")]
    lines.append("road_map:")
    for line, section in zip(short, song.road_map, strict=True):
        braces = f"{{{', '.join(_keys(SECTION, section, '', in_braces=True))}}}"
        lines.append(f"  - {spoken(line, in_braces=True) if line else braces}")
    return lines


def _keys(form: Form[Any], struct: msgspec.Struct, indent: str, *, in_braces: bool = False) -> list[str]:
    """Write each key whose value is not the struct's default, except those written below it."""
    defaults = dict(zip(reversed(struct.__struct_fields__), reversed(struct.__struct_defaults__), strict=False))
    lines = []
    for key, field in form.fields.items():
        value = getattr(struct, field.name, None)
        if value is None or value == defaults.get(field.name) or field.name in ("sets", "songs", "road_map"):
            continue
        text = SPECIAL[field.name](value) if field.name in SPECIAL else spoken(value, in_braces=in_braces)
        lines += f"{indent}{key}: {text}".split("\n")
    return lines


def _sounds(calls: tuple[SoundCall, ...]) -> str:
    if len(calls) == 1 and calls[0].keyboard is None:
        return spoken(calls[0].sound, in_braces=True)
    pairs = [f"{spoken(call.keyboard, in_braces=True)}: {spoken(call.sound, in_braces=True)}" for call in calls]
    return f"{{{', '.join(pairs)}}}"


def _practice(time: PracticeTime) -> str:
    return f"{{{', '.join(f'{key}: {spoken(value, in_braces=True)}' for key, value in written(time).items())}}}"


SPECIAL: Final[dict[str, Callable[[Any], str]]] = {
    "sounds": _sounds,
    "practice": _practice,
    "length_s": lambda seconds: f'"{shown_length(seconds)}"',  # in quotes, because YAML 1.1 reads a bare one in base 60
    "starts_min": lambda minutes: f'"{minutes // 60}:{minutes % 60:02}"',
    "tempo_bpm": lambda bpm: f"{bpm:.3f}".rstrip("0").rstrip("."),
}


def _dashed(lines: list[str], indent: str) -> list[str]:
    """Indent lines after a dash."""
    return [f"{indent}{'- ' if number == 0 else '  '}{line}" for number, line in enumerate(lines)]
