"""What each address of the page answers. The gate has already decided who may ask."""

import asyncio
import datetime as dt
from collections.abc import AsyncIterator
from typing import Final

from msgspec.structs import replace
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import FileResponse, HTMLResponse, PlainTextResponse, Response, StreamingResponse

from companion.edits import NewText, SongNamed
from companion.errors import CompanionError
from companion.pages.answer_parts import header_text, partials, refused
from companion.pages.asset_files import asset
from companion.pages.desk import NothingToRead, SongOnDesk, Stack
from companion.pages.desk_answers import NOTICE, SONG, DeskAnswers
from companion.pages.desk_view import DeskView
from companion.pages.draft import notes_while_typed, parts_while_typed
from companion.pages.files_beside import playable
from companion.pages.front_view import door_html, shell_html
from companion.pages.handed_out import days_html, print_sheet
from companion.pages.heard_drafts import HeardDrafts
from companion.pages.keyboard_sounds import edits_as_typed
from companion.pages.list_answering import ListPages
from companion.pages.section_fields import (
    ROW_SAYS,
    field_of,
    row_edits,
)
from companion.pages.sheet_pictures import pictures_of
from companion.pages.show_fields import edits_about, new_set, says_about
from companion.pages.song_fields import FieldRefused, says_of
from companion.pages.song_order import (
    NewPlace,
    added,
    copied_to_encore,
    followed,
    moved_text,
    place_beside,
    place_of,
    says_moved,
    taken_out,
)
from companion.pages.stack_view import slip_id
from companion.pages.tonight_or_book import TONIGHT, AskedWhere, TonightOrBook, question_html
from companion.pages.visitor import Visitors
from companion.pages.wanted import (
    ShownWith,
    WantedDownbeat,
    WantedEdit,
    WantedMove,
    WantedRefusal,
    WantedRow,
    WantedShow,
    WantedSong,
    WantedStage,
)
from companion.pages.workplace import Workplace
from companion.stopping import Stopping

LOOK_S: Final = 0.3  # seconds between looks at the file while a tab is visible; an outside edit is seen within one


