"""Read strangers' files in a child process, with limits of memory and time; its answer is plain data."""

import os
from collections.abc import Callable
from typing import TypeVar

import msgspec

from companion import child
from companion.child import Ended
from companion.errors import UNREADABLE, CompanionError, Fault, FaultyFile
from companion.setlist.notation import Notation
from companion.setlist.readers.refusal import OnlyPictures

T = TypeVar("T")

PICTURES_TAKE = 4  # times the memory and the time of a text: a photograph is unpacked to 50 million shades of grey

WHY = {
    Ended.TOO_LONG: f"it takes more than {child.MAX_CPU_S} seconds to read; an ordinary file takes half a second",
    Ended.TOO_MUCH: f"it takes more than {child.MAX_MEMORY >> 20} MiB of memory to read",
    Ended.BROKEN: "it cannot be read: it is damaged or needs too much memory",
}


class ReadRequest(msgspec.Struct, frozen=True):
    """The child's task: the first line of its input, before the file's bytes."""

    # list, midi, changes (of an earlier list), pictures (prepare them) or words (those read from pictures)
    kind: str
    name: str  # the file's name, without its folder
    notation: Notation | None = None  # None: the list itself decides
    chosen: str | None = None  # which of several lists in the file


class ReadApart(msgspec.Struct, frozen=True):
    """The child's answer: what it read, or the (line, column, problem, write) of each fault."""

    found: msgspec.Raw = msgspec.Raw(b"null")
    faults: tuple[tuple[int, int, str, str], ...] = ()
    only_pictures: bool = False


def asked_in(line: bytes) -> ReadRequest:
    """Return the task in the first line."""
    return msgspec.json.decode(line, type=ReadRequest)


def answer_to(asked: ReadRequest, raw: bytes, read: Callable[[ReadRequest, bytes], object]) -> bytes:
    """Return the answer of ``read``: its result, or the faults that it raises."""
    try:
        answer = ReadApart(found=msgspec.Raw(msgspec.json.encode(read(asked, raw))))
    except FaultyFile as faulty:
        faults = tuple(fault[1:] for fault in faulty.faults)
        answer = ReadApart(faults=faults, only_pictures=isinstance(faulty, OnlyPictures))
    return msgspec.json.encode(answer)


def read_apart(request: ReadRequest, raw: bytes, path: str | os.PathLike[str], found: type[T]) -> T:
    """Read a file's bytes in a child process.

    Raises FaultyFile if they are refused or the child hits a limit; OnlyPictures if they hold no text.
    """
    shown = os.fspath(path)
    is_for_pictures = request.kind == "pictures"
    asked = msgspec.structs.replace(request, name=request.name.encode(errors="replace").decode())
    try:
        answer = child.ask(
            child.python("companion.setlist.readers.apart_reader", *(["pictures"] if is_for_pictures else [])),
            msgspec.json.encode(asked) + b"\n" + raw,
            max_memory=child.MAX_MEMORY * (PICTURES_TAKE if is_for_pictures else 1),
            max_cpu_s=child.MAX_CPU_S * (PICTURES_TAKE if is_for_pictures else 1),
        )
    except OSError as error:
        raise CompanionError(f"{shown}: no process can be started to read it ({error.strerror or error})") from None
    if answer.ended is not Ended.WELL:
        raise FaultyFile((Fault(shown, 0, 0, WHY[answer.ended], "the list as CSV or text" * (request.kind == "list")),))
    try:
        answered = msgspec.json.decode(answer.out, type=ReadApart)
    except UNREADABLE:  # the reader's libraries may print beside the answer
        raise FaultyFile((Fault(shown, 0, 0, WHY[Ended.BROKEN], "the list as CSV or text"),)) from None
    if answered.faults:
        kind = OnlyPictures if answered.only_pictures else FaultyFile
        raise kind(tuple(Fault(shown, *fault) for fault in answered.faults))
    return msgspec.json.decode(answered.found, type=found)
