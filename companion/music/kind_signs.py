"""The reader of chord kinds: the signs that players write after a root, read from left to right into a Kind."""

import re
from collections.abc import Iterator

from companion.music.faults import NotMusic, nearest
from companion.music.kind import ALTERED, TENSIONS, ChordKind, Seventh, Third

# Tried in this order: a longer sign before any sign that it begins with.
_SIGNS = (
    r"(?P<omit>(?:no|omit) ?[35](?:rd|th)?)"
    r"|(?P<add>add ?[b#]?(?:2|4|6|9|11|13))"
    r"|(?P<alt>alt)"
    r"|(?P<half>ø)"
    r"|(?P<dim>dim|°|o)"
    r"|(?P<sus>sus(?:2sus4|4sus2|24|2|4)?)"
    r"|(?P<major>[Mm]aj(?:or)?|MAJ|[Mm]a(?!dd|lt|ug)|MA|△)"
    r"|(?P<minor>[Mm]in(?:or)?|MIN|[Mm]i|MI|m)"
    r"|(?P<capital>M)"
    r"|(?P<dominant>dom)"
    r"|(?P<altered>b(?:2|5|6|9|13)|#(?:2|4|5|9|11)|\+5)"
    r"|(?P<signed>[+-](?:5|9|11|13))"
    r"|(?P<plus>\+|aug)"
    r"|(?P<dash>-)"
    r"|(?P<number>6[/,]?9|13|11|9|7|6|5)"
    r"|(?P<small>[24])"
    r"|(?P<open>\()"
    r"|(?P<close>\))"
    r"|(?P<between>[, ])"
)
_FOLDED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺−–♭♯º∅ØΔ∆", "0123456789-+--b#°øø△△")
_SAME_NOTE = {"2": "9", "4": "11", "6": "13", "b6": "b13", "#4": "#11", "b2": "b9", "#2": "#9"}
_LADDER = ("7", "9", "11", "13")
_NEVER_TOGETHER = (
    {"alt", "third"},
    {"alt", "sus"},
    {"alt", "major"},
    {"alt", "b5"},
    {"alt", "#5"},
    {"dominant", "major"},
    {"dominant", "third"},
    {"no5", "b5"},
    {"no5", "#5"},
    {"no3", "sus"},
)
USUAL = (
    *("m", "7", "m7", "maj7", "mmaj7", "dim", "dim7", "m7b5", "+", "sus4", "sus2", "7sus4", "6", "m6", "6/9", "m6/9"),
    *("9", "m9", "maj9", "11", "m11", "13", "m13", "maj13", "9sus4", "13sus4", "add9", "madd9", "7b9", "7#9", "7#11"),
    *("7b5", "7#5", "7b13", "maj7#11", "maj7#5", "7alt", "5", "aug", "°7", "ø", "△7", "min7", "min", "maj", "add11"),
    *("-", "-7", "o", "o7"),
)


def read_kind(text: str, start: int, stop: int) -> ChordKind:
    """Read the kind in ``text[start:stop]``. Raises NotMusic, whose ``write`` is the kind alone."""
    try:
        return _put_together(text.translate(_FOLDED), start, stop)
    except NotMusic as fault:
        write = fault.write or nearest(text[start:stop], USUAL) or _readable(text[start : fault.column])
        raise NotMusic(fault.column, fault.problem, write) from None


def _readable(text: str) -> str:
    """Return the text if it can be read as a kind, else "", the plain chord."""
    try:
        _put_together(text.translate(_FOLDED), 0, len(text))
    except NotMusic:
        return ""
    return text


def _put_together(text: str, start: int, stop: int) -> ChordKind:
    reading = _KindReading()
    for name, sign, column in _signs(text, start, stop):
        reading.take(name, sign, column)
    return reading.kind(start)


def _signs(text: str, start: int, stop: int) -> Iterator[tuple[str, str, int]]:
    signs = re.compile(_SIGNS)  # compiled on first use and cached by re
    column = start
    while column < stop:
        found = signs.match(text, column, stop)
        if not found:
            added = "add9" if column == start and text[start:stop] == "/9" else ""
            raise NotMusic(column, f'"{text[column]}" is not a chord sign', added)
        yield str(found.lastgroup), found[0], column
        column = found.end()


