"""What each address of the page answers. The gate has already decided who may ask."""

import asyncio
from collections.abc import AsyncIterator, Callable
from typing import Final

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, PlainTextResponse, Response, StreamingResponse

from companion.edits import NewText, SongNamed, Undo
from companion.errors import CompanionError, FaultyFile
from companion.pages.asset_files import asset
from companion.pages.desk import NothingToRead, ShowDesk, SongOnDesk, Stack
from companion.pages.front_view import faults_html, shell_html, welcome_html
from companion.pages.markup import Html, fragment, tag
from companion.pages.song_fields import COLUMNS, FIELDS, ChangedMeanwhile, FieldRefused, edits_for, says_of
from companion.pages.song_order import (
    NewPlace,
    added,
    copied_to_encore,
    moved_text,
    place_beside,
    place_of,
    says_moved,
    taken_out,
)
from companion.pages.stack_view import StackLook, head_html, slip_html, song_html, stack_html, tape_html
from companion.pages.visitor import Visitors
from companion.pages.wanted import WantedEdit, WantedMove, WantedShow, WantedSong
from companion.pages.workplace import Workplace
from companion.practice_log.logged import show_and_progress
from companion.setlist.tidy import folded
from companion.shown import harmless

LOOK_S: Final = 0.3  # seconds between looks at the file while a tab is visible; an outside edit is seen within one
SAID: Final = "x-said"
SONG: Final = "x-song"


