"""The parts of an office file, a zip of XML: each is streamed once, counted while it is read, never built as a tree.

The parser itself reports document types and entities, so no encoding or spelling can hide one.
"""

import io
import struct
import zipfile
import zlib
from collections.abc import Callable, Mapping
from typing import Final
from xml.parsers import expat

from companion.setlist.readers.limits import (
    MAX_DEPTH,
    MAX_ELEMENTS,
    MAX_PART_BYTES,
    MAX_PARTS,
    MAX_TOKEN_BYTES,
    MAX_ZIP_BYTES,
)
from companion.setlist.readers.refusal import no_list

CHUNK: Final = 1 << 15
FROM_ONE_CELL: Final = "the same, saved again as .xlsx or as .csv"
DAMAGED: Final = (
    zipfile.BadZipFile,
    zlib.error,
    struct.error,
    EOFError,
    NotImplementedError,
    RuntimeError,
    OSError,
    ValueError,
    OverflowError,
)

Opens = Callable[[str, Mapping[str, str]], None]  # an element's local name and its attributes, by their local names
Closes = Callable[[str], None]
Says = Callable[[str], None]


def names_in_zip(raw: bytes, shown: str) -> tuple[str, ...]:
    """Return the names of a zip's members. Raises FaultyFile if its directory is damaged or endless."""
    return tuple(member.filename for member in _opened(raw, shown).infolist())


def _opened(raw: bytes, shown: str) -> zipfile.ZipFile:
    try:
        found = zipfile.ZipFile(io.BytesIO(raw))
    except DAMAGED as error:
        raise no_list(shown, f"the file is damaged ({error})", "the same, saved again") from None
    if len(found.infolist()) > MAX_PARTS:
        raise no_list(shown, f"{len(found.infolist())} files inside; a document or workbook has about a dozen")
    return found


class Parts:
    """An open office file. Counts add up over all parts, so that many small ones cannot evade a limit."""

    def __init__(
        self,
        raw: bytes,
        shown: str,
        *,
        what: str = "workbook",
        main: str = "xl/workbook.xml",
        max_depth: int = MAX_DEPTH,
    ) -> None:
        """Check the zip's directory. Raises FaultyFile if it lacks ``main``, is locked, damaged or far too large.

        ``what``: the word for it in messages.
        """
        self.shown, self.what, self._max_depth = shown, what, max_depth
        self._bytes = self._elements = 0
        self._zip = _opened(raw, shown)
        members = self._zip.infolist()
        if sum(member.file_size for member in members) > MAX_ZIP_BYTES:
            raise self._too_much(MAX_ZIP_BYTES)
        if any(member.flag_bits & 1 for member in members):
            raise no_list(shown, "the file is locked with a password", "a copy without it")
        self.names = {member.filename for member in members}
        if main not in self.names:
            raise no_list(shown, f"this is a zip, but not a {what}", "the list as .xlsx, .csv, PDF or text")

    def read(self, name: str, opens: Opens, closes: Closes | None = None, says: Says | None = None) -> None:
        """Stream one part through these handlers. Raises FaultyFile if it is damaged, hostile or too large."""
        parser = expat.ParserCreate(namespace_separator=" ")
        parser.buffer_text = True
        parser.buffer_size = CHUNK
        depth = 0

        def opened(element: str, attributes: dict[str, str]) -> None:
            nonlocal depth
            depth += 1
            self._elements += 1
            if depth > self._max_depth:
                problem = f"{name} is nested deeper than {self._max_depth} levels; a {self.what} has about ten"
                raise no_list(self.shown, problem)
            if self._elements > MAX_ELEMENTS:
                raise no_list(self.shown, f"more than {MAX_ELEMENTS:,} cells and other values", "the list alone")
            if any(" " in one for one in attributes):
                attributes = {one.rpartition(" ")[2]: value for one, value in attributes.items()}
            opens(element.rpartition(" ")[2], attributes)

        def closed(element: str) -> None:
            nonlocal depth
            depth -= 1
            if closes is not None:
                closes(element.rpartition(" ")[2])

        def declared(*_what: object) -> None:
            raise no_list(self.shown, f"{name} declares XML entities, which no list needs")

        parser.StartElementHandler, parser.EndElementHandler = opened, closed
        parser.StartDoctypeDeclHandler = parser.EntityDeclHandler = declared
        if says is not None:
            parser.CharacterDataHandler = says
        try:
            self._stream(name, parser)
        except DAMAGED as error:
            raise no_list(self.shown, f"the {self.what} is damaged ({error})", "the same, saved again") from None
        except (expat.ExpatError, LookupError) as error:
            problem = f"the {self.what} cannot be read ({name}: {error})"
            write = FROM_ONE_CELL if self.what == "workbook" else "the same, saved again or exported as PDF"
            raise no_list(self.shown, problem, write) from None

    def _stream(self, name: str, parser: expat.XMLParserType) -> None:
        """Feed a part to its parser piece by piece, without trusting the size that the zip declares."""
        unended = 0
        with self._zip.open(name) as part:
            while piece := part.read(CHUNK):
                self._bytes += len(piece)
                if self._bytes > MAX_PART_BYTES:
                    raise self._too_much(MAX_PART_BYTES)
                last = piece.rfind(b">")
                unended = unended + len(piece) if last < 0 else len(piece) - last
                if unended > MAX_TOKEN_BYTES:
                    raise no_list(self.shown, f"{name} has one value of more than {MAX_TOKEN_BYTES:,} bytes")
                parser.Parse(piece, False)
        parser.Parse(b"", True)

    def _too_much(self, most: int) -> Exception:
        return no_list(self.shown, f"the {self.what} unpacks to more than {most // 1024 // 1024} MiB", "the list alone")
