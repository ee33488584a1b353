"""The gate before every page: who may ask for what. Whatever is not allowed here goes no further.

Other programs and other users of this computer can reach 127.0.0.1, and any web page that the player visits can make
the browser send requests to it. So:

- the Host must be exactly ours, for reading too (DNS rebinding: a foreign name that resolves to 127.0.0.1);
- a change needs our own Origin, no foreign Sec-Fetch-Site (Fetch Metadata), and a content type that no form can send;
- nothing at all without the cookie, not even a style sheet; and nothing of the show without a token in a header, since
  a browser sends cookies to every port of a host (RFC 6265, 8.5);
- a body is counted while it arrives, and refused when it is too long.
"""

import hmac
import logging
import traceback
from collections.abc import Mapping
from email.utils import formatdate
from typing import Any, Final

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from companion.pages.visitor import ADDRESS, Visitors

LOG: Final = logging.getLogger("companion.pages")
MAX_JSON: Final = 256 * 1024  # bytes; the longest field has 5,000 letters, a long road map 60 KiB
MAX_UPLOAD: Final = 8 * 1024 * 1024  # bytes, as `companion import` takes
UPLOAD: Final = "/bring"
JSON: Final = "application/json"
BYTES: Final = "application/octet-stream"
TOKEN_HEADER: Final = "x-companion-token"  # noqa: S105  the header's name
READS: Final = ("GET", "HEAD")
ASSETS: Final = "/assets/"

POLICY: Final = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; connect-src 'self'; "
    "media-src blob:; "  # a recording comes with the token, which an address in the page could not hold
    "form-action 'none'; base-uri 'none'; frame-ancestors 'none'"
)
ALWAYS: Final[Mapping[str, str]] = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "cache-control": "no-store",
}


class TooLong(Exception):  # noqa: N818  a fact, answered here
    """The body is longer than this address takes."""


class Gate:
    """The middleware round the whole application."""

    def __init__(self, app: ASGIApp, visitors: Visitors) -> None:
        self._app = app
        self._visitors = visitors

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a refused request; pass on any other one."""
        if scope["type"] != "http":
            return  # no web sockets, no start-up messages
        refused = self._refusal(scope)
        answered = False

        async def with_headers(message: Message) -> None:
            nonlocal answered
            if message["type"] == "http.response.start":
                answered = True
                headers = MutableHeaders(scope=message)
                for name, value in ALWAYS.items():
                    headers[name] = value
                headers["date"] = formatdate(usegmt=True)
            await send(message)

        if refused is not None:
            await PlainTextResponse(refused[1], refused[0])(scope, receive, with_headers)
            return
        limit = MAX_UPLOAD if scope["path"] == UPLOAD else MAX_JSON
        try:
            await self._app(scope, _counted(receive, limit), with_headers)
        except TooLong:
            if not answered:
                words = f"too long: at most {limit // 1024:,} KiB"
                await PlainTextResponse(words, 413, {"connection": "close"})(scope, receive, with_headers)
        except Exception as error:  # noqa: BLE001  the one broad catch of this room: say where, answer, go on
            where = "".join(traceback.format_tb(error.__traceback__))  # without its words: they may hold a secret
            LOG.error("%s failed: %s\n%s", scope["path"], type(error).__name__, where)  # noqa: TRY400  same
            if not answered:
                words = "something went wrong; nothing was changed"
                await PlainTextResponse(words, 500)(scope, receive, with_headers)

    def _refusal(self, scope: Scope) -> tuple[int, str] | None:
        """Return the status and the words of a refusal; None lets the request in."""
        headers = Headers(scope=scope)
        visitors = self._visitors
        if headers.getlist("host") != [visitors.host]:
            return 421, "this address is not served here"
        method, path = scope["method"], scope["path"]
        if method not in (*READS, "POST"):
            return 405, "no such method here"
        if path == ADDRESS and method == "GET" and b"key=" in scope["query_string"]:
            return None  # the key is checked where it is used up
        if not visitors.knows_cookie(headers.get("cookie", "")):
            return 403, "This page is closed to you. Start companion prepare: it opens the page."
        site = headers.get("sec-fetch-site", "same-origin")
        if site != "same-origin" and not (site == "none" and path == ADDRESS):  # none: typed into the address bar
            return 403, "another site asked for this"
        if method in READS and (path == ADDRESS or path.startswith(ASSETS)):
            return None  # with the cookie alone: the empty page and the program's own files, nothing of the show
        if not hmac.compare_digest(headers.get(TOKEN_HEADER, "").encode(), visitors.token.encode()):
            return 403, "this tab's access has ended. Start companion prepare again: it opens the page."
        return self._change_refused(headers, path) if method == "POST" else None

    def _change_refused(self, headers: Headers, path: str) -> tuple[int, str] | None:
        if headers.getlist("origin") != [f"http://{self._visitors.host}"]:
            return 403, "another site asked for this"
        wanted = BYTES if path == UPLOAD else JSON
        if headers.get("content-type", "").partition(";")[0].strip().lower() != wanted:
            return 415, f"send {wanted}"
        limit = MAX_UPLOAD if path == UPLOAD else MAX_JSON
        length = headers.get("content-length", "")
        if length and (not length.isascii() or not length.isdecimal() or int(length) > limit):
            return 413, f"too long: at most {limit // 1024:,} KiB"
        return None


def _counted(receive: Receive, limit: int) -> Receive:
    """Return the same stream, which raises TooLong as soon as more than ``limit`` bytes have come."""
    come = 0

    async def counted() -> Any:  # noqa: ANN401  a message
        nonlocal come
        message = await receive()
        come += len(message.get("body", b""))
        if come > limit:
            raise TooLong
        return message

    return counted
