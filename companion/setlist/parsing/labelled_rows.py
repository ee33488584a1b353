"""Rows that name a set in any words and then its songs: Street: Moth / Weeds / Tidal Clock; Stage: Jam Jar / Kite."""

import re
from collections.abc import Sequence
from typing import Final

from companion.setlist.model import LineKind
from companion.setlist.notation import Notation
from companion.setlist.parsing.doubts import heading_or_song
from companion.setlist.parsing.inline_songs import InlineSongs
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.set_headings import SetHeading, read_heading

FEWEST: Final = 2  # such rows
FEWEST_SONGS: Final = 3  # of a row
MIN_BESIDE: Final = 2  # songs to each other line that is open
MAX_WORDS: Final = 3  # of a name
_ROW: Final = re.compile(r"^([^\W\d_][^:/|>]{0,30}?)\s?:\s+(\S.*)$")
_SIGNS: Final = (" / ", " | ", " > ", " → ", " • ", " · ", " - ", " – ", "; ", ", ")


def take_labelled_rows(found: Sequence[Classified]) -> None:
    """Take such rows for sets with their songs, in doubt, where they hold most of the list."""
    opened = [one for one in found if one.took is None]
    rows = [(one, row[1], row[2]) for one in opened if (row := _ROW.match(one.line.text))]
    rows = [row for row in rows if len(row[1].split()) <= MAX_WORDS]
    sign = max(_SIGNS, key=lambda one: sum(len(row[2].split(one)) >= FEWEST_SONGS for row in rows))
    full = [row for row in rows if len(row[2].split(sign)) >= FEWEST_SONGS]
    songs = sum(len(row[2].split(sign)) for row in full)
    if len(full) < FEWEST or songs < MIN_BESIDE * (len(opened) - len(rows)):
        return
    if any(_is_no_title(part) for row in rows for part in row[2].split(sign)):
        return  # Psalm 1: Moth – G – all verses
    if len({row[1].lower() for row in full}) < len(full) or (sign == ", " and any(_is_talk(row[2]) for row in full)):
        return
    for one, name, said in rows:
        heading = read_heading(name) or SetHeading(name.capitalize() if name.isupper() else name)
        one.took, one.heading = LineKind.SET, heading
        one.inline = InlineSongs(tuple(part.strip() for part in said.split(sign) if part.strip()))
        one.doubts = (heading_or_song(heading.name),)


def _is_no_title(part: str) -> bool:
    """Return whether a part is a key, so that its row holds one song and what belongs to it."""
    return plain_key(part.strip(), notation=Notation.GERMAN) is not None


def _is_talk(text: str) -> bool:
    """Return whether commas separate words rather than titles: most pieces begin with a small letter."""
    pieces = text.split(", ")
    return 2 * sum(piece[:1].islower() for piece in pieces) > len(pieces)
