"""What each address of the page answers. The gate has already decided who may ask."""

import asyncio
from collections.abc import AsyncIterator, Callable
from typing import Any, Final

import msgspec
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, PlainTextResponse, Response, StreamingResponse
from starlette.routing import Route, Router

from companion.edits import SongNamed, Undo
from companion.errors import CompanionError, FaultyFile
from companion.pages.asset_files import asset
from companion.pages.desk import NothingToRead, ShowDesk, Stack
from companion.pages.front_view import faults_html, shell_html, welcome_html
from companion.pages.gate import Gate
from companion.pages.markup import Html, fragment, tag
from companion.pages.song_fields import COLUMNS, FIELDS, ChangedMeanwhile, FieldRefused, edits_for, says_of
from companion.pages.stack_view import StackLook, head_html, slip_html, song_html, stack_html, tape_html
from companion.pages.visitor import Visitors
from companion.pages.workplace import Workplace
from companion.practice_log.logged import show_and_progress
from companion.setlist.tidy import folded
from companion.shown import harmless

LOOK_S: Final = 0.3  # seconds between looks at the file while a tab is visible; an outside edit is seen within one
SAID: Final = "x-said"


class WantedEdit(msgspec.Struct, frozen=True):
    """One field of a song as typed: ``was`` is the text that the page showed before."""

    title: str
    occurrence: int
    field: str
    value: str
    was: str
    column: str = "key"


class WantedTitle(msgspec.Struct, frozen=True):
    """The title of a show to begin, or the number of one to choose."""

    title: str = ""
    show: str = ""


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

    def undo(self, _: WantedTitle) -> Response:
        """Undo the newest change."""
        return self._said("Undone", self._desk().undo()[0])

    def redo(self, _: WantedTitle) -> Response:
        """Redo what was undone last."""
        return self._said("Done again", self._desk().redo()[0])

    def begin(self, wanted: WantedTitle) -> Response:
        """Begin an empty show."""
        title = wanted.title.strip()
        if not title or len(title) > 200 or not title.isprintable():
            raise CompanionError("a show needs a name of one line, such as Pier Street")
        self._workplace.begin(title)
        return self._said("Begun", title)

    def demo(self, _: WantedTitle) -> Response:
        """Open the invented engagement."""
        self._workplace.demo()
        return self._said("Opened", "the invented engagement")

    def choose(self, wanted: WantedTitle) -> Response:
        """Open a show that is known on this computer."""
        self._workplace.choose(wanted.show)
        return self._said("Opened", "")

    async def bring(self, request: Request) -> Response:
        """Make a show of a set list that was brought in."""
        raw, name = await request.body(), request.query_params.get("name", "")
        try:
            words = await run_in_threadpool(self._workplace.bring, raw, name)
        except FaultyFile as faulty:
            return PlainTextResponse(harmless("; ".join(one.problem for one in faulty.faults)), 422)
        except CompanionError as error:
            return PlainTextResponse(harmless(str(error)), 422)
        return self._said("Brought in", words)

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

    def _said(self, did: str, what: str) -> Response:
        words = f"{did}: {what}" if what else did
        return HTMLResponse(self._view("key"), headers={SAID: _header(words)})


def application(workplace: Workplace, visitors: Visitors) -> Gate:
    """Return the whole application, behind its gate."""
    pages = Pages(workplace, visitors)
    routes = [
        Route("/", pages.shell),
        Route("/assets/{name}", pages.file),
        Route("/view", pages.view),
        Route("/changes", pages.changes),
        Route("/key", pages.key, methods=["POST"]),
        Route("/bring", pages.bring, methods=["POST"]),
        Route("/edit", _changing(pages.edit, WantedEdit), methods=["POST"]),
        *(
            Route(f"/{name}", _changing(getattr(pages, name), WantedTitle), methods=["POST"])
            for name in ("undo", "redo", "begin", "demo", "choose")
        ),
    ]
    return Gate(Router(routes, redirect_slashes=False), visitors)


def _changing(answer: Callable[[Any], Response], kind: type[Any]) -> Callable[[Request], Any]:
    """Return the endpoint of a change: its JSON is read here, and its errors become words."""

    async def endpoint(request: Request) -> Response:
        try:
            wanted = msgspec.json.decode(await request.body(), type=kind)
        except (msgspec.MsgspecError, ValueError, RecursionError):
            return PlainTextResponse("that is no change that this page makes", 400)
        try:
            return await run_in_threadpool(answer, wanted)
        except FaultyFile as faulty:
            return PlainTextResponse(harmless("; ".join(one.problem for one in faulty.faults)), 422)
        except CompanionError as error:
            return PlainTextResponse(harmless(str(error)), 422)

    return endpoint


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
