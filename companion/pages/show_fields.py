"""The engagement's own fields and those of a set, as they are typed on a page."""

from typing import Any, Final

from companion.edits import AddSet, Edit, Remove, SetValue
from companion.errors import CompanionError
from companion.pages.desk import Stack
from companion.pages.song_fields import ChangedMeanwhile, FieldRefused, SongField
from companion.pages.time_fields import TIME, says_time, time_edits_typed, typed_days
from companion.pages.wanted import WantedEdit

SHOW: Final = "show"
"""What a page calls the engagement itself; a set is called by its id."""


def _text(typed: str) -> object:
    return typed


def _date(typed: str) -> object:
    try:
        return typed_days(None).day(typed)
    except CompanionError as no:
        raise FieldRefused(str(no)) from None


def _minutes(typed: str) -> object:
    if not (typed.isascii() and typed.isdecimal() and len(typed) < 5):
        raise FieldRefused("minutes, such as 45")
    return int(typed)


def _clock(typed: str) -> object:
    """Return a time as the file has it: 22:00 for 10pm. What is no time stays as typed, and the file refuses it."""
    from companion.setlist.parsing.cells import clock_cell

    at_min = clock_cell(typed) if any(sign.isalpha() for sign in typed) else None
    return typed if at_min is None else f"{at_min // 60}:{at_min % 60:02}"


def _shown(name: str) -> Any:  # noqa: ANN401  a function of a show or a set
    return lambda one: str(getattr(one, name) if getattr(one, name) is not None else "")


def _starts(one: Any) -> str:  # noqa: ANN401  a set
    return f"{one.starts_min // 60}:{one.starts_min % 60:02}" if one.starts_min is not None else ""


SHOW_FIELDS: Final = {
    one.key: one
    for one in (
        SongField("show", "Engagement", _shown("title"), _text),
        SongField("band", "Band", _shown("band"), _text),
        SongField("date", "Date", _shown("date"), _date, "2027-06-19"),
        SongField("venue", "Venue", _shown("venue"), _text),
        SongField("notes", "Notes", _shown("notes"), _text, is_long=True),
    )
}
SET_FIELDS: Final = {
    one.key: one
    for one in (
        SongField("set", "Set", _shown("name"), _text),
        SongField("starts", "Starts", _starts, _clock, "20:00"),
        SongField("minutes", "Minutes", _shown("minutes"), _minutes, "45"),
    )
}
NEVER_EMPTY: Final = ("show", "set")


def fields_about(about: str) -> dict[str, SongField]:
    """Return the fields of the engagement, or of a set."""
    return SHOW_FIELDS if about == SHOW else SET_FIELDS


def edits_about(stack: Stack, wanted: WantedEdit) -> tuple[Edit, ...]:
    """Return the edits that write a field of the engagement, a set, or the player's time.

    Raises CompanionError, ChangedMeanwhile.
    """
    if wanted.about == TIME:
        return time_edits_typed(stack, wanted)
    field = fields_about(wanted.about).get(wanted.field)
    here = next((one for one in stack.sets if one.mark == wanted.about), None)
    if field is None:
        raise CompanionError("there is no such field")
    if here is None and wanted.about != SHOW:
        raise CompanionError("that set is no longer in this show")
    text, now = wanted.value.strip(), field.shown(stack.show if here is None else here.one)
    if text == now:
        return ()
    if now != wanted.was.strip():
        raise ChangedMeanwhile(now)
    if not field.is_long and not text.isprintable():
        raise FieldRefused("one line of letters, please")
    place = (field.key,) if here is None else (here.named, field.key)
    if not text:
        if field.key in NEVER_EMPTY:
            raise FieldRefused("this cannot be empty")
        return (Remove(place),)
    return (SetValue(place, field.value(text)),)


def says_about(stack: Stack, wanted: WantedEdit) -> str:
    """Return the words of this change in undo and redo."""
    if wanted.about == TIME:
        return says_time(wanted)
    here = next((one for one in stack.sets if one.mark == wanted.about), None)
    field = fields_about(wanted.about).get(wanted.field)
    label = field.label.lower() if field else wanted.field
    return f"{here.one.name if here else 'the engagement'}: {label} {' '.join(wanted.value.split())[:40]}".strip()


def new_set(name: str) -> tuple[Edit, ...]:
    """Return the edits that add a set at the show's end. Raises CompanionError."""
    name = name.strip()
    if not name or len(name) > 80 or not name.isprintable():
        raise CompanionError("a set needs a name of one line, such as Second")
    return (AddSet({"set": name}),)
