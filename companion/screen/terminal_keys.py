"""Single keys from a terminal, by the words of the rig file, for the text screen."""

from collections.abc import Iterator, Mapping
from typing import Final

INTERRUPT: Final = "interrupt"
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
    """Give each key as it is pressed; "interrupt" for the terminal's own wish to end, and then no more.

    A terminal tells no releases. A lone escape is told when the next key comes.
    """
    import readchar  # noqa: PLC0415  # only a text screen needs it

    words = words_for(vars(readchar.key))
    while True:
        try:
            came = readchar.readkey()
        except KeyboardInterrupt:
            yield INTERRUPT
            return
        if not came:
            return  # the terminal has gone
        name = words.get(came) or (came.lower() if len(came) == 1 and came.isprintable() else None)
        if name is not None:
            yield name


def words_for(codes: Mapping[str, object]) -> dict[str, str]:
    """Give the key's name for what the terminal of this system sends. ``codes`` are the library's, by its names."""
    found = {}
    for name in (*_NAMES, "delete"):
        code = codes.get("SUPR" if name == "delete" else name.upper().replace(" ", "_"))
        if isinstance(code, str):
            found[code] = name
    return found | _ALSO
