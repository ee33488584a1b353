"""The messages between engine and screen: one line of JSON each, over pipes."""

import msgspec

from companion.view.view_lines import View


class Eyes(msgspec.Struct, frozen=True, tag_field="line", tag="eyes"):
    """The first line to the screen: its width, and its distance from the eyes (None: use the assumed value).

    ``zero_ns`` is the ``companion.clock`` time at which the show's time is 0, for the beat mark; None: no beat mark.
    ``monitor`` is the monitor to open the window on, from 0; the first one if it is not connected.
    """

    width_mm: float | None = None
    distance_m: float | None = None
    zero_ns: int | None = None
    monitor: int = 0


class Ping(msgspec.Struct, frozen=True, tag_field="line", tag="ping"):
    """Asks whether the screen still draws. A separate thread answers ``alive`` at once, even while drawing hangs."""


FromEngine = Eyes | View | Ping


class ChartIs(msgspec.Struct, frozen=True, omit_defaults=True):
    """What the screen found out about a chart: how many screenfuls it has, or why the screen cannot show it."""

    path: str
    turns: int = 0
    problem: str = ""


class ScreenMessage(msgspec.Struct, frozen=True, omit_defaults=True):
    """A line from the screen. ``at`` is ns by ``companion.clock``; ``text`` is the character that the key types.

    A reply to a ping has ``alive`` set. ``behind`` is how many earlier pings the drawing has not reached yet;
    ``dragged``: the window is being dragged, so the system draws nothing; ``opening``: the window is being opened.
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


def as_line(message: FromEngine | ScreenMessage) -> bytes:
    """Return the message as a line of JSON, newline included."""
    return _WRITE.encode(message) + b"\n"


def read_screen_line(line: bytes) -> ScreenMessage:
    """Read a line from the screen. Raises one of ``UNREADABLE``."""
    return _HEARD.decode(line)


def read_engine_line(line: bytes) -> Eyes | View | Ping:
    """Read a line from the engine. Raises one of ``UNREADABLE``."""
    return _TOLD.decode(line)
