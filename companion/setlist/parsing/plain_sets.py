"""Find the sets whose songs have no number or bullet, in a list whose other sets have them."""

from collections.abc import Sequence

from companion.setlist.model import LineKind
from companion.setlist.parsing.list_style import Style
from companion.setlist.parsing.text_lines import TextLine

FEWEST = 3  # titles beside other lines; a key among fewer is enough


def plain_sets(
    lines: Sequence[TextLine],
    kinds: Sequence[LineKind | None],
    titles: Sequence[bool],
    keyed: Sequence[bool],
    style: Style,
) -> frozenset[int]:
    """Return the numbers of the lines that are songs of such sets.

    A set begins below its heading, and ends at the next heading or blank line. All arguments run line by line;
    ``kinds`` holds None for a line that may be a song, ``titles`` and ``keyed`` say what it looks like.
    """
    found: set[int] = set()
    for at, kind in enumerate(kinds):
        if kind is LineKind.SET:
            below = _below(at, lines, kinds)
            songs = [one for one in below if titles[one]]
            is_plain = not any(style.marks(lines[one]) for one in below)
            if is_plain and (len(songs) >= FEWEST or any(keyed[one] for one in songs)):
                found.update(songs)
            elif is_plain and songs and all(lines[one].text[:1].isupper() for one in below):
                found.update(below)  # nothing else can be what the heading announces
    return frozenset(found)


def _below(heading: int, lines: Sequence[TextLine], kinds: Sequence[LineKind | None]) -> list[int]:
    """Return the open lines of a heading's set."""
    found: list[int] = []
    for at in range(heading + 1, len(lines)):
        if kinds[at] in (LineKind.SET, LineKind.BREAK) or (found and lines[at].row.blank_before):
            break
        if found and _same_message(lines, heading, found[-1]) and not _same_message(lines, heading, at):
            break  # after a message with the heading and songs, the next one need not go on with them
        if kinds[at] is None:
            found.append(at)
    return found


def _same_message(lines: Sequence[TextLine], one: int, other: int) -> bool:
    return lines[one].message.message == lines[other].message.message
