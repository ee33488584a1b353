"""The reader of chord lines: text to bars and repeats, with each fault at its character."""

import functools
import re
from collections.abc import Iterator
from fractions import Fraction

from msgspec import structs

from companion.music.chord import NO_CHORD, Chord, is_no_chord, read_chord
from companion.music.chord_line import Bar, ChordLine, Repeat, RepeatEnding, Struck, even_share, ordinal, units_of_a_dot
from companion.music.faults import NotMusic, quoted
from companion.music.meter import Meter, read_meter
from companion.music.numbers import NumberChord, read_number

LONGEST_LINE = 8_000  # characters: 400 bars of four plain chords have fewer
MAX_BARS = 400  # of one section, repeats written out
MAX_TIMES = 32
FOUR_FOUR = Meter(4, 4)

_PIECE = (
    r"(?P<newline>\r?\n)"
    r"|(?P<between>\s+)"
    r"|(?P<open>\|:|\()"
    r"|(?P<close>:\|{1,2}|\))"
    r"|(?P<phrase>\|\|)"
    r"|(?P<line>\|)"
    r"|(?P<word>(?:[^\s|():]|\([^()|\n]*\))+)"
)
_TIMES = re.compile(r"[x×]([0-9]{1,3})")
_ENDING = re.compile(r"([0-9]{1,2})(?:st|nd|rd|th)(?:-([0-9]{1,2})(?:st|nd|rd|th))?")
_NUMBER = re.compile(r"[b♭#♯]{0,2}[0-9]")
_LETTER = re.compile(r"(?![Nn]\.?[Cc]\b|in$|x[0-9])[A-Za-z]")
_AGAIN = re.compile(r"%([12]?)")
_STRUCK = re.compile(r"(?P<push><?)(?:<(?P<held>[^<>^]+)>|(?P<plain>[Nn]\.[Cc]\.|[^<>^]+?)(?P<stop>\^?))(?P<dots>\.*)")


PlacedWord = tuple[str, int]  # the text and its column


def read_chord_line(text: str, meter: Meter = FOUR_FOUR) -> ChordLine:
    """Read the chords of a section in this meter; ``chord_line.SIGNS`` lists the signs. Raises NotMusic."""
    if len(text) > LONGEST_LINE:
        raise NotMusic(LONGEST_LINE, f"a chord line has at most {LONGEST_LINE} characters", "two sections")
    reading = _LineReading(meter, is_numbers=_is_numbers(text))
    for name, sign, column in _pieces(text):
        reading.take(name, sign, column)
    line = reading.line(len(text))
    if line.bars > MAX_BARS:
        raise NotMusic(0, f"this line has {line.bars} bars; a section has at most {MAX_BARS}", "two sections")
    return line


def _pieces(text: str) -> Iterator[tuple[str, str, int]]:
    pieces = re.compile(_PIECE)  # kept by the re module
    column = 0
    while column < len(text):
        found = pieces.match(text, column)
        if not found:
            raise NotMusic(column, f'"{text[column]}" cannot stand here in a chord line', "|: or :| for a repeat")
        if found.lastgroup != "between":
            yield str(found.lastgroup), found[0], column
        column = found.end()


def _is_numbers(text: str) -> bool:
    """Whether the first chord of the line is a number; False for a letter and for a line without chords."""
    before = ""
    for found in re.finditer(_PIECE, text):
        word = found[0].lstrip("<")
        if found.lastgroup == "word" and before != "in" and not _ENDING.fullmatch(word):
            if _NUMBER.match(word):
                return True
            if _LETTER.match(word):
                return False
        before = word if found.lastgroup == "word" else before
    return False


