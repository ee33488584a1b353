"""A browser's requests without a browser: the whole application behind its gate, on a show of one's own."""

import asyncio
import json
from collections.abc import Iterable
from pathlib import Path
from urllib.parse import unquote

from starlette.types import Message, Scope

from companion.pages.answering import Pages
from companion.pages.gate import TOKEN_HEADER, Gate
from companion.pages.routes import application, routes_of
from companion.pages.visitor import Visitors
from companion.pages.workplace import Workplace
from companion.stopping import Stopping

PORT = 4711
HOST = f"127.0.0.1:{PORT}"
ORIGIN = f"http://{HOST}"

SHOW = """\
show: Night at the Mill
band: The Tidewater Nine
sets:
  - set: First
    starts: "20:00"
    minutes: 10
    songs:
      - title: Tram Home   # ask Osbert
        length: "3:40"
      - Herring Waltz
      - {title: Nine Wet Umbrellas, key: Gm, notes: organ solo}
  - set: Second
    songs:
      - title: Herring Waltz
        key: A
        sound: strings
"""


class Answer:
    """What the application answered."""

    def __init__(self) -> None:
        self.status_code = 0
        self.headers: dict[str, str] = {}
        self.body = b""

    @property
    def text(self) -> str:
        """The body as text."""
        return self.body.decode(errors="replace")

    async def take(self, message: Message) -> None:
        """Take one message of the answer."""
        if message["type"] == "http.response.start":
            self.status_code = message["status"]
            self.headers = {name.decode().lower(): value.decode() for name, value in message["headers"]}
        else:
            self.body += message.get("body", b"")


class Clock:
    """Seconds that a test moves by hand."""

    def __init__(self) -> None:
        self.now_s = 0.0

    def __call__(self) -> float:
        return self.now_s


class Site:
    """The application with one visitor that may come in; ``ask`` sends what a request's table says."""

    def __init__(self, folder: Path, text: str | None = SHOW) -> None:
        self.path = folder / "mill.yaml"
        if text is not None:
            self.path.write_text(text, encoding="utf-8")
        self.clock = Clock()
        self.visitors = Visitors(PORT, now=self.clock)
        self.workplace = Workplace(folder / "kept", folder / "shows", HOST)
        if text is not None:
            self.workplace.open(self.path)
        self.app: Gate = application(self.workplace, self.visitors, Stopping())
        self.pages = Pages(self.workplace, self.visitors, Stopping())
        self.routes = routes_of(self.pages)

    @property
    def headers(self) -> dict[str, str]:
        """What the page of the player sends with a change."""
        return {
            "Host": HOST,
            "Cookie": self.visitors.set_cookie.partition(";")[0],
            TOKEN_HEADER: self.visitors.token,
            "Origin": ORIGIN,
            "Sec-Fetch-Site": "same-origin",
            "Content-Type": "application/json",
        }

    def ask(self, method: str, path: str, body: object = None, **changed: str | None) -> Answer:
        """Send a request as the page would; a header set to None is left out (``_`` stands for ``-``)."""
        headers = {name.lower(): value for name, value in self.headers.items()}
        for name, value in changed.items():
            key = name.replace("_", "-").lower()
            headers.pop(key, None)
            if value is not None:
                headers[key] = value
        raw = b"" if body is None else body if isinstance(body, bytes) else json.dumps(body).encode()
        return self.send(method, path, [raw], {**headers, "content-length": str(len(raw))})

    def send(self, method: str, path: str, chunks: Iterable[bytes], headers: dict[str, str]) -> Answer:
        """Call the application as the server does, with a body that comes in parts."""
        route, _, query = path.partition("?")
        scope: Scope = {
            "type": "http",
            "asgi": {"version": "3.0"},
            "http_version": "1.1",
            "method": method,
            "scheme": "http",
            "path": unquote(route),
            "raw_path": route.encode(),
            "root_path": "",
            "query_string": query.encode(),
            "headers": [(name.lower().encode(), value.encode()) for name, value in headers.items()],
        }
        answer, parts = Answer(), iter(chunks)

        async def receive() -> Message:
            part = next(parts, None)
            if part is not None:
                return {"type": "http.request", "body": part, "more_body": True}
            if not answer.status_code or route != "/changes":
                receive_ended.append(True)
                if len(receive_ended) == 1:
                    return {"type": "http.request", "body": b"", "more_body": False}
            if route == "/recording":
                await asyncio.Event().wait()  # until all of it has come
            await asyncio.sleep(0)
            return {"type": "http.disconnect"}

        receive_ended: list[bool] = []
        asyncio.run(self.app(scope, receive, answer.take))
        return answer

    def type(self, title: str, field: str, value: str, was: str = "", occurrence: int = 1) -> Answer:
        """Type a field of a song."""
        song = {"title": title, "occurrence": occurrence}
        return self.ask("POST", "/edit", {**song, "field": field, "value": value, "was": was})

    @property
    def text(self) -> str:
        """The show's file."""
        return self.path.read_text(encoding="utf-8")