class Pages:
    """The answers, with the workplace that they are about."""

    def __init__(self, workplace: Workplace, visitors: Visitors) -> None:
        self._workplace = workplace
        self._visitors = visitors

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
        return asset(request.path_params["name"]) or PlainTextResponse("no such page", 404)

    def key(self, request: Request) -> Response:
        """Return a new key, for a second copy that wants to open this page in the browser."""
        del request
        return PlainTextResponse(self._visitors.new_key())

    def view(self, request: Request) -> Response:
        """Return what lies on the desk: the stack, or the first run's offers."""
        return HTMLResponse(self._view(request.query_params.get("column", "key")))

    def _view(self, column: str, words: str = "") -> Html:
        desk = self._workplace.desk
        if desk is None:
            return welcome_html(self._workplace.titles(), words)
        try:
            stack = desk.look()
        except NothingToRead as nothing:
            return tag("main", tag("h1", desk.path.stem), faults_html(nothing.faults, is_read=False), id="stack")
        look = self._look(desk, stack, column)
        return fragment(
            faults_html(stack.faults, is_read=True) if stack.faults else None,
            tag(
                "p",
                "This show lies in a folder that cannot be written: look, but nothing can be changed.",
                class_="torn",
            )
            if desk.is_read_only
            else None,
            stack_html(stack, look),
        )

    def _look(self, desk: ShowDesk, stack: Stack, column: str) -> StackLook:
        return StackLook(
            column=column if column in COLUMNS else "key",
            heard=_heard(desk, stack),
            sounds=self._workplace.sounds(),
            undo=_or_none(lambda: desk.undoable),
            redo=_or_none(lambda: desk.redoable),
            is_read_only=desk.is_read_only or bool(stack.faults),
            sets=tuple((one.mark, one.one.name) for one in stack.sets),
        )

    def edit(self, wanted: WantedEdit) -> Response:
        """Write one field of a song; the answer comes when it is on disk."""
        desk, field = self._desk(), FIELDS.get(wanted.field)
        if field is None:
            raise CompanionError("there is no such field")
        named = SongNamed(wanted.title, wanted.occurrence)
        song = desk.look().song(named)
        try:
            stack = desk.edit(
                says_of(song, field, wanted.value),
                lambda now: edits_for(now, now.song(named), field, wanted.value, wanted.was),
            )
        except ChangedMeanwhile as changed:
            now = desk.look().song(named)
            return _partials(409, slip_html(now, field, f"{harmless(str(changed))}.", wanted.value.strip(), asks=True))
        except FieldRefused as refused:
            return _partials(422, slip_html(song, field, str(refused)))
        except FaultyFile as faulty:
            first = faulty.faults[0]
            write = f". Write: {first.write}" if first.write else ""
            return _partials(422, slip_html(song, field, f"{first.problem}{write}"))
        except CompanionError as error:
            return _partials(422, slip_html(song, field, str(error)))
        look = self._look(desk, stack, wanted.column)
        after = stack.song(named) if field.key != "title" else None
        if after is None:
            return HTMLResponse(self._view(wanted.column), 205)
        return _partials(
            200,
            song_html(after, stack.read.places, look),
            tape_html(stack.sets[after.set_at]),
            head_html(stack, look),
        )

    def undo(self, wanted: WantedShow) -> Response:
        """Undo the newest change."""
        return self._said(f"Undone: {self._desk().undo()[0]}", wanted.column)

    def redo(self, wanted: WantedShow) -> Response:
        """Redo what was undone last."""
        return self._said(f"Done again: {self._desk().redo()[0]}", wanted.column)

    def move(self, wanted: WantedMove) -> Response:
        """Move a song; the answer names it by its id at the new place."""
        moves: list[tuple[Stack, SongOnDesk, NewPlace]] = []

        def move(now: Stack) -> list[NewText]:
            song = _marked(now, wanted.song)
            by = max(-1, min(wanted.by, 1))
            place = place_beside(now, song, by) if by else place_of(now, wanted.into, wanted.after)
            moves.append((now, song, place))
            return [NewText(now.file, moved_text(now, song, place))]

        after = self._desk().rewrite(lambda: says_moved(*moves[-1][1:]), move)
        before, song, place = moves[-1]
        return self._said(says_moved(song, place), wanted.column, _followed(before, after, song, place))

    def add(self, wanted: WantedSong) -> Response:
        """Add a song at a set's end."""
        stack = self._desk().edit(f"added {wanted.title.strip()}", lambda now: added(now, wanted.into, wanted.title))
        into = next(one for one in stack.sets if one.mark == wanted.into)
        return self._said(f"added {wanted.title.strip()} to {into.one.name}", wanted.column)

    def encore(self, wanted: WantedSong) -> Response:
        """Put a song into the encore once more."""
        desk = self._desk()
        song = _marked(desk.look(), wanted.song)
        says = f"{song.song.title} in the encore too"
        desk.edit(says, lambda now: copied_to_encore(now, now.song(song.named)))
        return self._said(says, wanted.column)

    def out(self, wanted: WantedSong) -> Response:
        """Take a song out; it is kept aside with all that is known of it."""
        desk = self._desk()
        song = _marked(desk.look(), wanted.song)
        says = f"took {song.song.title} out"
        desk.rewrite(lambda: says, lambda now: taken_out(now, now.song(song.named)))
        return self._said(f"{says}; it is kept aside, and comes back with Undo", wanted.column)

    def begin(self, wanted: WantedShow) -> Response:
        """Begin an empty show."""
        title = wanted.title.strip()
        if not title or len(title) > 200 or not title.isprintable():
            raise CompanionError("a show needs a name of one line, such as Pier Street")
        self._workplace.begin(title)
        return self._said(f"Begun: {title}")

    def demo(self, _: WantedShow) -> Response:
        """Open the invented engagement."""
        self._workplace.demo()
        return self._said("Opened: the invented engagement")

    def choose(self, wanted: WantedShow) -> Response:
        """Open a show that is known on this computer."""
        self._workplace.choose(wanted.show)
        return self._said("Opened")

    async def bring(self, request: Request) -> Response:
        """Make a show of a set list that was brought in."""
        raw, name = await request.body(), request.query_params.get("name", "")
        try:
            words = await run_in_threadpool(self._workplace.bring, raw, name)
        except FaultyFile as faulty:
            return PlainTextResponse(harmless("; ".join(one.problem for one in faulty.faults)), 422)
        except CompanionError as error:
            return PlainTextResponse(harmless(str(error)), 422)
        return self._said(f"Brought in: {words}")

    async def changes(self, request: Request) -> Response:
        """Return a line that says when the show has changed; only a visible tab has one."""
        del request
        return StreamingResponse(self._changed(), media_type="text/event-stream")

    async def _changed(self) -> AsyncIterator[str]:
        told = None
        while True:
            version = await run_in_threadpool(self._version)
            if version != told:
                told = version
                yield f"event: show-changed\ndata: {version}\n\n"
            await asyncio.sleep(LOOK_S)

    def _version(self) -> str:
        desk = self._workplace.desk
        if desk is None:
            return "none"
        try:
            return desk.look().version
        except NothingToRead as nothing:
            return str(hash(nothing.faults))

    def _desk(self) -> ShowDesk:
        if self._workplace.desk is None:
            raise CompanionError("there is no show on the desk")
        return self._workplace.desk

    def _said(self, words: str, column: str = "key", song: str = "") -> Response:
        """Return everything anew, with what to say, and the id of the song that was moved."""
        return HTMLResponse(self._view(column), headers={SAID: _header(words), SONG: song})


def _partials(status: int, *parts: Html) -> Response:
    """Return parts of the page, each put in the place of the element with its id."""
    told = fragment(
        *(tag("hx-partial", part, attrs={"hx-target": f"#{_id_of(part)}", "hx-swap": "outerMorph"}) for part in parts)
    )
    return HTMLResponse(told, status)


def _id_of(part: Html) -> str:
    return part.partition(' id="')[2].partition('"')[0]


def _header(words: str) -> str:
    return "".join(
        one if " " <= one <= "~" and one != "%" else "".join(f"%{byte:02X}" for byte in one.encode())
        for one in harmless(words)
    )


def _marked(stack: Stack, mark: str) -> SongOnDesk:
    song = stack.marked(mark)
    if song is None:
        raise CompanionError("that song is not in this show any more")
    return song


def _followed(before: Stack, after: Stack, song: SongOnDesk, place: NewPlace) -> str:
    """Return the id of a moved song: among several of one title, its number may have changed."""
    at = place.after.song_at + 1 if place.after else 0
    number = next(number for number, one in enumerate(before.sets) if one.named == place.into.named)
    if number == song.set_at and song.song_at < at:
        at -= 1
    return after.sets[number].songs[at].mark


def _heard(desk: ShowDesk, stack: Stack) -> frozenset[str]:
    try:
        progress = show_and_progress(desk.path)[1]
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
