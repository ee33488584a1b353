"""Single keys from a terminal, by the words of the rig file, for the text screen."""

import codecs
import contextlib
import os
import re
import select
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Final

from companion.clock import now_ns

if sys.platform != "win32":
    import termios

INTERRUPT: Final = "interrupt"
MAX_AT_ONCE: Final = 1024  # bytes
REST_OF_A_KEY_S: Final = 0.1  # a slow line may cut a sequence in two, but a lone escape is a key too
REST_OF_A_SEQUENCE_S: Final = 1.0  # no key of this program sends ESC [ alone: the rest will come
_KEY: Final = re.compile(r"\x1b\[[0-?]*[ -/]*[@-~]?|\x1bO.?|.", re.DOTALL)  # ECMA-48 control sequences; SS3; a letter
_CUT_SHORT: Final = re.compile(rb"\x1b(\[[0-?]*[ -/]*|O)?\Z")
REPEAT_NS: Final = 120_000_000
_NAMES: Final = (
    *("up", "down", "left", "right", "home", "end", "insert", "page up", "page down", "space", "tab", "backspace"),
    *(f"f{number}" for number in range(1, 13)),
)
_ALSO: Final = {
    "\r": "enter",
    "\n": "enter",
    "\x7f": "backspace",
    "\x08": "backspace",
    "\x1b": "escape",
    "\x1b\x1b": "escape",
}


def keys_pressed() -> Iterator[str]:
    """Yield each key as it is pressed; "interrupt" for the terminal's own wish to end, and then no more.

    A terminal tells no releases.
    """
    import readchar  # only a text screen needs it

    words = words_for(vars(readchar.key))
    try:
        for came in _keys_read():
            name = words.get(came) or (came.lower() if len(came) == 1 and came.isprintable() else None)
            if name is not None:
                yield name
    except KeyboardInterrupt:
        yield INTERRUPT


def _keys_read() -> Iterator[str]:
    """Yield what the terminal sends, one key at a time, until it is gone.

    Only Windows leaves it to the library, which elsewhere throws away what came since the key before.
    """
    if sys.platform == "win32":
        import readchar  # same

        while came := readchar.readkey():
            yield came
        return
    decode = codecs.getincrementaldecoder("utf-8")("ignore").decode
    with contextlib.suppress(OSError, termios.error):
        while chunk := _read(sys.stdin.fileno()):
            yield from _KEY.findall(decode(chunk))


def _read(terminal: int) -> bytes:
    """Wait for keys; between them the terminal is as it was, for a question that is answered with a line."""
    before = termios.tcgetattr(terminal)
    single = [*before[:3], before[3] & ~(termios.ICANON | termios.ECHO), *before[4:]]
    termios.tcsetattr(terminal, termios.TCSADRAIN, single)  # TCSAFLUSH would lose a key that has come meanwhile
    try:
        came = os.read(terminal, MAX_AT_ONCE)
        while cut := _CUT_SHORT.search(came):
            rest_s = REST_OF_A_SEQUENCE_S if b"[" in cut[0] else REST_OF_A_KEY_S
            if not select.select([terminal], [], [], rest_s)[0]:
                break
            came += os.read(terminal, MAX_AT_ONCE)
        return came
    finally:
        termios.tcsetattr(terminal, termios.TCSADRAIN, before)


def with_repeats(keys: Iterable[str], clock_ns: Callable[[], int] = now_ns) -> Iterator[tuple[str, bool]]:
    """Yield each key and whether a held key repeats it: the same key within 120 ms, counted from when it last came.

    A terminal tells no releases. Repeats come every 30 to 92 ms (the slowest is the Linux console's own, 10.9 a second:
    kbdrate(8)), a foot's or a finger's second press later. The first repeat comes so late that it is one press more.
    """
    last, last_ns = None, 0
    for key in keys:
        at_ns = clock_ns()
        yield key, key == last and at_ns - last_ns <= REPEAT_NS
        last, last_ns = key, at_ns


def words_for(codes: Mapping[str, object]) -> dict[str, str]:
    """Return the key's name for what the terminal of this system sends. ``codes`` are the library's, by its names."""
    found = {}
    for name in (*_NAMES, "delete"):
        code = codes.get("SUPR" if name == "delete" else name.upper().replace(" ", "_"))
        if isinstance(code, str):
            found[code] = name
    return found | _ALSO


@contextlib.contextmanager
def left_as_it_was() -> Iterator[None]:
    """Leave the terminal as it was: whoever waits for a key when all is over has switched its echo off."""
    if sys.platform == "win32" or sys.stdin is None or not sys.stdin.isatty():
        yield
        return
    before = termios.tcgetattr(sys.stdin.fileno())
    try:
        yield
    finally:
        termios.tcsetattr(sys.stdin.fileno(), termios.TCSANOW, before)
