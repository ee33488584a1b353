"""The answers to a list's doubts, kept in a file beside the show for the list's next version."""

import os
from pathlib import Path
from typing import Final

import msgspec

from companion.edits import Appended
from companion.errors import UNREADABLE, CompanionError, NotWritten
from companion.files.appending import append_lines
from companion.regular import read_regular

MAX_BYTES: Final = 4 * 1024 * 1024  # a list has thirty answers of 80 bytes


class SettledDoubt(msgspec.Struct, frozen=True):
    """A question as it was asked, and the word that answered it."""

    question: str
    word: str


def answers_path(show_path: str | os.PathLike[str]) -> Path:
    """Return the file of a show's answers, beside the show so that it moves with it: pier-street.answers.jsonl."""
    path = Path(show_path)
    return path.with_name(f"{path.stem}.answers.jsonl")


def answers_of(show_path: str | os.PathLike[str]) -> tuple[SettledDoubt, ...]:
    """Return the answers kept for a show, the oldest first. A line that cannot be read is passed over."""
    try:
        raw = read_regular(answers_path(show_path), MAX_BYTES)
    except FileNotFoundError:
        return ()
    except (OSError, ValueError) as error:
        raise CompanionError(f"{answers_path(show_path)} cannot be read: {error}") from None
    found = []
    for line in raw.splitlines():
        try:
            found.append(msgspec.json.decode(line, type=SettledDoubt))
        except UNREADABLE:
            continue
    return tuple(found)


def kept_lines(show_path: str | os.PathLike[str], answered: tuple[SettledDoubt, ...]) -> tuple[Appended, ...]:
    """Return the lines that keep these answers for the list's next version."""
    lines = "".join(f"{msgspec.json.encode(one).decode()}\n" for one in answered)
    return (Appended(str(answers_path(show_path)), lines),) if lines else ()


def keep_answers(lines: tuple[Appended, ...]) -> None:
    """Keep answers where nothing else is written with them. Raises NotWritten."""
    for one in lines:
        try:
            append_lines(Path(one.path), one.lines.encode())
        except OSError as error:
            raise NotWritten(f"{one.path} cannot be written ({error.strerror or error})") from None
