"""What lies on the desk, as a page: all of it, or only what differs from what a tab shows already."""

from collections import deque
from collections.abc import Callable
from typing import TYPE_CHECKING, Final

from companion.edits import Undo
from companion.errors import CompanionError
from companion.pages.changed_parts import changed_on_sheet, changed_on_stack
from companion.pages.desk import NothingToRead, ShowDesk, SongOnDesk, Stack
from companion.pages.files_beside import files_beside
from companion.pages.front_view import door_html, faults_html, welcome_html
from companion.pages.handed_out import handed_out_html
from companion.pages.markup import Html, fragment, tag
from companion.pages.sheet_pictures import pictures_of
from companion.pages.sheet_view import SheetLook, sheet_html
from companion.pages.song_fields import COLUMNS
from companion.pages.stack_view import StackLook, head_html, stack_html
from companion.pages.time_fields import time_html
from companion.pages.tonight_or_book import TonightOrBook
from companion.pages.wanted import ShownWith
from companion.pages.workplace import Workplace
from companion.practice_log.records import read_records
from companion.practice_log.song_progress import progress_of
from companion.show.titles import folded

if TYPE_CHECKING:
    from companion.pages.next_list import NextList

READ_ONLY: Final = "This show is in a read-only folder: you can look, but not change anything."
MAX_KEPT: Final = 4  # readings that tabs may show; a tab with an older one gets the whole page
MAX_MORE: Final = 400  # rows


