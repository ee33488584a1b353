"""Whole accounts of short lists, one rule each: what every line was taken for, what was understood and is in doubt.

``tests/setlist/accounts/lists.txt`` holds the lists, ``accounts.txt`` how they are read. Each account was read beside
its list with one question: is this what a keyboard player would want? A change to the parser may change an account:
ask that of every line that differs, then write them anew with ``python tests/setlist/test_accounts.py``.
"""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from companion.setlist.list_reading import list_in
from companion.setlist.model import Doubt, SetList

FOLDER = Path(__file__).parent / "accounts"
NAMED = re.compile(r"\((\w+\.\w+)\)$")


def parts(name: str) -> dict[str, str]:
    """Return the parts of a file by their headings."""
    text = (FOLDER / name).read_text(encoding="utf-8")
    return dict(part.split("\n", 1) for part in text.split("=== ")[1:])


def account(heading: str, text: str) -> str:
    """Return what a list was read as: its show, its lines, its doubts. A heading may name the list's file: (a.csv)."""
    found = NAMED.search(heading)
    return "\n".join(_lines(list_in(text.encode(), found[1] if found else "list.txt"))) + "\n"


def _lines(found: SetList) -> Iterator[str]:
    show = found.show
    about = (show.title, show.band, show.date, show.venue)
    yield f"show: {' | '.join(str(one) for one in about if one)}"
    for one in show.sets:
        times = (one.starts_min, one.minutes)
        yield f"set {one.name}: {', '.join(song.title for song in one.songs)}" + (f" {times}" if any(times) else "")
    for line in found.lines:
        yield f"{line.took.value}: {line.says or line.text}"
        for doubt in line.doubts:
            yield f"    {_asked(doubt)}"
    yield from (f"doubt: {_asked(doubt)}" for doubt in found.doubts)
    yield from (f"aside: {one.text} ({one.reason})" for one in found.set_aside)
    yield from (f"note: {line}" for line in (show.notes or "").splitlines())


def _asked(doubt: Doubt) -> str:
    """Return what is in doubt, its question and the words that answer it."""
    answers = "/".join(answer.word for answer in doubt.answers)
    return f"{doubt} | {doubt.question} | {answers}" if doubt.question else str(doubt)


@pytest.mark.parametrize("heading", parts("lists.txt"))
def test_a_list_has_this_account_and_no_other(heading: str) -> None:
    assert account(heading, parts("lists.txt")[heading]) == parts("accounts.txt")[heading]


if __name__ == "__main__":
    made = "".join(f"=== {heading}\n{account(heading, text)}" for heading, text in parts("lists.txt").items())
    (FOLDER / "accounts.txt").write_text(made, encoding="utf-8")
