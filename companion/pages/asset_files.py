"""The program's own files for the browser: a fixed table, so that no address ever becomes a path."""

from importlib import resources
from typing import Final

from starlette.responses import Response

from companion.screen.screen_fonts import FACES as SCREEN_FACES

KINDS: Final = {
    "pages.css": "text/css; charset=utf-8",
    "pages.js": "text/javascript; charset=utf-8",
    "htmx.min.js": "text/javascript; charset=utf-8",  # htmx 4.0.1, unchanged from npm's htmx.org, 0BSD
    "hx-sse.min.js": "text/javascript; charset=utf-8",  # same package, dist/ext
    "icon.svg": "image/svg+xml",
    "faces.css": "text/css; charset=utf-8",
    **dict.fromkeys(
        ("letters.woff2", "letters-more.woff2", "letters-greek.woff2", "letters-cyrillic.woff2"), "font/woff2"
    ),
    **dict.fromkeys(("signs.woff2", "others.woff2", "others-more.woff2"), "font/woff2"),
}
FACES: Final = {f"face-{number}.ttf": path for number, path in enumerate(SCREEN_FACES)}
"""The stage screen's own faces, whole: a browser asks for one only for a letter that no small file has."""


def asset(name: str) -> Response | None:
    """Return the answer for one of the files; None if there is no such file."""
    if name in FACES:
        return Response(FACES[name].read_bytes(), headers={"content-type": "font/ttf"})
    kind = KINDS.get(name)
    if kind is None:
        return None
    raw = resources.files("companion.pages").joinpath("assets", name).read_bytes()
    return Response(raw, headers={"content-type": kind})
