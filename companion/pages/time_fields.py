"""The player's time until the show, as it is typed on a page in the words of ``companion plan``."""

import datetime as dt
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, Final

from companion.edits import Edit
from companion.errors import CompanionError
from companion.pages.desk import Stack
from companion.pages.field_view import AS_TYPED, FieldPlace, field_html
from companion.pages.markup import Html, tag
from companion.pages.song_fields import ChangedMeanwhile, FieldRefused, SongField
from companion.pages.wanted import WantedEdit
from companion.show import PracticeTime
from companion.show.practice_time import WEEKDAYS, WRITE_MINUTES, written

if TYPE_CHECKING:
    from companion.planning.typed_days import TypedDays

TIME: Final = "time"
"""What a page calls the player's time until the show."""


def _shown(key: str) -> Callable[[PracticeTime], str]:
    return lambda time: str(written(time).get(key, ""))


def _text(typed: str) -> object:
    return typed


def _listening(typed: str) -> object:
    if not (typed.isascii() and typed.isdecimal() and len(typed) < 5):
        raise FieldRefused("this is not a number of minutes. Write: 45")
    return int(typed)


TIME_FIELDS: Final = {
    one.key: one
    for one in (
        SongField("minutes", "Minutes a day at the keyboard", _shown("minutes"), _text, WRITE_MINUTES),
        SongField("days_off", "Days off", _shown("days_off"), _text, f"{WEEKDAYS[-1]}, {{}}"),
        SongField("rehearsals", "Rehearsals", _shown("rehearsals"), _text, "{}"),
        SongField("listening", "Minutes of listening a day", _shown("listening"), _listening, "45, or 0 for none"),
    )
}
MAY_BE_EMPTY: Final = ("days_off", "rehearsals")


def time_html(stack: Stack, *, is_read_only: bool) -> Html:
    """Return the fields of the player's time, each with what may be written there."""
    place, time = FieldPlace(TIME, is_read_only=is_read_only, about=TIME), _time_of(stack)
    days = typed_days(stack.show.date).examples
    return tag(
        "form",
        *(
            field_html(field, field.shown(time), place, tag("p", field.hint.format(days), class_="pencil"))
            for field in TIME_FIELDS.values()
        ),
        id="time",
        class_="fields",
        attrs=AS_TYPED,
    )


def time_edits_typed(stack: Stack, wanted: WantedEdit) -> tuple[Edit, ...]:
    """Return the edits that write a field of the player's time. Raises CompanionError, ChangedMeanwhile."""
    from companion.planning.planned import time_edits, time_typed

    field = TIME_FIELDS.get(wanted.field)
    if field is None:
        raise CompanionError("there is no such field")
    time = _time_of(stack)
    text, now = wanted.value.strip(), field.shown(time)
    if text == now:
        return ()
    if now != wanted.was.strip():
        raise ChangedMeanwhile(now)
    if not text and wanted.field not in MAY_BE_EMPTY:
        raise FieldRefused(f"this cannot be empty. Write: {field.hint.format(typed_days(stack.show.date).examples)}")
    typed: dict[str, Any] = {wanted.field: field.value(text)}
    return time_edits(stack.show.practice, time_typed(time, typed_days(stack.show.date), **typed))


def says_time(wanted: WantedEdit) -> str:
    """Return the words of this change in undo and redo."""
    field = TIME_FIELDS.get(wanted.field)
    label = field.label.lower() if field else wanted.field
    return f"the plan: {label} {' '.join(wanted.value.split())[:40]}".strip()


def typed_days(date: dt.date | None) -> "TypedDays":
    """Return what reads days as they are typed now, for a show on this date."""
    from companion.planning.typed_days import TypedDays

    return TypedDays(dt.datetime.now().astimezone().date(), date)


def _time_of(stack: Stack) -> PracticeTime:
    return stack.show.practice or PracticeTime()
