"""The program's own files for the browser: a fixed table, so that no address ever becomes a path.

These are the only answers that are compressed. They are the same for everyone, and hold no secret and no words of the
player's: an answer that held both, compressed together, would betray one by the other through its length (BREACH,
CVE-2013-3587).
"""

import functools
import gzip
import re
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


PACKED: Final = ("text/", "image/svg")  # typefaces in WOFF 2 are compressed already
TAKES_GZIP: Final = re.compile(r"(?:^|,)\s*(?:x-)?gzip\s*(?:;\s*q=(?P<share>[0-9.]+)\s*)?(?:,|$)", re.IGNORECASE)


def asset(name: str, encodings: str = "") -> Response | None:
    """Return the answer for one of the files; None if there is no such file.

    ``encodings``: the request's Accept-Encoding (RFC 9110, 12.5.3).
    """
    if name in FACES:
        return Response(FACES[name].read_bytes(), headers={"content-type": "font/ttf"})
    kind = KINDS.get(name)
    if kind is None:
        return None
    if not kind.startswith(PACKED):
        return Response(_raw(name), headers={"content-type": kind})
    headers = {"content-type": kind, "vary": "accept-encoding"}
    if not takes_gzip(encodings):
        return Response(_raw(name), headers=headers)
    return Response(_packed(name), headers={**headers, "content-encoding": "gzip"})


def takes_gzip(encodings: str) -> bool:
    """Return whether an Accept-Encoding header names gzip, and does not refuse it (``q=0``)."""
    found = TAKES_GZIP.search(encodings)
    return found is not None and (found["share"] or "1").strip("0.") != ""


def _raw(name: str) -> bytes:
    return resources.files("companion.pages").joinpath("assets", name).read_bytes()


@functools.lru_cache(len(KINDS))
def _packed(name: str) -> bytes:
    return gzip.compress(_raw(name), mtime=0)
