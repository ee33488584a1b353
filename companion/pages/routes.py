"""The addresses of the page, behind their gate."""

from collections.abc import Callable
from typing import Any

import msgspec
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route, Router

from companion.errors import CompanionError, FaultyFile
from companion.pages.answering import Pages
from companion.pages.gate import Gate
from companion.pages.visitor import Visitors
from companion.pages.wanted import (
    WantedDownbeat,
    WantedEdit,
    WantedList,
    WantedMove,
    WantedRefusal,
    WantedReply,
    WantedRow,
    WantedShow,
    WantedSong,
    WantedStage,
)
from companion.pages.workplace import Workplace
from companion.shown import harmless
from companion.stopping import Stopping


def application(workplace: Workplace, visitors: Visitors, stopping: Stopping) -> Gate:
    """Return the whole application, behind its gate."""
    return Gate(Router(routes_of(Pages(workplace, visitors, stopping)), redirect_slashes=False), visitors)


def routes_of(pages: Pages) -> list[Route]:
    """Return every address, with what answers it."""
    changes: dict[str, tuple[Callable[[Any], Response], type[Any]]] = {
        "edit": (pages.edit, WantedEdit),
        "try": (pages.attempt, WantedEdit),
        "row": (pages.row, WantedRow),
        "where": (pages.where, WantedShow),
        "stage": (pages.stage, WantedStage),
        "move": (pages.move, WantedMove),
        "add": (pages.add, WantedSong),
        "add-set": (pages.add_set, WantedSong),
        "leave": (pages.leave, WantedShow),
        "encore": (pages.encore, WantedSong),
        "out": (pages.out, WantedSong),
        "undo": (pages.lists.undo, WantedShow),
        "redo": (pages.lists.redo, WantedShow),
        "begin": (pages.begin, WantedShow),
        "next-gig": (pages.next_gig, WantedShow),
        "demo": (pages.demo, WantedShow),
        "choose": (pages.choose, WantedShow),
        "refuse": (pages.refuse, WantedRefusal),
        "downbeat": (pages.downbeat, WantedDownbeat),
        "list": (pages.lists.next_list, WantedList),
        "reply": (pages.lists.reply, WantedReply),
    }
    return [
        Route("/", pages.shell),
        Route("/assets/{name}", pages.file),
        Route("/view", _reading(pages.view)),
        Route("/picture", _reading(pages.picture)),
        Route("/door", _reading(pages.door)),
        Route("/heard", _reading(pages.heard)),
        Route("/recording", _reading(pages.recording)),
        Route("/print", _reading(pages.print_sheet)),
        Route("/days", _reading(pages.days)),
        Route("/debrief", _reading(pages.debrief)),
        Route("/questions", _reading(pages.questions)),
        Route("/changes", pages.changes),
        Route("/key", pages.key, methods=["POST"]),
        Route("/bring", pages.lists.bring, methods=["POST"]),
        *(Route(f"/{name}", _changing(answer, kind), methods=["POST"]) for name, (answer, kind) in changes.items()),
    ]


def _changing(answer: Callable[[Any], Response], kind: type[Any]) -> Callable[[Request], Any]:
    """Return the endpoint of a change: its JSON is read here, and its errors become words."""

    async def endpoint(request: Request) -> Response:
        try:
            wanted = msgspec.json.decode(await request.body(), type=kind)
        except (msgspec.MsgspecError, ValueError, RecursionError):
            return PlainTextResponse("this page makes no such change", 400)
        try:
            return await run_in_threadpool(answer, wanted)
        except FaultyFile as faulty:
            return PlainTextResponse(harmless("; ".join(one.problem for one in faulty.faults)), 422)
        except CompanionError as error:
            return PlainTextResponse(harmless(str(error)), 422)

    return endpoint


def _reading(answer: Callable[[Request], Response]) -> Callable[[Request], Response]:
    """Return the endpoint of a page whose errors become words."""

    def endpoint(request: Request) -> Response:
        try:
            return answer(request)
        except CompanionError as error:
            return PlainTextResponse(harmless(str(error)), 422)

    return endpoint
