"""The floor of the page's bench: the same server and the same browser with as little to do as there can be.

    python tests/bench/bare_page.py PORT ANSWER FILE

It serves one page with one field. Each letter is answered with the bytes of the file ANSWER, put into the page as they
are; with "kept", FILE is written and synced before the answer.
"""

import os
import sys
from pathlib import Path

import uvicorn
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

PAGE = """<!doctype html><meta charset=utf-8><title>bare</title><input id=field><div id=pictures></div><script>
document.getElementById("field").addEventListener("input", async (event) => {
  const answer = await fetch("/answer", {method: "POST", body: event.target.value});
  document.getElementById("pictures").innerHTML = await answer.text();
});</script>"""


def application(answer: bytes, file: Path) -> Starlette:
    """Return the page and its answer."""

    async def page(_: Request) -> Response:
        return HTMLResponse(PAGE)

    async def answered(request: Request) -> Response:
        text = await request.body()
        if text.startswith(b"kept"):
            with file.open("wb") as kept:
                kept.write(answer)
                kept.flush()
                os.fsync(kept.fileno())
        return HTMLResponse(answer + text)

    return Starlette(routes=[Route("/", page), Route("/answer", answered, methods=["POST"])])


if __name__ == "__main__":
    uvicorn.run(
        application(Path(sys.argv[2]).read_bytes(), Path(sys.argv[3])),
        port=int(sys.argv[1]),
        http="h11",
        loop="asyncio",
        ws="none",
        lifespan="off",
        log_config=None,
    )