class _KindReading:
    """The kind read so far. Each slot is filled at most once; added and altered notes are collected."""

    def __init__(self) -> None:
        self.filled: dict[str, str] = {}  # slot: its sign
        self.added: set[str] = set()
        self.altered: set[str] = set()  # these replace the natural note
        self.open_column: int | None = None
        self.word = ""  # minor, dim or half
        self.before = ""  # name of the sign before

    def take(self, name: str, sign: str, column: int) -> None:
        """Handle the next sign."""
        if name in ("open", "close", "between"):
            self.bracket(name, sign, column)
        elif name in ("minor", "dash", "dim", "half"):
            self.fill("third", sign, column)
            self.word = "minor" if name == "dash" else name
        elif name in ("major", "capital"):
            self.fill("major", sign, column)
        elif name in ("sus", "alt", "dominant"):
            self.fill(name, sign, column)
        elif name == "omit":
            self.fill("no3" if "3" in sign else "no5", sign, column)
        elif name == "plus":
            self.fill("#5", sign, column)
        elif name == "add":
            note = sign.removeprefix("add").strip()
            self.added.add(_SAME_NOTE.get(note, note))
        elif name in ("altered", "signed"):
            self.alter(sign, column)
        else:
            self.count(sign, column)
        self.before = name

    def fill(self, slot: str, sign: str, column: int) -> None:
        if slot in self.filled:
            raise NotMusic(column, f'"{sign}" repeats or contradicts "{self.filled[slot]}"')
        for pair in _NEVER_TOGETHER:
            other = next(iter(pair - {slot}))
            if slot in pair and other in self.filled:
                raise NotMusic(column, f'"{sign}" does not go with "{self.filled[other]}"')
        self.filled[slot] = sign

    def alter(self, sign: str, column: int) -> None:
        """Handle a raised or lowered note. A - or + alters a note only after a number: C-9 and C7-9 differ."""
        if sign[0] in "+-" and sign != "+5" and "number" not in self.filled:
            self.take("dash" if sign[0] == "-" else "plus", sign[0], column)
            self.count(sign[1:], column + 1)
            return
        note = sign.replace("+", "#").replace("-", "b")
        if note in ("b5", "#5"):
            self.fill(note, sign, column)
        else:
            self.altered.add(_SAME_NOTE.get(note, note))

    def count(self, number: str, column: int) -> None:
        """Handle a number: how far thirds are stacked, a sixth, or, in brackets, a single note."""
        is_one_note = self.open_column is not None and self.before not in ("major", "capital")
        if number == "2" or (is_one_note and number in ("4", "9", "11", "13")):
            self.added.add(_SAME_NOTE.get(number, number))
        elif number == "4":
            raise NotMusic(column, "a lone 4 can mean sus4 or add4", "sus4 or add4")
        elif is_one_note and number == "6" and "number" in self.filled:
            self.added.add("13")
        else:
            self.fill("number", number, column)

    def bracket(self, name: str, sign: str, column: int) -> None:
        if (name == "open") is (self.open_column is not None):
            raise NotMusic(column, f'"{sign}" does not belong here')
        if name == "close" and self.before == "open":
            raise NotMusic(column, "these brackets are empty")
        if name != "between":
            self.open_column = column if name == "open" else None

    def kind(self, start: int) -> ChordKind:
        """Build the kind from what was read; ``start`` is where it begins."""
        if self.open_column is not None:
            raise NotMusic(self.open_column, "this bracket is never closed")
        number, word = self.filled.get("number", ""), self.word
        if "alt" in self.filled:
            if number not in ("", "7") or self.added or self.altered:
                raise NotMusic(start, "alt goes only with a 7", "7alt")
            return ALTERED
        if word == "minor" and self.filled.get("major", "△") != "△" and number not in _LADDER:
            raise NotMusic(start, "this chord is both minor and major", "mmaj7")
        if word in ("dim", "half") and self.filled.keys() & {"b5", "#5", "no5", "sus", "no3"}:
            raise NotMusic(start, "a diminished chord already has its third and fifth")
        if ((word or "sus" in self.filled) and number == "5") or (word == "half" and "major" in self.filled):
            raise NotMusic(start, "these signs do not go together")
        third = self.third(number)
        return ChordKind(third, self.fifths(), self.seventh(number), self.tensions(number, third))

    def third(self, number: str) -> Third:
        if "sus" in self.filled:
            return Third.SUS2 if self.filled["sus"] == "sus2" else Third.SUS4
        if "no3" in self.filled or number == "5":
            return Third.NONE
        return Third.MINOR if self.word else Third.MAJOR

    def fifths(self) -> tuple[str, ...]:
        if "no5" in self.filled:
            return ()
        if self.word in ("dim", "half"):
            return ("b5",)
        return tuple(fifth for fifth in ("b5", "#5") if fifth in self.filled) or ("5",)

    def seventh(self, number: str) -> Seventh:
        if self.word == "half" or "dominant" in self.filled:
            return Seventh.MINOR
        if number not in _LADDER:
            return Seventh.MAJOR if self.filled.get("major") == "△" and not number else Seventh.NONE
        if "major" in self.filled:
            return Seventh.MAJOR
        return Seventh.DIMINISHED if self.word == "dim" else Seventh.MINOR

    def tensions(self, number: str, third: Third) -> tuple[str, ...]:
        """Return the notes above the seventh: those stacked by the number unless altered, and those added."""
        stacked = {"9", "11", "13"} if number == "13" else {"9", "11"} if number == "11" else set()
        stacked |= {"9"} if "9" in number else set()
        if number == "13" and third is not Third.MINOR:
            stacked -= {"11"}
        stacked -= {note.lstrip("b#") for note in self.altered}
        beside = {"13"} if number.startswith("6") else set()
        beside |= {"9"} if len(self.filled.get("sus", "")) > len("sus4") else set()
        same_as_sus = {"11"} if third is Third.SUS4 else {"9"} if third is Third.SUS2 else set()
        notes = (stacked | beside | self.added | self.altered) - same_as_sus
        return tuple(note for note in TENSIONS if note in notes)
