"""The road map: a song's sections in playing order, in shorthand or long.

Shorthand is what players write in the margin, sections separated by commas or line breaks:

``Intro 4*, Verse 16, Chorus 8 @strings, Solo 16 x2* @lead, Chorus 8 in E, Outro open watch singer``

Both ways are split into the same nodes: one form reads them, and faults point into the line.
"""

from companion.files import Form, Items, Node, Reading, Table, Text, ValueKind
from companion.files.kinds import Schema
from companion.files.nodes import walk
from companion.show.model import Section
from companion.show.shorthand import ShortSection
from companion.show.shorthand_lines import parts_of
from companion.show.value_kinds import LINE, CutByHash

CUT_OFF = CutByHash(LINE)
MAX_SECTIONS = 400  # in one song
LONGEST_LINE = 8000


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
    for start, end in parts:
        section = ShortSection(line, places, start, reading)
        part = line.text[start:end]
        if part.strip():
            tables.append(section.cut(part))
        elif end < len(line.text) or start == 0:  # a trailing comma is allowed
            reading.fault(section.spot(start, part), "a section is missing before this comma", "a section's name there")
    return tables
