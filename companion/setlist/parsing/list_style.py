"""Learn the style of a whole list from all of its lines, to resolve what single lines leave open."""

import itertools
import re
from collections import Counter
from collections.abc import Sequence

import msgspec

from companion.setlist.notation import Notation
from companion.setlist.parsing.cells import length_cell
from companion.setlist.parsing.key_at_end import KeyAtEnd, key_at_end
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.labels import are_labelled, have_dashed_labels, have_roles, role_of, without_label
from companion.setlist.parsing.names_in_lines import are_singers, names_in_brackets, singers_in
from companion.setlist.parsing.patterns import (
    BARE_NUMBER,
    BY,
    COMMA,
    COMMA_AT_END,
    DASHED_SINGER,
    IN_BRACKETS,
    KEY_IN_FRONT,
    LABEL_WITH_NUMBER,
    LENGTH_AT_END,
    NAMED_FACTS,
    POINTED_AT_END,
    QUOTED,
    SAID_AT_END,
    SINGER,
    SLASHED,
    TAIL,
    TEMPO_AT_END,
)
from companion.setlist.parsing.pieces import FASTEST, SLOWEST, pieces_of, read_piece
from companion.setlist.parsing.remarks import STARS, off_the_end
from companion.setlist.parsing.set_headings import clock_in_front
from companion.setlist.parsing.text_lines import TextLine

_KEY_NAMED = re.compile(r"\s(?:Key|In)\s{1,10}(?:of\s)?[A-G]\S{0,2}$")
_NOW = re.compile(r"\snow\s(?:in\s)?[A-G][b#♭♯]?m?$")
_A_TIME = re.compile(r"(?<!\d)\d{1,2}[:'’′]\s?[0-5]\d(?!\d)|(?<!\d)\d{1,2}m\d{2}(?!\d)")
_GLUED_KEY = re.compile(r"(?:\s[-–—]|[-–—]\s)(?=[A-G])(\S{1,3})$")
MAX_HANGING = 0.4  # share of the lines
DEEPER = 1.5  # letters; a line indented so much more than the songs is a note on the one above
MOST_TWO_KEYS = 0.5
MOST_LABELS = 0.6  # share of the names in front
MOST_COLONS = 0.7  # share of the lines
MAX_TAILS = 3  # a length, a tempo and a remark after one key
HOLDS_KEY = re.compile(  # a key in the middle of a line: Moth Bb > C last chorus, Jam Jar (Bb) > straight into
    r"(?:\s|\()[A-G](?:[b#♭♯]m?|m)?[)?!,]?\s*(?:[-/>→,(]|\))"
)
MAX_FALLEN = 0.4  # share of the names
MAX_FALLS = 0.2  # share of times that are earlier than the one before
MAX_STEP = 3  # from one number to the next
FEW_NUMBERS = 5  # lines; if nearly all begin with a number, in whatever order, it is no part of the titles
FEWEST_LETTERS, LETTERS_AT_END = 4, 0.25  # so many titles of a list end in no letter by chance
SMALL_AT_END = 0.4  # the same for titles in small letters
ALL_KEYED = 0.65  # share of the lines, talk among them; a title that ends in a letter is the only one without a key
FEW_KEYS = 3  # so many keys that no title ends in are enough to look for others


