"""Single keys from a terminal, named as in the rig file, for the text screen."""

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
REST_OF_A_KEY_S: Final = 0.1  # a slow line may split a sequence, but a lone escape is a key too
REST_OF_A_SEQUENCE_S: Final = 1.0  # no key here sends ESC [ alone, so wait longer for the rest
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
    """Yield each key as it is pressed; after Ctrl-C yield "interrupt" and stop.

    A terminal does not report releases.
    """
    import readchar  # only a text screen needs it

    words = words_for(vars(readchar.key))
    try:
        for typed in _keys_read():
            name = words.get(typed) or (typed.lower() if len(typed) == 1 and typed.isprintable() else None)
            if name is not None:
                yield name
    except KeyboardInterrupt:
        yield INTERRUPT


def _keys_read() -> Iterator[str]:
    """Yield what the terminal sends, one key at a time, until it closes.

    Uses the library only on Windows: elsewhere, it discards input that arrived since the last key.
    """
    if sys.platform == "win32":
        import readchar  # as above

        while typed := readchar.readkey():
            yield typed
        return
    decode = codecs.getincrementaldecoder("utf-8")("ignore").decode
    with contextlib.suppress(OSError, termios.error):
        while chunk := _read(sys.stdin.fileno()):
            yield from _KEY.findall(decode(chunk))


def _read(terminal: int) -> bytes:
    """Wait for keys, then restore the terminal, so that a prompt between keys can read a whole line."""
    before = termios.tcgetattr(terminal)
    single = [*before[:3], before[3] & ~(termios.ICANON | termios.ECHO), *before[4:]]
    termios.tcsetattr(terminal, termios.TCSADRAIN, single)  # TCSAFLUSH would lose a key that arrived meanwhile
    try:
        typed = os.read(terminal, MAX_AT_ONCE)
        while cut := _CUT_SHORT.search(typed):
            rest_s = REST_OF_A_SEQUENCE_S if b"[" in cut[0] else REST_OF_A_KEY_S
            if not select.select([terminal], [], [], rest_s)[0]:
                break
            typed += os.read(terminal, MAX_AT_ONCE)
        return typed
    finally:
        termios.tcsetattr(terminal, termios.TCSADRAIN, before)


def with_repeats(keys: Iterable[str], clock_ns: Callable[[], int] = now_ns) -> Iterator[tuple[str, bool]]:
    """Yield each key and whether it is a held key's repeat: the same key within 120 ms of its last arrival.

    A terminal does not report releases. Repeats arrive every 30 to 92 ms (slowest: the Linux console, 10.9 a second,
    kbdrate(8)); a second press by foot or finger takes longer. A held key's first repeat arrives so late that it counts
    as a press.
    """
    last, last_ns = None, 0
    for key in keys:
        at_ns = clock_ns()
        yield key, key == last and at_ns - last_ns <= REPEAT_NS
        last, last_ns = key, at_ns


def words_for(codes: Mapping[str, object]) -> dict[str, str]:
    """Return key names by what this system's terminal sends. ``codes`` are the library's codes, by its names."""
    found = {}
    for name in (*_NAMES, "delete"):
        code = codes.get("SUPR" if name == "delete" else name.upper().replace(" ", "_"))
        if isinstance(code, str):
            found[code] = name
    return found | _ALSO


@contextlib.contextmanager
def terminal_restored() -> Iterator[None]:
    """Restore the terminal's settings at the end: a thread that still waits for a key has switched off its echo."""
    if sys.platform == "win32" or sys.stdin is None or not sys.stdin.isatty():
        yield
        return
    before = termios.tcgetattr(sys.stdin.fileno())
    try:
        yield
    finally:
        termios.tcsetattr(sys.stdin.fileno(), termios.TCSANOW, before)