class DeskView:
    """The page of the show on the desk. Any thread may call it."""

    def __init__(self, workplace: Workplace, where: TonightOrBook) -> None:
        self._workplace = workplace
        self._where = where
        self._shown: deque[Stack] = deque(maxlen=MAX_KEPT)

    def whole(self, wanted: ShownWith, unanswered: str = "", report: Html | None = None) -> Html:
        """Return all of it: the stack, a song's sheet, a newer list, or the first run's offers.

        ``unanswered``: the question about the list whose answer was not understood. ``report``: of what was just done.
        """
        desk = self._workplace.desk
        if desk is None:
            return welcome_html(self._workplace.titles())
        try:
            stack = desk.look()
        except NothingToRead as nothing:
            return tag("main", tag("h1", desk.path.stem), faults_html(nothing.faults, is_read=False), id="stack")
        self._shown.append(stack)
        rigged = self._workplace.rigged(stack)
        look = self._look(desk, stack, wanted.column, rigged.sounds, unanswered)
        one, newer = stack.marked(wanted.open), self._workplace.next_list
        listed = self._list_html(newer, unanswered) if newer is not None and not stack.faults else None
        if listed is not None:
            main = listed
        elif one:
            main = sheet_html(stack, one, self._sheet_look(stack, one, look, wanted))
        else:
            main = stack_html(stack, look)
        is_stack = listed is None and not one
        return fragment(
            faults_html(stack.faults, is_read=True) if stack.faults else None,
            tag("p", READ_ONLY, class_="torn") if desk.is_read_only else None,
            head_html(stack, look),
            door_html(rigged, self._workplace.door, stack.faults),
            handed_out_html(desk.path, time_html(stack, is_read_only=look.is_read_only)) if not stack.faults else None,
            report,
            self._doubts_html(stack, unanswered) if is_stack and not look.is_read_only else None,
            _reply_doubts(desk, stack, unanswered) if is_stack and not look.is_read_only else None,
            main,
        )

    def _list_html(self, newer: "NextList", unanswered: str) -> Html | None:
        """Return the newer list beside the show as it is on disk; None, and it is put away, if it cannot be read."""
        from companion.pages.next_list_view import next_list_html

        try:
            return next_list_html(newer, newer.look(), unanswered)
        except CompanionError:  # kept from an earlier day
            self._workplace.put_list_away()
            return None

    def _doubts_html(self, stack: Stack, unanswered: str) -> Html | None:
        kept = self._workplace.doubts
        if kept is None:
            return None
        from companion.pages.list_doubts_view import doubts_html

        return doubts_html(kept, kept.of(stack), unanswered)

    def _doubts_at_songs(self, stack: Stack, unanswered: str) -> dict[str, Html]:
        kept = self._workplace.doubts
        if kept is None:
            return {}
        from companion.pages.list_doubts_view import doubts_at_songs

        return doubts_at_songs(kept.of(stack), unanswered)

    def changed(self, wanted: ShownWith) -> tuple[Html, ...] | None:
        """Return the parts that differ from the version that the tab shows; None if it needs all anew.

        Without the stage door: the tab asks for that when nobody has typed for a while.
        """
        desk = self._workplace.desk
        before = next((one for one in tuple(self._shown) if one.version == wanted.shown), None)
        if desk is None or before is None or before.faults or self._workplace.next_list is not None:
            return None
        stack = desk.look()
        doubts = self._workplace.doubts
        if stack.faults or desk.is_read_only or (doubts is not None and doubts.heed_undo(stack)):
            return None
        look = self._look(desk, stack, wanted.column)
        was, one = before.marked(wanted.open), stack.marked(wanted.open)
        if not wanted.open:
            parts = changed_on_stack(before, stack, look)
            replies = _reply_doubts(desk, stack)
            if parts is not None and replies != _reply_doubts(desk, before):
                parts = (*parts, replies)
        elif was is not None and one is not None:
            parts = changed_on_sheet((before, was), (stack, one), self._sheet_look(stack, one, look, wanted))
        else:
            return None
        if parts is None:
            return None
        self._shown.append(stack)
        if (before.show.practice, before.show.date) != (stack.show.practice, stack.show.date):
            time = time_html(stack, is_read_only=look.is_read_only)
            parts = (time, tag("div", id="days"), *parts)  # a plan that lies open is read again
        return (head_html(stack, look), *parts)

    def _look(
        self, desk: ShowDesk, stack: Stack, column: str, sounds: tuple[str, ...] = (), unanswered: str = ""
    ) -> StackLook:
        is_read_only = desk.is_read_only or bool(stack.faults)
        return StackLook(
            column=column if column in COLUMNS else "key",
            heard=_heard(desk, stack),
            sounds=sounds,
            undo=self._left_as_read(stack) or _or_none(lambda: desk.undoable) or self._begun(stack),
            redo=_or_none(lambda: desk.redoable),
            is_read_only=is_read_only,
            sets=tuple((one.mark, one.one.name) for one in stack.sets),
            doubts={} if is_read_only else self._doubts_at_songs(stack, unanswered),
        )

    def _left_as_read(self, stack: Stack) -> Undo | None:
        """Return the newest answer about the list as what undo takes back, if it changed nothing."""
        doubts = self._workplace.doubts
        says = doubts.left_as_read(stack) if doubts else None
        return Undo(stack.file, -1, "", says, "") if says else None

    def _begun(self, stack: Stack) -> Undo | None:
        """Return the beginning of the next gig as what undo takes back, if nothing was changed since."""
        begun = self._workplace.just_begun
        return Undo(stack.file, -1, "", f"begin {begun.title}", "") if begun else None

    def _sheet_look(self, stack: Stack, one: SongOnDesk, look: StackLook, wanted: ShownWith) -> SheetLook:
        rigged = self._workplace.rigged(stack)
        more = wanted.look.get("more", "").split(" ", MAX_MORE)
        return SheetLook(
            look,
            pictures_of(rigged.book, one, wanted.look),
            self._where.head_html(stack, one, self._workplace.known),
            rigged.rig,
            files_beside(stack.file.path),
            frozenset(int(number) for number in more if number.isascii() and number.isdecimal() and len(number) < 4),
        )


def _reply_doubts(desk: ShowDesk, stack: Stack, refused: str = "") -> Html:
    """Return the leader's answers in doubt; none if the record of them cannot be read."""
    from companion.leader.doubted_answers import not_clear, undecided
    from companion.pages.reply_doubts_view import reply_doubts_html

    try:
        return reply_doubts_html(undecided(desk.path, stack.show), not_clear(desk.path, stack.show), refused)
    except CompanionError:
        return reply_doubts_html((), ())


def _heard(desk: ShowDesk, stack: Stack) -> frozenset[str]:
    try:
        progress = progress_of(read_records(desk.path).kept)
    except CompanionError:
        return frozenset()
    return frozenset(
        one.song.title for one in stack.songs if (found := progress.get(folded(one.song.title))) and found.heard
    )


def _or_none(find: Callable[[], Undo | None]) -> Undo | None:
    try:
        return find()
    except CompanionError:
        return None
