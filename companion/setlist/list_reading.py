"""Read a set list of any form in the current process, with an account of every line: for the child process alone."""

from pathlib import Path

from companion.setlist.model import SaidLine, SetList
from companion.setlist.notation import Notation
from companion.setlist.readers.any_file import rows_in


def changes_in(raw: bytes, name: str) -> tuple[SaidLine, ...]:
    """Read such a message in the current process."""
    from companion.setlist.parsing.list_talk import lines_of_changes  # noqa: PLC0415  as below
    from companion.setlist.parsing.text_lines import lines_of  # noqa: PLC0415  as below

    return lines_of_changes([line for page in rows_in(raw, name) for line in lines_of(page.rows)])


def list_in(raw: bytes, name: str, *, notation: Notation | None = None, chosen: str | None = None) -> SetList:
    """Read a set list of this name in the current process. Raises FaultyFile if it is not one."""
    from companion.setlist.parsing.understand import take_in  # noqa: PLC0415  its patterns take 0.2 s; only the child process needs them

    return take_in(rows_in(raw, name), title_of(name), notation=notation, chosen=chosen, path=name)


def list_of_words(raw: bytes, name: str, *, notation: Notation | None = None) -> SetList:
    """Read a set list from the words that a program read in a picture. Raises FaultyFile if they are none."""
    from companion.setlist.parsing.understand import take_in  # noqa: PLC0415  same
    from companion.setlist.readers.recognized_words import in_doubt, pages_of_words  # noqa: PLC0415  same

    return in_doubt(take_in(pages_of_words(raw, name), title_of(name), notation=notation, path=name))


def title_of(name: str) -> str:
    """Return a show's title from its list's file name."""
    return Path(name).stem.replace("-", " ").replace("_", " ").strip() or "New show"