class Style(msgspec.Struct, frozen=True):
    """The style of a list, learnt from all of its lines; it resolves what single lines leave open."""

    notation: Notation = Notation.LETTERS
    numbered: bool = False  # with 1. or 1)
    bare_numbers: bool = False  # 1 Gasworks Corner
    bulleted: bool = False
    lettered: bool = False  # a) Gasworks Corner
    key_at_end: bool = False  # Gasworks Corner A
    key_in_front: bool = False
    tempo_at_end: bool = False
    has_artist: bool = False
    artist_first: bool = False
    singer_first: bool = False
    by_artist: bool = False
    commas: bool = False
    slashes: bool = False  # Gasworks Corner / A / keys start
    pointed_lengths: bool = False  # 3.40 for 3:40
    bulleted_notes: bool = False  # bulleted lines are notes on the plain line above
    clocks: bool = False  # 20:05 Gasworks Corner
    lengths_in_front: bool = False  # 3:40 Gasworks Corner
    lone_time: bool = False  # one line alone has a time such as 10:42, which may be of its title
    emoji: bool = False  # pictures are marks, no part of titles
    singers: frozenset[str] = frozenset()  # names in brackets, or before a colon
    artist_in_brackets: bool = False  # Gasworks Corner (The Tidewater Nine) - A
    note_in_brackets: bool = False  # Gasworks Corner (Ann, Bob) - A
    labelled: bool = False  # First dance: Gasworks Corner
    dashed_labels: bool = False  # St Odo's Waltz - Gasworks Corner - A
    roles: bool = False  # Worship 2 - Gasworks Corner
    capitals: bool = False  # titles begin with a capital letter, most of their words too
    colons: bool = False  # Gasworks Corner: orig F, us A
    course: bool = False  # other lines name events, or what a song is played for
    quoted: bool = False  # Opening - "Gasworks Corner" - A
    key_named: bool = False  # Gasworks Corner Key A
    nows: bool = False  # Gasworks Corner now A
    two_keys: bool = False  # Gasworks Corner A (C): one in a bracket after the other
    indent: float = 0.0  # of the songs
    is_deep: bool = False  # they stand at many depths

    @property
    def is_shaped(self) -> bool:
        """Return whether songs are marked by a number, a letter or a bullet."""
        return self.numbered or self.bare_numbers or self.bulleted or self.lettered

    def marks(self, line: TextLine) -> bool:
        """Return whether the line has the number or bullet that the list's songs have, and no deeper than they."""
        if line.row.indent > self.indent + DEEPER and not self.is_deep:
            return False
        if self.numbered and line.number is not None:
            return True
        if self.bare_numbers and (BARE_NUMBER.match(line.text) or line.number is not None):
            return True
        return (self.lettered and line.is_lettered) or (self.bulleted and line.is_bulleted)


