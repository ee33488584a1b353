"""The road map: a song's sections in playing order, in shorthand or long.

Shorthand is what players write in the margin, sections separated by commas or line breaks:

``Intro 4*, Verse 16, Chorus 8 @strings, Solo 16 x2* @lead, Chorus 8 in E, Outro open watch singer``

Both ways are split into the same nodes: one form reads them, and faults point into the line.
"""

from typing import NamedTuple

from companion.files import Form, Items, Node, Reading, Table, Text, ValueKind, shown
from companion.files.kinds import Schema
from companion.files.nodes import walk
from companion.show.model import Section
from companion.show.shorthand import ShortSection
from companion.show.shorthand_lines import parts_of
from companion.show.value_kinds import LINE, CutByHash

CUT_OFF = CutByHash(LINE)
MAX_SECTIONS = 400  # in one song
LONGEST_LINE = 8000
_TEXTS = {"feature": "*", "watch": "watch ", "first_words": "words "}
"""The texts that a comma ends unless they are in brackets, and the signs before them."""


class RoadMap(ValueKind[tuple[Section, ...]]):
    """A song's sections in playing order: a text in shorthand, or a list of both forms."""

    description = "sections"

    def __init__(self, section: Form[Section]) -> None:
        self._section = section

    def read(self, node: Node, reading: Reading) -> tuple[Section, ...] | None:
        """Return the sections, without faulty ones."""
        if type(node) is Text and node.is_empty:
            return None
        if type(node) is Table:
            reading.fault(node, "a road map is a list of sections, or one line of them", "a dash before each section")
            return None
        tables: list[Node] = []
        for one in node.nodes if type(node) is Items else (node,):
            CUT_OFF.warn(one, reading)
            tables.extend([one] if type(one) is not Text else cut(one, reading))
        if len(tables) > MAX_SECTIONS:
            reading.fault(node, f"{len(tables)} sections, at most {MAX_SECTIONS}", "x2 for a section played twice")
            return None
        read = self._section.read
        return tuple([section for one in tables if (section := read(one, reading)) is not None])

    def schema(self, parts: dict[str, Schema]) -> Schema:
        """Describe both ways of writing it."""
        line = {"type": "string", "maxLength": LONGEST_LINE}
        listed = {"type": "array", "items": {"anyOf": [self._section.schema(parts), line]}}
        return {"anyOf": [listed, {**line, "type": ["string", "null"]}]}


def cut(line: Text, reading: Reading) -> list[Table]:
    """Split shorthand into one table for each section."""
    if len(line.text) > LONGEST_LINE:
        reading.fault(line, f"a road map of {len(line.text)} characters, at most {LONGEST_LINE}", "a list of sections")
        return []
    places = list(walk(line))
    parts = parts_of(line.text)
    tables = []
    before: _OpenText | None = None
    for start, end in parts:
        section = ShortSection(line, places, start, reading)
        part = line.text[start:end]
        if part.strip():
            tables.append(section.cut(part))
            more = before and _more_of(before, tables[-1], reading)
            before = more or _open_text(part, tables[-1])
        elif end < len(line.text) or start == 0:  # a trailing comma is allowed
            reading.fault(section.spot(start, part), "a section is missing before this comma", "a section's name there")
    return tables


class _OpenText(NamedTuple):
    """A text that a comma ends since it is in no brackets, the sign before it, and the section that it is in."""

    sign: str
    text: str
    section: Table


def _open_text(part: str, section: Table) -> _OpenText | None:
    """Return the text that ends this part of a road map, as in ``Intro 4 *riff``."""
    for key, sign in _TEXTS.items():
        typed = section.entries[key][0].text if key in section.entries else ""
        if typed and typed != "yes" and part.rstrip().endswith(typed):
            return _OpenText(sign, typed, section)
    return None


def _more_of(before: _OpenText, section: Table, reading: Reading) -> _OpenText | None:
    """Warn if a section looks like more of the text before its comma, and return both as one text.

    It does if it has words alone before its sound and chords, in lower case, where the text's own section begins with a
    capital; several words without bars are enough where that section has bars.
    """
    name, own = section.entries["section"][0], before.section.entries
    if not section.entries.keys() <= {"section", "sound", "chords"} or not name.text[:1].islower():
        return None
    if not (own["section"][0].text[:1].isupper() or ("bars" in own and " " in name.text)):
        return None
    whole = f"{before.text}, {name.text}"
    write = f"{before.sign}({whole}), if it belongs to the text before the comma"
    reading.warn(name, f"{shown(name.text)} is read as a section of its own", write)
    return before._replace(text=whole)
