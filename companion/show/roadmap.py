"""The road map, long and short: a song's sections in playing order.

The short form is what players write in the margin:

``Intro 4*, Verse 16, Chorus 8 @strings, Solo 16 x2* @lead, Chorus 8, Outro open``

Commas separate sections. Each is a name, then in any order: bars, ``xN`` passes, ``open``, ``tacet``, ``*`` for a
feature; at the end ``@`` and the sound. A sound on a certain keyboard is ``@upper=solo lead``, and several may follow
each other: ``@upper=solo lead @lower=grand piano`` (with an equals sign, because YAML reads a colon as a key's). The
last number is the bars: ``Verse 2 16`` is a section "Verse 2" of 16 bars.

The short form is split into the same nodes as the long form: one form reads both, and faults point into the line.
"""

import itertools
import re

from companion.files import Form, Items, Node, Reading, Table, Text, ValueKind, nearest, shown
from companion.files.kinds import Schema
from companion.files.nodes import walk
from companion.show.model import Section

MAX_SECTIONS = 400  # in one song
LONGEST_LINE = 8000
WORD = re.compile(r"[^\s*]+|\*")
BARS = re.compile(r"[0-9]+$")
PASSES = re.compile(r"[x×]([0-9]+)$")
BARS_AND_PASSES = re.compile(r"([0-9]+)[x×]([0-9]+)$")


class RoadMap(ValueKind[tuple[Section, ...]]):
    """A song's sections in playing order: a line in short form, or a list of long or short sections."""

    said = "sections"

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
    """Split a line in short form into one table for each section."""
    if len(line.text) > LONGEST_LINE:
        reading.fault(line, f"a road map of {len(line.text)} characters, at most {LONGEST_LINE}", "a list of sections")
        return []
    places = list(walk(line))
    tables = []
    start = 0
    for part in line.text.split(","):
        section = _Short(line, places, start, reading)
        if part.strip():
            tables.append(section.cut(part))
        elif start + len(part) < len(line.text) or start == 0:  # a trailing comma is allowed
            reading.fault(section.spot(start, part), "a section is missing before this comma", "a section's name there")
        start += len(part) + 1
    return tables


class _Short:
    """Splits one section in short form into the entries of a table."""

    def __init__(self, line: Text, places: list[tuple[int, int]], start: int, reading: Reading) -> None:
        self.line = line
        self.places = places  # place of each character of the line
        self.start = start  # offset of the section in it
        self.reading = reading
        self.entries: dict[str, tuple[Text, Node]] = {}

    def spot(self, where: int, text: str) -> Text:
        """Return a text placed at the character ``where`` of the line."""
        return Text(text, self.line.source, *self.places[where])

    def cut(self, part: str) -> Table:
        """Return the section's table."""
        head, at, sounds = part.partition("@")
        typed = [(word[0], self.start + word.start()) for word in WORD.finditer(head)]
        while len(typed) > 1 or (typed and typed[0][0] == "*"):
            if not self.after_name(*typed[-1]):
                break
            typed.pop()
        self.name(typed, part)
        if at:
            self.sounds(sounds, self.start + len(head) + 1)
        first = self.spot(self.start + len(part) - len(part.lstrip()), "")
        return Table(self.entries, first.source, first.line, first.column)

    def after_name(self, text: str, where: int) -> bool:
        """Handle a word that can follow the name; return False for any other word."""
        if text == "*":
            self.put("feature", where, "yes")
        elif text in ("open", "tacet"):
            self.put(text, where, "yes")
        elif passes := PASSES.match(text):
            self.put("passes", where + 1, passes[1])
        elif BARS.match(text) and "bars" not in self.entries:
            self.put("bars", where, text)
        elif both := BARS_AND_PASSES.match(text):
            self.put("bars", where, both[1])
            self.put("passes", where + len(both[1]) + 1, both[2])
        else:
            return False
        return True

    def put(self, key: str, where: int, text: str) -> None:
        """Set an entry; note a fault if it is already set."""
        typed = self.spot(where, text)
        if key in self.entries:
            self.reading.fault(typed, f"{key} is in this section twice", "it once")
        self.entries[key] = (typed, typed)

    def name(self, typed: list[tuple[str, int]], part: str) -> None:
        """Use the remaining words as the name. A word after a number is a slip, not a name."""
        for (text, _), (after, where) in itertools.pairwise(typed):
            if text == "*" or (BARS.match(text) and not BARS.match(after)):
                problem = f"{shown(after)} is not understood after {shown(text)}"
                write = nearest(after, ("open", "tacet")) or "only xN, open, tacet, * and @sound after the bars"
                self.reading.fault(self.spot(where, after), problem, write)
                break
        begin = self.start + len(part) - len(part.lstrip())
        name = self.spot(begin, "?")  # without a name, its own fault is enough
        if typed:
            begin, end = typed[0][1], typed[-1][1] + len(typed[-1][0])
            name = self.spot(begin, part[begin - self.start : end - self.start])
        else:
            self.reading.fault(name, "a section has no name", "its name first, as in Verse 16")
        self.entries["section"] = (name, name)

    def sounds(self, text: str, start: int) -> None:
        """Read the text after the first @: one sound, or ``upper=solo lead @lower=grand piano``."""
        calls: dict[str, tuple[Text, Node]] = {}
        bare: Text | None = None
        for call in text.split("@"):
            keyboard, named, sound = call.rpartition("=")
            typed = self.spot(start + len(call) - len(sound.lstrip()), sound.strip())
            key = self.spot(start + len(keyboard) - len(keyboard.lstrip()), keyboard.strip())
            if not typed.text or (named and not key.text):
                self.reading.fault(typed, "there is nothing after the @", "@sound, or @keyboard=sound")
            elif not named:
                bare = typed
            elif key.text in calls:
                self.reading.fault(key, f"{shown(key.text)} already has a sound", "one sound for each keyboard")
            else:
                calls[key.text] = (key, typed)
            start += len(call) + 1
        if bare and "@" in text:
            self.reading.fault(bare, "with several sounds, each needs its keyboard", f"@keyboard={bare.text}")
        elif bare:
            self.entries["sound"] = (bare, bare)
        elif calls:
            first = next(iter(calls.values()))[0]
            self.entries["sound"] = (first, Table(calls, first.source, first.line, first.column))