def learn(lines: Sequence[TextLine], notation: Notation = Notation.LETTERS) -> Style:
    """Learn the style of a list from the lines that may be songs."""
    total = max(len(lines), 1)

    def most(share: float, found: int) -> bool:
        return found >= share * total and found > 1

    bulleted = [line for line in lines if line.is_bulleted and line.number is None]
    indent = _usual([line.row.indent for line in lines if line.is_marked] or [line.row.indent for line in lines])
    deeper = [line for line in lines if line.is_marked and line.row.indent > indent + DEEPER]
    keyed = sum(_holds_key(line.text, notation) for line in deeper)
    numbered = most(0.5, sum(line.number is not None for line in lines))
    numbered = numbered or most(0.3, _in_sequence([line.number for line in lines]) - 1)
    style = Style(
        notation=notation,
        indent=indent,
        # Bare numbers may be aligned at their right, so that their lines stand at two depths.
        is_deep=keyed >= 0.5 * len(deeper) and (bool(deeper) or not numbered),
        numbered=numbered,
        bare_numbers=most(0.5, _in_sequence([_bare_number(line) for line in lines]))
        or (total >= FEW_NUMBERS and most(0.8, sum(_bare_number(line) is not None for line in lines))),
        lettered=most(0.5, sum(line.is_lettered for line in lines)),
        bulleted=most(0.5, len(bulleted)) or (bool(bulleted) and _marks_all_keys(lines, notation, numbered=numbered)),
        bulleted_notes=len(bulleted) > 1
        and not lines[0].is_bulleted
        and (sum(_is_note(line.text, notation) for line in bulleted) >= 0.7 * len(bulleted) or _hang(lines, notation)),
    )
    if style.bulleted_notes:
        style = msgspec.structs.replace(style, bulleted=False)
        lines = [line for line in lines if line not in bulleted]
        total = max(len(lines), 1)
    songs = [line for line in lines if style.marks(line)] if style.is_shaped else lines
    texts = [BARE_NUMBER.sub("", line.text) if style.bare_numbers else line.text for line in songs]
    total = max(len(texts), 1)
    clocks = most(0.5, sum(clock_in_front(text)[0] is not None for text in texts))
    times = [at_min for text in texts if (at_min := clock_in_front(text)[0]) is not None]
    falls = sum(after < before for before, after in itertools.pairwise(times))
    are_lengths = clocks and falls > MAX_FALLS * len(times)  # the time of day goes on, but for a new set or midnight
    if clocks:
        texts = [clock_in_front(text)[1] for text in texts]
    singers = singers_in(texts)
    in_brackets = names_in_brackets(texts, notation)
    are_few = sum(len(name.split()) == 1 for name in in_brackets) >= 0.4 * len(in_brackets)
    labelled, roles, labels_in = are_labelled(texts), have_roles(texts), texts
    texts = [without_label(text, labelled=labelled, roles=roles) for text in texts]
    plain = [IN_BRACKETS.sub("", _without_singer(text, singers)).strip() or text for text in texts]
    parted = [pieces_of(text) for text in plain]
    slashes = most(0.6, sum(_is_slashed(text, notation) for text in plain))
    commas = (
        not slashes
        and most(0.6, sum(len(COMMA.split(text)) > 1 for text in plain))
        and not most(0.3, sum(len(piece) > 1 for piece in parted))
    )
    if commas or slashes:
        parted = [pieces_of(text, commas=commas, slashes=slashes) for text in plain]
    first = [_without_length(piece[0]) for piece in parted]
    numbers = [_ends_in_tempo(text, notation) for text in first]
    if most(0.6, sum(numbers)):
        first = [found[1] if (found := TEMPO_AT_END.match(text)) and _is_tempo(found[2]) else text for text in first]
    ends = [key_at_end(without_tail(text, notation), notation) for text in first]
    ends = [end if end and not end.may_be_title else None for end in ends]
    names = [_names(piece, notation) for piece in parted]
    second = [part[1] for part in names if len(part) > 1]
    leading = [part[0] for part in names if len(part) > 1]
    has_artist = most(0.4, len(second)) and not (_rise(first) and not _rise(second))
    labels = sum(map(_is_label, leading)) >= MOST_LABELS * max(len(leading), 1)
    artist_first = (
        has_artist and not labels and len(set(leading)) < len(set(second)) and len(set(leading)) < 0.9 * len(leading)
    )
    return msgspec.structs.replace(
        style,
        commas=commas,
        slashes=slashes,
        lone_time=total >= FEWEST_LETTERS and sum(bool(_A_TIME.search(text)) for text in texts) == 1,
        clocks=clocks and not are_lengths,
        lengths_in_front=are_lengths,
        singers=singers,
        artist_in_brackets=bool(in_brackets) and not are_few,
        note_in_brackets=bool(in_brackets) and are_few,
        colons=sum(_has_facts_behind_colon(text, notation) for text in texts) >= MOST_COLONS * total > 1,
        quoted=most(0.5, sum(bool(QUOTED.match(text)) for text in texts)),
        key_named=sum(bool(_KEY_NAMED.search(text)) for text in texts) > 1,
        nows=sum(bool(_NOW.search(text)) for text in texts) > 1,
        labelled=labelled,
        roles=roles,
        dashed_labels=have_dashed_labels([text for text in labels_in if _holds_key(text, notation)] or labels_in),
        two_keys=most(MOST_TWO_KEYS, sum(_has_two_keys(text, notation) for text in texts)),
        pointed_lengths=most(0.6, sum(bool(POINTED_AT_END.search(f" {text}")) for text in plain)),
        key_at_end=_keys_end(ends, texts, total),
        key_in_front=most(0.6, sum(_begins_with_key(piece, notation) for piece in parted)),
        tempo_at_end=most(0.6, sum(numbers)),
        has_artist=has_artist and not labels and not (artist_first and are_singers(leading)),
        artist_first=artist_first and not are_singers(leading),
        singer_first=(artist_first and are_singers(leading)) or (has_artist and labels),
        by_artist=most(0.6, sum(bool(BY.match(text)) for text in first)),
        emoji=sum(bool(line.emoji) for line in lines) > 1,
        capitals=sum(_is_title_case(text) for text in first) >= 0.75 * len(first),
        indent=indent,
    )


