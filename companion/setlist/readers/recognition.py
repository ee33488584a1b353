"""Read a picture of a list with the text recognition program that is installed, in a process with limits of its own."""

import os
import subprocess
from pathlib import Path
from typing import Final

import msgspec

from companion import child
from companion.child import Ended
from companion.errors import CompanionError
from companion.setlist.model import SetList
from companion.setlist.readers.apart import ReadRequest, read_apart
from companion.setlist.readers.picture_pages import PreparedPictures
from companion.setlist.readers.refusal import no_list
from companion.setlist.readers.second_look import lacks_keys, with_keys

PROGRAM: Final = "tesseract"
GET_PROGRAM: Final = (  # the systems' own package names, from memory but for Debian's
    "the list as text, or install tesseract, which reads pictures (Debian, Ubuntu: sudo apt install tesseract-ocr; "
    "macOS: brew install tesseract; Windows: winget install UB-Mannheim.TesseractOCR)"
)
MAX_MEMORY: Final = 1 << 30  # bytes; a page takes 150 MiB
MAX_CPU_S: Final = 60  # processor seconds a page; an ordinary one takes one to five
MAX_S: Final = 120.0  # a reading; a page has at most two
IN_COLUMNS, IN_ONE_BLOCK = "4", "6"  # the program's numbers for a page's layout
MAX_LANGUAGES: Final = 3  # each makes reading slower
NO_LANGUAGES: Final = ("osd", "equ")  # layout and formulas
WHY: Final = {
    Ended.TOO_LONG: f"it takes more than {MAX_CPU_S} seconds to read",
    Ended.TOO_MUCH: f"it takes more than {MAX_MEMORY >> 20} MiB of memory to read",
    Ended.BROKEN: "tesseract cannot read it",
}


def recognized_list(asked: ReadRequest, raw: bytes, path: str | os.PathLike[str]) -> SetList:
    """Read a list from a picture or a PDF without text. Raises FaultyFile if it is refused or cannot be read."""
    shown = os.fspath(path)
    program = child.program(PROGRAM)
    if program is None:
        raise no_list(shown, "this is a picture, and no program that reads pictures is installed", GET_PROGRAM)
    pictures = read_apart(msgspec.structs.replace(asked, kind="pictures"), raw, path, PreparedPictures)
    words = b"\f".join(_with_second_look(program, page, shown) for page in pictures.pages)
    return read_apart(msgspec.structs.replace(asked, kind="words"), words, path, SetList)


def _with_second_look(program: str, page: bytes, shown: str) -> bytes:
    """Return the words of one page; where hardly a line ends in a key, keys of a second reading as one block."""
    words = _words(program, page, shown, IN_COLUMNS)
    return with_keys(words, _words(program, page, shown, IN_ONE_BLOCK)) if lacks_keys(words) else words


def _words(program: str, page: bytes, shown: str, layout: str) -> bytes:
    """Return the words of one page with their places, as the program's tab-separated values."""
    words = ("stdin", "stdout", "-l", _languages(program), "--psm", layout, "--dpi", "300", "tsv")
    command = [program, *words]
    if child.system_has_limits():
        command = child.python("companion.setlist.readers.limited_program", str(MAX_MEMORY), str(MAX_CPU_S), *command)
    try:
        answer = child.ask(command, page, max_s=MAX_S, max_memory=MAX_MEMORY, max_cpu_s=MAX_CPU_S)
    except OSError as error:
        raise CompanionError(f"{shown}: {program} cannot be started ({error.strerror or error})") from None
    if answer.ended is not Ended.WELL:
        raise no_list(shown, WHY[answer.ended], "a smaller or sharper picture, or the list as text")
    return answer.out


def _languages(program: str) -> str:
    """Return the languages to read in: English first, then others that are installed."""
    try:
        done = subprocess.run(  # noqa: S603 - a program of the system, found on the path's absolute folders
            (program, "--list-langs"), capture_output=True, timeout=20, check=False, cwd=Path(program).parent
        )
    except (OSError, subprocess.TimeoutExpired):
        return "eng"
    found = [line.strip() for line in done.stdout.decode(errors="replace").splitlines()[1:]]
    known = [one for one in found if one.isidentifier() and one not in NO_LANGUAGES]
    return "+".join(sorted(known, key=lambda one: one != "eng")[:MAX_LANGUAGES]) or "eng"
