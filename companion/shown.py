"""Text on its way out, made harmless: a title commands no terminal, turns no line round and is no formula."""

import contextlib
import io
import re
import sys
from collections.abc import Iterator
from typing import Any, Final, TextIO, cast

STANDS_FOR: Final = "\ufffd"  # a control character, or half a letter
# C0 and C1 control characters but tab and line feed (ISO/IEC 6429); line and paragraph separators; surrogates, which
# stand for the bytes of a file name that is no text; noncharacters.
CONTROL: Final = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufffe\uffff]")
# What turns the order of letters round or hides in them (Unicode Standard Annex #9, 2.1 to 2.4; tags; byte order mark).
DIRECTION: Final = re.compile("[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ufeff\U000e0000-\U000e007f]")
FORMULA: Final = ("=", "+", "-", "@", "\t", "\r")  # how a spreadsheet tells a formula from a text


def harmless(text: str) -> str:
    r"""Return a text that any terminal, window, page or list can show; most are returned as they are.

    Control characters become a replacement character, marks of direction go. Line feeds and tabs stay.

    >>> harmless("Moth\x1b[2J \u202eOwl")
    'Moth\ufffd[2J Owl'
    """
    if text.isprintable():
        return text
    return CONTROL.sub(STANDS_FOR, DIRECTION.sub("", text))


def harmless_line(text: str) -> str:
    r"""Return the same on one line: a space for each line feed and tab.

    >>> harmless_line("Moth\nOwl")
    'Moth Owl'
    """
    return harmless(text).replace("\n", " ").replace("\t", " ")


def harmless_cell(text: str) -> str:
    """Return a text for one cell of comma-separated values, which no spreadsheet takes for a formula.

    >>> harmless_cell("=1+1")
    "'=1+1"
    """
    plain = harmless(text)
    is_formula = plain.lstrip(f" {STANDS_FOR}").startswith(FORMULA)
    return f"'{plain}" if is_formula else plain


class HarmlessStream:
    """A text stream that whatever is written to reaches harmless; all else is the stream's own."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream

    def write(self, text: str) -> int:
        """Write a text, harmless."""
        return self._stream.write(harmless(text))

    def writelines(self, lines: Any) -> None:  # noqa: ANN401 - as a stream takes them
        """Write several."""
        for line in lines:
            self.write(line)

    def __getattr__(self, name: str) -> Any:  # noqa: ANN401 - whatever a stream has
        return getattr(self._stream, name)


def guarded(stream: TextIO) -> TextIO:
    """Return a stream through which texts go harmless."""
    return cast("TextIO", HarmlessStream(stream))


def unguarded(stream: TextIO) -> TextIO:
    """Return the stream itself, for what writes a terminal's commands of its own, around texts made harmless."""
    return stream._stream if isinstance(stream, HarmlessStream) else stream  # noqa: SLF001


@contextlib.contextmanager
def harmless_output() -> Iterator[None]:
    """Let all that is written to standard output and standard error meanwhile be harmless."""
    out, err = sys.stdout, sys.stderr
    for stream in (unguarded(out), unguarded(err)):
        if isinstance(stream, io.TextIOWrapper) and stream.errors == "strict":
            # A pipe and a file get cp1252 on Windows, which has no L with stroke.
            stream.reconfigure(errors="replace")
    mine = guarded(unguarded(out)), guarded(unguarded(err))
    sys.stdout, sys.stderr = mine
    try:
        yield
    finally:
        if sys.stdout is mine[0]:
            sys.stdout = out
        if sys.stderr is mine[1]:
            sys.stderr = err