def _without_singer(text: str, singers: frozenset[str]) -> str:
    """Return the text without a singer's name before a colon, or before a dash where others have it before a colon."""
    dashed = DASHED_SINGER.match(text) if singers else None
    return text[dashed.end() :] if dashed and dashed[1] in singers else SINGER.sub("", text) if singers else text


def _rise(names: Sequence[str]) -> bool:
    """Return whether most names begin with a capital letter, or with a sign that is none."""
    return sum(name[:1].islower() for name in names) <= MAX_FALLEN * len(names)


def _is_label(name: str) -> bool:
    """Return whether a name in front of a title says when it is played: Carol 3, Offertory, Quickstep."""
    return bool(LABEL_WITH_NUMBER.match(name)) or role_of(f"{name}: x") is not None


def without_tail(text: str, notation: Notation) -> str:
    """Return the text up to what may be its key: without an arrow, a tempo, a length, words after a comma or bracket.

    >>> [without_tail(text, Notation.LETTERS) for text in ("Salt Parade Eb, slow", "Plum Duff G ~96 ->")]
    ['Salt Parade Eb', 'Plum Duff G']
    """
    for _ in range(MAX_TAILS):
        before, text = text, off_the_end(text)[0]
        for pattern in (LENGTH_AT_END, TEMPO_AT_END, TAIL, COMMA_AT_END):
            found = pattern.match(text)
            if found and key_at_end(found[1].rstrip(" -–—:,"), notation):
                text = found[1].rstrip(" -–—:,")
        if text == before:
            break
    return text


def _names(pieces: Sequence[str], notation: Notation) -> list[str]:
    """Return the pieces up to the first key or length that are names; what follows it is about the song."""
    facts = (at for at, piece in enumerate(pieces) if at and read_piece(piece, notation).is_fact)
    first_fact = next(facts, len(pieces))
    return [piece for piece in pieces[:first_fact] if not _says_something(piece, notation)]


def _has_facts_behind_colon(text: str, notation: Notation) -> bool:
    """Return whether a colon parts the title from words with a key: Gasworks Corner: orig F, us A."""
    found = NAMED_FACTS.match(text)
    return bool(found) and any(
        key_at_end(f"x {part}", notation) for part in (*COMMA.split(found[2] if found else ""), "") if part
    )


def _has_two_keys(text: str, notation: Notation) -> bool:
    found = TAIL.match(text)
    is_key = found and plain_key(found[2], notation=notation)
    return bool(found and is_key and key_at_end(found[1].rstrip(" -–—:,"), notation))


def _marks_all_keys(lines: Sequence[TextLine], notation: Notation, *, numbered: bool) -> bool:
    """Return whether several lines with a bullet have a key, and no other line has one but those with a number.

    A list with numbers in one set may have bullets in another.
    """
    keyed = [line for line in lines if _holds_key(line.text, notation) and not (numbered and line.number is not None)]
    return len(keyed) >= FEW_KEYS and all(line.is_bulleted and line.number is None for line in keyed)


def _keys_end(ends: Sequence[KeyAtEnd | None], texts: Sequence[str], total: int) -> bool:
    """Return whether titles end in a key, a space before it: most lines do, or several in keys that leave no doubt."""
    letters = [end.written for end in ends if end and end.written[:1].isupper()]
    if len(letters) >= max(FEWEST_LETTERS, LETTERS_AT_END * total) and len(set(letters)) >= FEW_KEYS:
        return True
    small = [end.written for end, text in zip(ends, texts, strict=True) if end and text == text.lower()]
    if len(small) >= max(FEWEST_LETTERS, SMALL_AT_END * total) and len({*small} - {"a", "am"}) >= FEW_KEYS:
        return True
    strong = sum(bool(end and (end.is_strong or end.is_said)) for end in ends)
    any_key = sum(end is not None for end in ends)
    known = sum(
        end is None and bool(HOLDS_KEY.search(text) or _holds_key(_with_dash(text).rstrip("? "), Notation.LETTERS))
        for end, text in zip(ends, texts, strict=True)
    )
    return (
        (any_key >= 0.6 * total and any_key > 1)
        or (strong >= FEW_KEYS and any_key >= 0.35 * total)
        or (strong >= 1 and any_key > 1 and any_key + known >= 0.7 * total)
        or (strong > 1 and any_key - strong > 0 and any_key >= 0.4 * total)
        or (any_key > 1 and 2 * known > 3 * any_key and any_key + known >= ALL_KEYED * total)
    )


