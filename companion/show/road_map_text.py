"""A road map in one line of shorthand, or in a line for each section, as a player would write it."""

from collections.abc import Mapping, Sequence
from typing import Final

from companion.files import Reading, SourceFile, Text
from companion.show.model import Section
from companion.show.roadmap import RoadMap
from companion.show.shorthand_text import short_map
from companion.show.show_file import SECTION

SECTION_DEFAULTS: Final = dict(
    zip(reversed(Section.__struct_fields__), reversed(Section.__struct_defaults__), strict=False)
)


def in_shorthand(sections: Sequence[Section]) -> str | list[str]:
    """Return the road map in one line; if shorthand cannot hold all of it, a line for each section.

    A section that shorthand cannot hold is "": it needs its keys written out.
    """
    return short_road_map(tuple(sections)) or [short_road_map((one,)) for one in sections]


def short_road_map(sections: tuple[Section, ...]) -> str:
    """Return the road map in shorthand, as in the margin; "" if shorthand cannot hold all of it."""
    short = short_map([_plain(one) for one in sections])
    reading = Reading()
    back = RoadMap(SECTION).read(Text(short, SourceFile("", short), 1, 1, "|"), reading)
    return short if back == sections and not reading.faults else ""


def _plain(section: Section) -> Mapping[str, object]:
    """Return a section as the keys and texts of the file."""
    found: dict[str, object] = {}
    for key, field in SECTION.fields.items():
        value = getattr(section, field.name)
        if value == SECTION_DEFAULTS.get(field.name) or value is None:
            continue
        if field.name == "sounds":
            bare = len(value) == 1 and value[0].keyboard is None
            found[key] = value[0].sound if bare else {call.keyboard: call.sound for call in value}
        elif field.name == "feature":
            found[key] = "yes" if value == "feature" else value
        else:
            found[key] = "yes" if value is True else str(getattr(value, "value", value))
    return found