class _LineReading:
    """The line read so far. The sign that ends a bar completes it."""

    def __init__(self, meter: Meter, *, is_numbers: bool) -> None:
        self.meter = meter
        self.is_numbers = is_numbers
        self.parts: list[Bar | Repeat] = []
        self.words: list[PlacedWord] = []  # of the bar being read
        self.body: list[Bar] | None = None  # of the open repeat
        self.endings: list[tuple[tuple[int, ...], list[Bar]]] = []
        self.open_column = 0
        self.before = "start"  # name of the sign before

    def take(self, name: str, sign: str, column: int) -> None:
        """Handle the next sign."""
        match name:
            case "word" if self.before == "close" and _TIMES.fullmatch(sign):
                self.set_times(sign, column)
                name = "times"
            case "word" if not self.words and _ENDING.fullmatch(sign):
                self.begin_ending(sign, column)
                name = "ending"
            case "word":
                self.words.append((sign, column))
            case "open":
                self.begin_repeat(sign, column)
            case "close":
                self.end_repeat(sign, column)
            case _:
                self.end_bar(name, column)
        self.before = name

    def end_bar(self, name: str, column: int) -> None:
        if self.words:
            self.keep_bar()
        elif self.before == "ending" or (name != "newline" and self.before in ("line", "phrase")):
            raise NotMusic(column, "this bar is empty", "% for the bar before again, or N.C.")
        if name == "line":
            return
        bars = self.here()
        if bars:
            bars[-1] = structs.replace(bars[-1], ends_phrase=True)
        elif self.body is None and self.parts:
            self.parts[-1] = structs.replace(self.parts[-1], ends_phrase=True)

    def here(self) -> list[Bar]:
        """Return the bars of the open ending or repeat; an empty list outside a repeat."""
        return self.endings[-1][1] if self.endings else self.body or []

    def keep_bar(self) -> None:
        bar = self.bar()
        if self.endings:
            self.endings[-1][1].append(bar)
        elif self.body is not None:
            self.body.append(bar)
        else:
            self.parts.append(bar)
        self.words = []

    def bars_before(self) -> int:
        """Count the bars that a % can repeat: inside a repeat only its own, with an ending following the body."""
        if self.body is None:
            return sum(part.bars for part in self.parts)
        return sum(bar.bars for bar in (*self.body, *(self.endings[-1][1] if self.endings else ())))

    def begin_repeat(self, sign: str, column: int) -> None:
        if self.words and sign == "|:":
            self.keep_bar()
        if self.words and self.words[-1][1] + len(self.words[-1][0]) == column:
            raise NotMusic(column, "this bracket is never closed", f"{self.words[-1][0]}( ... )")
        if self.words:
            raise NotMusic(column, "a repeat begins at a bar line", "| (")
        if self.body is not None:
            raise NotMusic(column, "a repeat cannot stand inside a repeat", "the inner one written out")
        self.body, self.open_column = [], column

    def begin_ending(self, sign: str, column: int) -> None:
        found = _ENDING.fullmatch(sign)
        assert found  # noqa: S101 - it was matched by the caller
        first, last = int(found[1]), int(found[2] or found[1])
        if self.body is None:
            raise NotMusic(
                column, f'"{sign}" is an ending, but no repeat is open', f"( before the bars that end in {sign}"
            )
        due = self.endings[-1][0][-1] + 1 if self.endings else 1
        if not self.body:
            raise NotMusic(column, "a repeat needs bars before its endings", "a bar before it")
        if first != due or not first <= last <= MAX_TIMES:
            raise NotMusic(column, f'expected the {ordinal(due)} ending here, not "{sign}"', ordinal(due))
        self.endings.append((tuple(range(first, last + 1)), []))

    def end_repeat(self, sign: str, column: int) -> None:
        if self.body is None:
            raise NotMusic(column, f'"{sign}" ends a repeat that never began', "( where it begins")
        if self.words:
            self.keep_bar()
        if not self.here():
            raise NotMusic(column, "there is nothing to repeat here", "a bar before it")
        endings = tuple(RepeatEnding(passes, tuple(bars)) for passes, bars in self.endings)
        repeat = Repeat(tuple(self.body), endings=endings)
        self.parts.append(structs.replace(repeat, times=repeat.usual_times))
        self.body, self.endings = None, []

    def set_times(self, sign: str, column: int) -> None:
        repeat = self.parts[-1]
        times = int(sign[1:])
        if not 1 <= times <= MAX_TIMES:
            raise NotMusic(column, f"a repeat is played 1 to {MAX_TIMES} times", f"x{MAX_TIMES if times else 2}")
        if isinstance(repeat, Repeat) and repeat.endings and times != repeat.usual_times:
            raise NotMusic(column, f"this repeat has endings for {repeat.usual_times} times", f"x{repeat.usual_times}")
        self.parts[-1] = structs.replace(repeat, times=times)

    def line(self, end: int) -> ChordLine:
        """Complete the line; ``end`` is the column after it."""
        if self.body is not None:
            raise NotMusic(self.open_column, "this repeat is never closed", ") where it ends")
        if self.words:
            self.keep_bar()
        if not self.parts:
            raise NotMusic(max(end - 1, 0), "there are no bars here", "chords, as in 1 | 5 | 6- | 4")
        self.parts[-1] = structs.replace(self.parts[-1], ends_phrase=False)
        return ChordLine(tuple(self.parts), self.meter)

    def bar(self) -> Bar:
        """Build one bar from its words."""
        (first, column), words, meter = self.words[0], self.words, None
        if first == "in":
            meter, words = _meter_of(self.words)
        again = _AGAIN.fullmatch(words[0][0])
        if again and len(words) == 1 and meter is None:
            bars = int(again[1] or 1)
            if bars > self.bars_before():
                raise NotMusic(column, f'"{first}" has no bar before it to repeat', "the chords of that bar")
            return Bar(again=bars)
        in_this_meter = meter or self.meter
        chords = [self.struck(word, column) for word, column in words if word != "/"]
        dots = _dots(words, [dots for _, dots in chords])
        beats = _beats(words, dots, in_this_meter)
        struck = tuple(structs.replace(one, beats=has) for (one, _), has in zip(chords, beats, strict=True))
        return Bar(struck, None if meter == self.meter else meter)

    def struck(self, word: str, column: int) -> tuple[Struck, int]:
        """Read one chord with its signs; return it with its number of dots, which only the bar can interpret."""
        found = re.fullmatch(_STRUCK, word)
        if not found:
            misplaced = re.search(r"[<>^]", word[1:])
            core = re.sub(r"[<>^.%]", "", word)
            raise NotMusic(
                column + (misplaced.start() + 1 if misplaced else 0), f"{quoted(word)} is not a chord", core or "1"
            )
        group = "held" if found["held"] else "plain"
        try:
            chord = _chord(found[group], is_numbers=self.is_numbers)
        except NotMusic as fault:
            raise fault.moved(column + found.start(group)) from None
        held, pushed, stopped = bool(found["held"]), bool(found["push"]), bool(found["stop"])
        return Struck(chord, Fraction(0), held, pushed, stopped), len(found["dots"])


