"""What the player takes of the night's lessons on the page, and what the night was."""

import datetime as dt

from companion.debrief.learned import Rewritten, rewritten
from companion.debrief.lessons import Lesson, lesson_words, lessons_of, still_open, taken
from companion.debrief.night_kinds import JournalKind, mark
from companion.debrief.night_report import Debrief, debrief, newest_journal
from companion.debrief.songs_known import KnownLearned
from companion.edits import open_text
from companion.errors import CompanionError
from companion.pages.desk import ShowDesk
from companion.pages.wanted import WantedList

ALL = "all"
GONE = "this lesson is no longer there; open the debrief again"


def open_lessons(desk: ShowDesk, night: Debrief) -> tuple[Lesson, ...]:
    """Return the lessons of a night that the show does not follow yet."""
    return lessons_of(still_open(night, desk.look().show).learned)


def carried_out(desk: ShowDesk, wanted: WantedList) -> str:
    """Carry a decision out; return what to say. Raises CompanionError or FaultyFile."""
    if wanted.does == "night-is":
        path = newest_journal(desk.path)
        if path is None or wanted.name not in (JournalKind.NIGHT.value, JournalKind.REHEARSAL.value):
            raise CompanionError(GONE)
        mark(path, JournalKind(wanted.name))
        return f"Taken as the {wanted.name}" if wanted.name == JournalKind.NIGHT.value else "Taken as a rehearsal"
    night = debrief(desk.path)
    lessons = open_lessons(desk, night) if night is not None else ()
    if wanted.does == "lesson-not-yet":
        if not any(isinstance(one, KnownLearned) and wanted.name in one.songs for one in lessons):
            raise CompanionError(GONE)
        _write(desk, (KnownLearned(not_yet=(wanted.name,)),))
        return f"Not known yet: {wanted.name}"
    chosen = tuple(one for one in lessons if wanted.name in (ALL, lesson_words(one)))
    if not chosen:
        raise CompanionError(GONE)
    after = _write(desk, chosen)
    what, them = ("Taken", "it") if len(chosen) == 1 else (f"Taken: {len(chosen)} lessons", "them")
    steps = len(after.changed_files)  # each file has its own
    words = f"{what}; Undo takes {them} back{f' in {steps} steps' if steps > 1 else ''}"
    return "; ".join((words, *after.left))


def _write(desk: ShowDesk, lessons: tuple[Lesson, ...]) -> Rewritten:
    """Write lessons into the show and its songbooks; return what was written, and what cannot be."""
    if desk.look().faults:
        raise CompanionError("the show file has faults from an edit elsewhere; put them right first")
    after = rewritten(desk.path, taken(lessons), open_text(desk.path, desk.folder))
    if after.differs:
        after.write(dt.datetime.now().astimezone(), folder=desk.folder)
    return after
