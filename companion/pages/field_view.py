"""One labelled field on a page: a line, a long text, a choice, or yes and no."""

from typing import Final

import msgspec

from companion.pages.markup import Attribute, Html, tag
from companion.pages.song_fields import HOLDS_NOTHING, SOUND_ON, SongField
from companion.show.ratings import RATED

OFFERED: Final = ("sound", "chart", "recording")
"""Fields with a list of what may be typed; a sheet holds each list once, named like the field with an s."""

AS_TYPED: Final[dict[str, Attribute]] = {"autocomplete": "off", "autocapitalize": "off", "spellcheck": "false"}
"""For the form round all fields of a page, which inherit it (HTML Standard, 4.10.18.7, 6.8.5, 6.8.7): the browser
neither fills in, nor corrects what is typed."""


class FieldPlace(msgspec.Struct, frozen=True):
    """Where a field stands: the id of its song or set ("show" for the engagement), and its section's number."""

    mark: str
    section: int | str | None = None  # a text stands for a number that the page fills in
    is_read_only: bool = False
    about: str | None = None  # the same id, where it is no song's

    def name(self, key: str) -> str:
        """Return the id of a field here."""
        return f"{key}-{self.mark}" if self.section is None else f"{key}-{self.section}-{self.mark}"


def field_html(field: SongField, now: str, place: FieldPlace, note: Html | None = None) -> Html:
    """Return a field with its label, and the notes under it: ``note``, and the one about what is typed."""
    name = place.name(field.key)
    shared: dict[str, str | int | bool | None] = {
        "id": name,
        "data-was": now or None,
        "data-field": field.key,
        "data-about": place.about,
    }
    closed = place.is_read_only
    if field.is_flag:
        control = tag("input", type="checkbox", value="yes", checked=now == "yes", disabled=closed, attrs=shared)
    elif field.choices:
        options = (
            tag("option", field.labels.get(word, word), value=word, selected=word == now) for word in field.choices
        )
        empty = None if field.key in HOLDS_NOTHING else tag("option", "", value="", selected=not now)
        control = tag("select", empty, *options, disabled=closed, attrs=shared)
    elif field.is_long:
        rows = min(max(2, now.count("\n") + 1), 12)
        control = tag("textarea", now, rows=rows, readonly=closed, attrs=shared)
    else:
        control = tag(
            "input",
            value=now,
            type="date" if field.key == "date" else None,
            list=f"{field.key}s" if field.key in OFFERED or field.key.startswith(SOUND_ON) else None,
            readonly=closed,
            attrs=shared,
        )
    return tag(
        "div",
        tag("label", tag("span", _label(field)), " ", control),
        note,
        tag("p", id=f"{name}-slip", class_="slip"),
        class_=f"field wide {field.key}" if field.is_long else f"field {field.key}",
    )


def _label(field: SongField) -> str:
    return f"{field.label}: {field.hint}" if field.key in RATED else field.label
