"""Make text harmless on its way out: no terminal commands, no reversed lines, no spreadsheet formulas."""

import contextlib
import io
import re
import sys
from collections.abc import Iterator
from typing import Any, Final, TextIO, cast

STANDS_FOR: Final = "\ufffd"  # replaces a control character or half a character
# C0 and C1 control characters except tab and line feed (ISO/IEC 6429); line and paragraph separators; surrogates,
# which stand for undecodable bytes of a file name; noncharacters.
CONTROL: Final = "[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufffe\uffff]"
# Characters that reverse the order of letters or are invisible (Unicode Standard Annex #9, 2.1 to 2.4; tags; byte
# order mark).
DIRECTION: Final = "[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ufeff\U000e0000-\U000e007f]"
FORMULA: Final = ("=", "+", "-", "@", "\t", "\r")  # a cell that begins with one of these is a formula


def harmless(text: str) -> str:
    r"""Return a text that is safe in any terminal, window, page or list; most are returned unchanged.

    Control characters become a replacement character; direction marks are removed. Line feeds and tabs stay.

    >>> harmless("Moth\x1b[2J \u202eOwl")
    'Moth\ufffd[2J Owl'
    """
    if text.isprintable():
        return text
    return re.sub(CONTROL, STANDS_FOR, re.sub(DIRECTION, "", text))  # compiled on first use: a start needs neither


def harmless_line(text: str) -> str:
    r"""Return the harmless text on one line: a space for each line feed and tab.

    >>> harmless_line("Moth\nOwl")
    'Moth Owl'
    """
    return harmless(text).replace("\n", " ").replace("\t", " ")


def harmless_cell(text: str) -> str:
    """Return the text for a cell of comma-separated values, so that no spreadsheet reads it as a formula.

    >>> harmless_cell("=1+1")
    "'=1+1"
    """
    plain = harmless(text)
    is_formula = plain.lstrip(f" {STANDS_FOR}").startswith(FORMULA)
    return f"'{plain}" if is_formula else plain


class HarmlessStream:
    """A text stream that makes everything written to it harmless; the rest is the stream's own."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream

    def write(self, text: str) -> int:
        """Write a text, made harmless."""
        return self._stream.write(harmless(text))

    def writelines(self, lines: Any) -> None:  # noqa: ANN401 - as a stream takes them
        """Write several texts, made harmless."""
        for line in lines:
            self.write(line)

    def __getattr__(self, name: str) -> Any:  # noqa: ANN401 - any attribute of a stream
        return getattr(self._stream, name)


def guarded(stream: TextIO) -> TextIO:
    """Return a stream that makes texts harmless on their way to this one."""
    return cast("TextIO", HarmlessStream(stream))


def unguarded(stream: TextIO) -> TextIO:
    """Return the original stream, for code that writes its own terminal commands around harmless texts."""
    return stream._stream if isinstance(stream, HarmlessStream) else stream  # noqa: SLF001


@contextlib.contextmanager
def harmless_output() -> Iterator[None]:
    """Make everything written to standard output and standard error harmless inside the ``with`` block."""
    out, err = sys.stdout, sys.stderr
    for stream in (unguarded(out), unguarded(err)):
        if isinstance(stream, io.TextIOWrapper) and stream.errors == "strict":
            # Windows writes cp1252 to a pipe or a file, which lacks letters such as the L with stroke.
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