class Pages:
    """The answers about a workplace. Lines that stay open end once ``stopping`` is set."""

    def __init__(self, workplace: Workplace, visitors: Visitors, stopping: Stopping) -> None:
        self._stopping = stopping
        self._workplace = workplace
        self._visitors = visitors
        self._where = TonightOrBook()
        self._drafts = HeardDrafts(workplace.folder)
        self._answers = DeskAnswers(workplace, DeskView(workplace, self._where))
        self.lists = ListPages(self._answers)

    def shell(self, request: Request) -> Response:
        """Return the empty page. A key in the address is used up, and turns into the cookie."""
        key = request.query_params.get("key")
        if key is None:
            return HTMLResponse(shell_html())
        if not self._visitors.use_up(key):
            words = "This address was good for one minute, once. Start companion prepare again: it opens a new one."
            return PlainTextResponse(words, 403)
        return HTMLResponse(shell_html(self._visitors.token), headers={"set-cookie": self._visitors.set_cookie})

    def file(self, request: Request) -> Response:
        """Return one of the program's own files."""
        found = asset(request.path_params["name"], request.headers.get("accept-encoding", ""))
        return found or PlainTextResponse("no such page", 404)

    def key(self, request: Request) -> Response:
        """Return a new key, for a second copy that wants to open this page in the browser."""
        del request
        return PlainTextResponse(self._visitors.new_key())

    def view(self, request: Request) -> Response:
        """Return what lies on the desk, or what differs there from what the tab shows."""
        query = dict(request.query_params)
        song, column, shown = query.get("song", ""), query.get("column", "key"), query.get("shown", "")
        return self._answers.page(ShownWith(column=column, open=song, look=query, shown=shown))

    def door(self, request: Request) -> Response:
        """Return the stage door as it is now."""
        del request
        stack = self._answers.desk.look()
        return partials(200, door_html(self._workplace.rigged(stack), self._workplace.door, stack.faults))

    def heard(self, request: Request) -> Response:
        """Return what was heard in a song's recording; it takes a second or two, the first time."""
        return self._heard(_marked(self._answers.desk.look(), request.query_params.get("song", "")))

    def _heard(self, one: SongOnDesk, notice: str = "") -> Response:
        desk = self._answers.desk
        is_read_only = desk.is_read_only or bool(desk.look().faults)
        found = self._drafts.html(desk.path, one, is_read_only=is_read_only)
        return partials(200, found, headers={NOTICE: notice} if notice else None)

    def recording(self, request: Request) -> Response:
        """Return a song's recording, for the player to say where a bar begins."""
        desk = self._answers.desk
        one = _marked(desk.look(), request.query_params.get("song", ""))
        path, kind = playable(desk.path, one.song.recording)
        return FileResponse(path, media_type=kind)

    def print_sheet(self, request: Request) -> Response:
        """Return a sheet as PDF, to download."""
        path, query = self._answers.desk.path, request.query_params
        sheet = query.get("sheet", "")
        pdf, words = print_sheet(path, self._workplace.folder, sheet, query.get("paper", "a4"))
        headers = {NOTICE: header_text(words), "x-file": header_text(f"{path.stem}-{sheet}.pdf")}
        return Response(pdf, media_type="application/pdf", headers=headers)

    def days(self, request: Request) -> Response:
        """Return the days until the show; it takes a second, for many songs."""
        del request
        return partials(200, days_html(self._answers.desk.path, dt.datetime.now().astimezone().date()))

    def questions(self, request: Request) -> Response:
        """Return the message to the leader."""
        del request
        from companion.pages.leader_questions import questions_html

        return partials(200, questions_html(self._answers.desk.path))

    def debrief(self, request: Request) -> Response:
        """Return the debrief of the show's last night."""
        del request
        from companion.pages.debrief_view import debrief_html

        return partials(200, debrief_html(self._answers.desk))

    def refuse(self, wanted: WantedRefusal) -> Response:
        """Refuse a part of what was heard, or show all of it again."""
        desk = self._answers.desk
        one = _marked(desk.look(), wanted.song)
        self._drafts.refuse(desk.path, one, wanted.field)
        return self._heard(one, "refused" if wanted.field else "shown again")

    def downbeat(self, wanted: WantedDownbeat) -> Response:
        """Note where a bar begins in a song's recording, or take the place out; what was heard moves with it."""
        desk = self._answers.desk
        one = _marked(desk.look(), wanted.song)
        is_out = wanted.does == "out"
        self._drafts.name_downbeat(desk.path, one, wanted.place, is_out=is_out)
        return self._heard(one, "taken out" if is_out else "the bars are counted from there")

    def picture(self, request: Request) -> Response:
        """Return the stage at a moment of a song, and its chart."""
        stack = self._answers.desk.look()
        query = dict(request.query_params)
        one = _marked(stack, query.get("song", ""))
        return HTMLResponse(pictures_of(self._workplace.rigged(stack).book, one, query))

    def edit(self, wanted: WantedEdit) -> Response:
        """Write one field of a song, or of a section; the answer comes when it is on disk."""
        if wanted.about:
            return self._edit_about(wanted)
        desk, field = self._answers.desk, field_of(wanted)
        named = SongNamed(wanted.title, wanted.occurrence)
        song = desk.look().song(named)
        slip = slip_id(wanted.field, song.mark, wanted.section)
        try:
            stack = self._where.write(
                desk,
                named,
                says_of(song, field, wanted.value, wanted.section),
                lambda now: edits_as_typed(now, now.song(named), field, wanted, self._workplace.rigged(now).rig),
                wanted,
            )
        except AskedWhere:
            return partials(409, question_html(desk.look(), song, slip, self._workplace.known))
        except CompanionError as error:
            notes, is_readable = notes_while_typed(song, wanted) if isinstance(error, FieldRefused) else ((), True)
            return refused(slip, error, wanted.value) if is_readable else partials(422, *notes)
        if not wanted.open:
            return self._answers.page(wanted)
        mark = wanted.open if field.key != "title" else stack.sets[song.set_at].songs[song.song_at].mark
        return self._answers.page(replace(wanted, open=mark), {SONG: mark})

    def _edit_about(self, wanted: WantedEdit) -> Response:
        """Write one field of the engagement, of a set, or of the player's time."""
        desk = self._answers.desk
        try:
            desk.edit(says_about(desk.look(), wanted), lambda now: edits_about(now, wanted))
        except CompanionError as error:
            return refused(slip_id(wanted.field, wanted.about), error, wanted.value)
        return self._answers.page(wanted)

    def attempt(self, wanted: WantedEdit) -> Response:
        """Return what a text would mean, while it is being typed; nothing is written."""
        stack = self._answers.desk.look()
        return partials(200, *parts_while_typed(stack, self._workplace.rigged(stack).book, wanted))

    def row(self, wanted: WantedRow) -> Response:
        """Add, move or take out a section of a road map."""
        desk = self._answers.desk
        song = _marked(desk.look(), wanted.song)
        says = f"{song.song.title}: {ROW_SAYS[wanted.does]}"
        try:
            self._where.write(desk, song.named, says, lambda now: row_edits(now.song(song.named), wanted), wanted)
        except AskedWhere:
            return partials(409, question_html(desk.look(), song, f"where-{song.mark}", self._workplace.known))
        return self._answers.notice(says, wanted)

    def where(self, wanted: WantedShow) -> Response:
        """Note where a songbook's song is changed, and make the change that waited for it."""
        stack = self._answers.desk.look()
        mark, _, where = wanted.show.partition(" ")
        waited = self._where.answer(stack, _marked(stack, mark), where)
        if waited is not None:
            done = self.edit(waited) if isinstance(waited, WantedEdit) else self.row(waited)
            if done.status_code != 200:
                return done
        return self._answers.notice("kept for tonight only" if where == TONIGHT else "kept in the songbook", wanted)

    def stage(self, wanted: WantedStage) -> Response:
        """Start the stage, as a process of its own, or end it."""
        desk = self._answers.desk
        if wanted.how == "end":
            kept = self._workplace.door.keeps_place
            self._workplace.door.end()
            return self._answers.notice(f"The stage has ended{'; the next start continues there' * kept}", wanted)
        stopping = self._workplace.rigged(desk.look()).stopping
        if stopping:
            raise CompanionError(f"the stage cannot start: {stopping[0].fault.problem}")
        self._workplace.door.start(desk.path, wanted.how)
        return self._answers.notice("The stage is starting. This page waits until it ends", wanted)

    def move(self, wanted: WantedMove) -> Response:
        """Move a song; the answer names it by its id at the new place."""
        moves: list[tuple[Stack, SongOnDesk, NewPlace]] = []

        def move(now: Stack) -> list[NewText]:
            song = _marked(now, wanted.song)
            by = max(-1, min(wanted.by, 1))
            place = place_beside(now, song, by) if by else place_of(now, wanted.into, wanted.after)
            moves.append((now, song, place))
            return [NewText(now.file, moved_text(now, song, place))]

        after = self._answers.desk.rewrite(lambda: says_moved(*moves[-1][1:]), move)
        before, song, place = moves[-1]
        return self._answers.notice(says_moved(song, place), wanted, followed(before, after, song, place))

    def add(self, wanted: WantedSong) -> Response:
        """Add a song at a set's end."""
        stack = self._answers.desk.edit(
            f"added {wanted.title.strip()}", lambda now: added(now, wanted.into, wanted.title)
        )
        into = next(one for one in stack.sets if one.mark == wanted.into)
        return self._answers.notice(f"added {wanted.title.strip()} to {into.one.name}", wanted)

    def add_set(self, wanted: WantedSong) -> Response:
        """Add a set at the show's end."""
        says = f"added the set {wanted.title.strip()}"
        self._answers.desk.edit(says, lambda _: new_set(wanted.title))
        return self._answers.notice(says, wanted)

    def leave(self, wanted: WantedShow) -> Response:
        """Put the show away, and offer the others."""
        del wanted
        self._workplace.close()
        return self._answers.notice("")

    def encore(self, wanted: WantedSong) -> Response:
        """Put a song into the encore once more."""
        desk = self._answers.desk
        song = _marked(desk.look(), wanted.song)
        says = f"{song.song.title} in the encore too"
        desk.edit(says, lambda now: copied_to_encore(now, now.song(song.named)))
        return self._answers.notice(says, wanted)

    def out(self, wanted: WantedSong) -> Response:
        """Take a song out; it is kept aside with all that is known of it."""
        desk = self._answers.desk
        song = _marked(desk.look(), wanted.song)
        says = f"took {song.song.title} out"
        desk.rewrite(lambda: says, lambda now: taken_out(now, now.song(song.named)))
        return self._answers.notice(f"{says}; it is kept aside, and comes back with Undo", wanted)

    def begin(self, wanted: WantedShow) -> Response:
        """Begin an empty show."""
        title = _title(wanted)
        self._workplace.begin(title)
        return self._answers.notice(f"Begun: {title}")

    def next_gig(self, wanted: WantedShow) -> Response:
        """Begin the next gig from the one on the desk."""
        title = _title(wanted)
        self._workplace.begin_next(self._answers.desk, title)
        return self._answers.notice(f"Begun: {title}, with the same songs")

    def demo(self, _: WantedShow) -> Response:
        """Open the invented engagement."""
        self._workplace.demo()
        return self._answers.notice("Opened: the invented engagement")

    def choose(self, wanted: WantedShow) -> Response:
        """Open a show that is known on this computer."""
        self._workplace.choose(wanted.show)
        return self._answers.notice("Opened")

    async def changes(self, request: Request) -> StreamingResponse:
        """Return a line that says when the show has changed; only a visible tab has one."""
        del request
        return StreamingResponse(self._changed(), media_type="text/event-stream")

    async def _changed(self) -> AsyncIterator[str]:
        sent, door, was_on = None, "", False
        while self._stopping.because is None:
            is_on = self._workplace.door.is_open
            seen = self._workplace.door.no_window if is_on else ""
            version = sent if is_on else await run_in_threadpool(self._version)  # nothing runs beside the foot
            if version != sent or (was_on and not is_on) or seen != door:
                sent = version
                yield f"event: show-changed\ndata: {'stage' if was_on or seen != door else version}\n\n"
            was_on, door = is_on, seen
            await asyncio.sleep(LOOK_S)

    def _version(self) -> str:
        desk = self._workplace.desk
        if desk is None:
            return "none"
        try:
            return desk.look().version
        except NothingToRead as nothing:
            return str(hash(nothing.faults))


def _title(wanted: WantedShow) -> str:
    title = wanted.title.strip()
    if not title or len(title) > 200 or not title.isprintable():
        raise CompanionError("a show needs a name of one line, such as Pier Street")
    return title


def _marked(stack: Stack, mark: str) -> SongOnDesk:
    song = stack.marked(mark)
    if song is None:
        raise CompanionError("that song is no longer in this show")
    return song