def _holds_key(text: str, notation: Notation) -> bool:
    pieces = [read_piece(piece, notation) for piece in pieces_of(text)]
    bracket = TAIL.match(text)
    in_bracket = bracket and read_piece(bracket[2], notation).key
    return any(piece.key for piece in pieces[1:]) or bool(in_bracket or key_at_end(text, notation))


def _with_dash(text: str) -> str:
    """Return the text with spaces around a dash before its key: Tidal Clock -F."""
    return _GLUED_KEY.sub(r" - \1", text)


def _hang(lines: Sequence[TextLine], notation: Notation) -> bool:
    """Return whether few lines have a bullet, each deeper than the lines without one, and none a key."""
    bulleted = [line for line in lines if line.is_bulleted]
    usual = _usual([line.row.indent for line in lines if not line.is_bulleted])
    deeper = all(line.row.indent > usual + DEEPER and key_at_end(line.text, notation) is None for line in bulleted)
    return deeper and len(bulleted) <= MAX_HANGING * len(lines)


def _usual(indents: Sequence[float]) -> float:
    return Counter(round(indent) for indent in indents).most_common(1)[0][0] if indents else 0.0


def _bare_number(line: TextLine) -> int | None:
    if line.number is not None:
        return line.number
    found = BARE_NUMBER.match(line.text)
    return int(found[1]) if found else None


def _in_sequence(numbers: Sequence[int | None]) -> int:
    """Count the numbers that continue the one before, or restart at 1; a few between them may be taken out."""
    found, before = 0, 0
    for number in numbers:
        if number is not None and (number == 1 or before < number <= before + MAX_STEP):
            found += 1
            before = number
    return found


def _is_tempo(text: str) -> bool:
    return SLOWEST <= int(re.sub(r"\D", "", text) or 0) <= FASTEST


def _ends_in_tempo(text: str, notation: Notation) -> bool:
    end = key_at_end(text, notation)
    found = TEMPO_AT_END.match(end.before if end and end.is_strong else text)
    return bool(found and _is_tempo(found[2]))


def _is_note(text: str, notation: Notation) -> bool:
    """Return whether a bulleted line is a remark on a song rather than a title."""
    return _says_something(text, notation) or bool(SAID_AT_END.match(f"x {text}"))


def _is_slashed(text: str, notation: Notation) -> bool:
    """Return whether a slash parts the title from the key: Gasworks Corner / A."""
    pieces = SLASHED.split(text)
    return len(pieces) > 1 and any(plain_key(piece, notation=notation) for piece in pieces[1:])


def _begins_with_key(pieces: Sequence[str], notation: Notation) -> bool:
    if len(pieces) > 1 and plain_key(pieces[0], notation=notation):
        return True
    found = KEY_IN_FRONT.match(pieces[0])
    return bool(found and plain_key(found[1], notation=notation))


def _without_length(text: str) -> str:
    text = STARS.sub("", text)
    found = LENGTH_AT_END.match(text)
    return found[1] if found else text


def _says_something(part: str, notation: Notation) -> bool:
    piece = read_piece(part, notation, bare_tempo=True)
    return piece.says_something or "/" in part or len(part) < 2 or length_cell(part, named=True) is not None


def _is_title_case(text: str) -> bool:
    """Return whether most words with four letters or more begin with a capital."""
    words = [word for word in IN_BRACKETS.sub("", text).split() if len(word) > 3 and word[0].isalpha()]
    return text[:1].isupper() and sum(word[0].isupper() for word in words) >= 0.7 * len(words)