@functools.lru_cache(maxsize=2_048)  # a show repeats the same few chords thousands of times
def _chord(text: str, *, is_numbers: bool) -> Chord | NumberChord:
    if is_no_chord(text):
        return NO_CHORD  # the same in numbers and letters
    if re.fullmatch(_TIMES, text):
        raise NotMusic(0, f"{quoted(text)} can only follow a repeat", f"(1 | 4) {text}")
    if is_numbers and _LETTER.match(text) and not _NUMBER.match(text):
        raise NotMusic(0, f"{quoted(text)} is a letter in a line of numbers", "numbers or letters for the whole line")
    if not is_numbers and _NUMBER.match(text):
        raise NotMusic(0, f"{quoted(text)} is a number in a line of letters", "letters or numbers for the whole line")
    return read_number(text) if is_numbers else read_chord(text)


def _meter_of(words: list[PlacedWord]) -> tuple[Meter, list[PlacedWord]]:
    """Read the meter of a bar that begins with "in"; return it and the words after it."""
    column = words[0][1]
    if len(words) < 2:
        raise NotMusic(column, '"in" needs a meter and the chords of the bar after it', "in 2/4 and a chord")
    try:
        meter = read_meter(words[1][0])
    except NotMusic as fault:
        raise fault.moved(words[1][1]) from None
    if len(words) < 3:
        raise NotMusic(column, f"this bar of {meter} has no chord", f"in {meter} and a chord, or N.C.")
    return meter, words[2:]


def _dots(words: list[PlacedWord], dots: list[int]) -> list[int]:
    """Return the dots of each chord. In a bar with slashes: one for the chord, one for each slash after it."""
    if all(word != "/" for word, _ in words):
        return dots
    counted: list[int] = []
    for word, column in words:
        if word != "/":
            counted.append(1)
        elif not counted:
            raise NotMusic(column, "there is no chord before this slash", "% for the bar before again")
        else:
            counted[-1] += 1
    if any(dots):
        raise NotMusic(words[0][1], "this bar mixes dots and slashes", "dots or slashes")
    return counted


def _beats(words: list[PlacedWord], dots: list[int], meter: Meter) -> list[Fraction]:
    """Return each chord's length in units of the meter; chords without dots share the rest evenly."""
    column, chords = words[0][1], len(dots)
    undotted = dots.count(0)
    if undotted == chords:
        share = even_share(meter, chords)
        if share is None:
            write = _first_longer([word for word, _ in words], meter)
            raise NotMusic(column, f"{chords} chords do not divide a bar of {meter} evenly", write)
        return [share] * chords
    for dot in units_of_a_dot(meter):
        left = meter.beats - dot * sum(dots)
        if left == 0 and not undotted:
            return [Fraction(dot * each) for each in dots]
        if undotted and left > 0 and left % (dot * undotted) == 0:
            return [Fraction(dot * each or left // undotted) for each in dots]
    due = " or ".join(str(meter.beats // dot) for dot in units_of_a_dot(meter))
    raise NotMusic(column, f"this bar of {meter} has {sum(dots)} beats, not {due}", f"{due} beats in all")


def _first_longer(words: list[str], meter: Meter) -> str:
    """Write the bar with dots: one beat each, and the rest for the first chord (common practice, no source)."""
    left = meter.beats - (len(words) - 1)
    if left < 1:
        return f"at most {meter.beats} chords"
    return " ".join(word + "." * (left if place == 0 else 1) for place, word in enumerate(words))
