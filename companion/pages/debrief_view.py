"""The debrief on the page: what was different on the last night, and each lesson, to be taken or left."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from companion.errors import CompanionError
from companion.pages.desk import ShowDesk
from companion.pages.list_button import list_button
from companion.pages.markup import Html, tag

if TYPE_CHECKING:
    from companion.debrief.lessons import Lesson
    from companion.debrief.night_report import Debrief

THEN = "debrief-name"  # where the page goes on after an answer


def debrief_fold() -> Html:
    """Return the place of the debrief; it comes when it is opened."""
    return tag(
        "details",
        tag("summary", "The debrief", id=THEN),
        tag("div", id="debrief-read"),
        id="debrief",
        data_reads="/debrief",
    )


def debrief_html(desk: ShowDesk) -> Html:
    """Return the debrief of the newest night, in the words of ``companion debrief``."""
    from companion.debrief.night_report import debrief
    from companion.pages.night_lessons import open_lessons

    try:
        night = debrief(desk.path)
        lessons = open_lessons(desk, night) if night is not None else ()
    except CompanionError as error:
        return tag("div", tag("p", str(error), class_="slip"), id="debrief-read")
    if night is None:
        return tag("div", tag("p", "No night has been played on this computer yet."), id="debrief-read")
    return tag("div", *_summary(night), *_learned(night, lessons), id="debrief-read")


def _summary(night: "Debrief") -> Iterator[Html]:
    from companion.debrief.report_text import LEARNED, chapters, different, song_line, sum_line

    yield tag("p", f"{sum_line(night)}.")
    songs = [
        tag("li", song_line(one), tag("ul", *(tag("li", line) for line in lines)) if lines else None)
        for one in night.songs
        for lines in [tuple(different(one))]
    ]
    yield tag("details", tag("summary", "Song by song"), tag("ol", *songs), id="debrief-songs")
    for title, lines in chapters(night):
        if title != LEARNED:
            yield tag("h3", title)
            yield tag("ul", *(tag("li", line) for line in lines))


def _learned(night: "Debrief", lessons: tuple["Lesson", ...]) -> Iterator[Html]:
    from companion.debrief.night_kinds import JournalKind
    from companion.pages.night_lessons import ALL

    yield tag("h3", "Learned")
    if lessons:
        yield tag("p", "Take what will be true next time, too. What you leave changes nothing.")
        yield tag("ul", *map(_lesson, lessons))
    else:
        yield tag("p", "Nothing more.")
    is_night = night.kind is JournalKind.NIGHT
    other = JournalKind.REHEARSAL if is_night else JournalKind.NIGHT
    yield tag(
        "p",
        list_button("Take all", "lesson-take", ALL, then=THEN) if len(lessons) > 1 else None,
        list_button("It was a rehearsal" if is_night else "It was the show", "night-is", other.value, then=THEN),
        class_="buttons",
    )


def _lesson(lesson: "Lesson") -> Html:
    from companion.debrief.lessons import lesson_words, more_of
    from companion.debrief.songs_known import KnownLearned

    more = more_of(lesson)
    words = lesson_words(lesson)
    songs = lesson.songs if isinstance(lesson, KnownLearned) else ()
    not_yet = (
        tag("li", one, " ", list_button("Not yet", "lesson-not-yet", one, about=one, then=THEN)) for one in songs
    )
    return tag(
        "li",
        words,
        " ",
        list_button("Take", "lesson-take", words, about=words, then=THEN),
        tag("ul", *(tag("li", one) for one in more)) if more else None,
        tag("details", tag("summary", "Not all of them"), tag("ul", *not_yet), id="debrief-known") if songs else None,
    )
