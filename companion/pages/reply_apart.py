"""The process that reads a pasted reply: ``python -m companion.pages.reply_apart``. A stranger wrote it.

It takes a ReplyRequest on standard input, and answers with LeaderAnswers in JSON, within the limits of a set list.
"""

import datetime as dt
import sys
from collections.abc import Sequence
from typing import Final

import msgspec

from companion import child
from companion.child import Ended
from companion.errors import UNREADABLE, CompanionError
from companion.leader.answers import LeaderAnswers, read_answers
from companion.setlist import Notation
from companion.show import Show

WHY: Final = {
    Ended.TOO_LONG: f"this message takes more than {child.MAX_CPU_S} seconds to read; paste the answers alone",
    Ended.TOO_MUCH: f"this message takes more than {child.MAX_MEMORY >> 20} MiB of memory; paste the answers alone",
}


class ReplyRequest(msgspec.Struct, frozen=True):
    """What is read, and with what: see ``read_answers``."""

    text: str
    show: Show
    notation: Notation
    today: dt.date | None = None
    numbers: tuple[int | None, ...] | None = None
    asked: frozenset[tuple[int, str]] = frozenset()
    at_once: frozenset[str] = frozenset()


def read_reply_apart(
    text: str,
    show: Show,
    *,
    notation: Notation = Notation.LETTERS,
    today: dt.date | None = None,
    numbers: Sequence[int | None] | None = None,
    asked: frozenset[tuple[int, str]] = frozenset(),
    at_once: frozenset[str] = frozenset(),
) -> LeaderAnswers:
    """Read a reply as ``read_answers`` does, in a child process. Raises CompanionError if it hits a limit."""
    shown = text.encode(errors="replace").decode()
    request = ReplyRequest(shown, show, notation, today, None if numbers is None else tuple(numbers), asked, at_once)
    try:
        answer = child.ask(child.python("companion.pages.reply_apart"), msgspec.json.encode(request))
        if answer.ended is Ended.WELL:
            return msgspec.json.decode(answer.out, type=LeaderAnswers)
    except (OSError, *UNREADABLE, msgspec.MsgspecError):
        raise CompanionError("this message cannot be read") from None
    raise CompanionError(WHY.get(answer.ended, "this message cannot be read"))


def answer_in(raw: bytes) -> bytes:
    """Return the answer to a request."""
    request = msgspec.json.decode(raw, type=ReplyRequest)
    found = read_answers(
        request.text,
        request.show,
        notation=request.notation,
        today=request.today,
        numbers=request.numbers,
        asked=request.asked,
        at_once=request.at_once,
    )
    return msgspec.json.encode(found)


def main() -> int:
    """Answer for the request on standard input."""
    child.limit_this_process()
    sys.stdout.buffer.write(answer_in(sys.stdin.buffer.read()))
    return 0


if __name__ == "__main__":
    sys.exit(main())
