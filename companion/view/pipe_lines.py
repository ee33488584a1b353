"""What the engine and the screen say to each other: one JSON line each, over pipes."""

import msgspec

from companion.view.view_lines import View


class Eyes(msgspec.Struct, frozen=True, tag_field="line", tag="eyes"):
    """The first line to the screen: how wide it is and how far the eyes are (None: assumed).

    ``zero_ns`` is when the show's own time was 0, by ``companion.clock``, for the beat mark; None: none.
    ``monitor`` is the one to open the window on, from 0; the first where it is not there.
    """

    width_mm: float | None = None
    distance_m: float | None = None
    zero_ns: int | None = None
    monitor: int = 0


class Ping(msgspec.Struct, frozen=True, tag_field="line", tag="ping"):
    """Asks the screen whether it still draws; it answers ``alive`` at once, beside its drawing."""


FromEngine = Eyes | View | Ping


class ChartIs(msgspec.Struct, frozen=True, omit_defaults=True):
    """What the screen has found out about a chart: how many screenfuls it has, or why it cannot be shown."""

    path: str
    turns: int = 0
    problem: str = ""


class ScreenMessage(msgspec.Struct, frozen=True, omit_defaults=True):
    """A line from the screen. ``at`` is ns by the same clock, ``text`` the character that the key types, if any.

    With ``alive`` it says how it is: how many earlier questions its drawing is ``behind``; whether its window is being
    ``dragged``, so that the system draws nothing, or is ``opening``.
    """

    key: str | None = None
    down: bool | None = None
    at: int | None = None
    text: str | None = None
    closed: bool = False
    ready: bool = False
    alive: bool = False
    behind: int = 0
    dragged: bool = False
    opening: bool = False
    problem: str | None = None
    chart: ChartIs | None = None


_HEARD = msgspec.json.Decoder(ScreenMessage)
_TOLD: msgspec.json.Decoder[Eyes | View | Ping] = msgspec.json.Decoder(FromEngine)
_WRITE = msgspec.json.Encoder()


def as_line(told: FromEngine | ScreenMessage) -> bytes:
    """Return the line to write."""
    return _WRITE.encode(told) + b"\n"


def read_screen_line(line: bytes) -> ScreenMessage:
    """Read a line from the screen. Raises one of ``UNREADABLE``."""
    return _HEARD.decode(line)


def read_engine_line(line: bytes) -> Eyes | View | Ping:
    """Read a line from the engine. Raises one of ``UNREADABLE``."""
    return _TOLD.decode(line)
