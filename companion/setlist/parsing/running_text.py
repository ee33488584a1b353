"""Songs in running text: sentences of a mail, a whole evening in one line. Each becomes a line of its own."""

import enum
import itertools
import re
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.setlist.notation import Notation
from companion.setlist.parsing.line_kinds import is_chat, is_farewell
from companion.setlist.parsing.patterns import AND, PART_OF_SONG
from companion.setlist.parsing.remarks import is_remark
from companion.setlist.parsing.running_clauses import TRIM, Clause, clauses_of, is_led, lead_of, risen, talks_first
from companion.setlist.parsing.running_keys import RunningKey, first_key_in, keys_in
from companion.setlist.parsing.running_words import (
    AFTER_BREAK,
    CLOSING,
    CORRECTS,
    ENCORE,
    FOR_PART,
    GIVES_REASON,
    LEAD,
    OF_LIST,
    SEGUE,
    SMALL,
)
from companion.setlist.parsing.set_headings import SetHeading, is_break, read_heading, read_set

LONGEST: Final = 5000  # characters
FEWEST: Final = 2  # songs of a line
FEWEST_BARE: Final = 3  # songs of a line without any word between them
MOST: Final = 0.75  # share of the keys that end titles
FEWEST_LEFT_OUT: Final = 2  # commas between two keys tell that some titles of a row have none
MOST_IN_ROW: Final = 0.8  # share of the keys that a comma or the end follows
MANY: Final = 4  # songs; in a line of fewer, words of a correction tell that it is one
LONGEST_TITLE: Final = 10  # words
LONGEST_HEADING: Final = 12  # words of a clause that names a set
FEW_LETTERS: Final = 2
FEW_OF_PART: Final = 3  # words that name a part of a song
_LAST_AND: Final = re.compile(rf"\s(?:{AND}|&)\s(?=[^\W_a-z])")
_BEGINS: Final = re.compile(r"\s?[,;.!?/|>•·→+]|\s[-–—]")
_COMMA: Final = re.compile(r"\s?[,;]")
_ARROW: Final = re.compile(r"\s?(?:-{1,2}>|=>|>{1,2}|→)")
_QUOTED: Final = re.compile(r"[\"“„«”]\s?([^\"“”„«»]{2,60}?)[,.]?\s?[\"“”»]")


class PartKind(enum.Enum):
    """What a part of running text is."""

    HEADING = "heading"
    SONG = "song"
    TALK = "talk"


class TextPart(msgspec.Struct):
    """A part of running text. ``note``: what the text says of the song; ``is_unsure``: where the title begins."""

    kind: PartKind
    text: str
    note: str = ""
    is_unsure: bool = False
    heading: SetHeading | None = None
    is_plain: bool = False  # of a text of titles and keys with the same signs between them, and no other words


def running_parts(text: str, notation: Notation, *, fewest: int = FEWEST, rises: bool = False) -> tuple[TextPart, ...]:
    """Return the parts of a text that holds songs among its words; none if it holds fewer, or is no such text.

    ``rises``: other lines tell that titles have capitals; else the text itself does.
    """
    if len(text) > LONGEST:
        return ()
    quoted = [(one.start(), one.end(), one[1].strip()) for one in _QUOTED.finditer(text)]
    if len(quoted) >= fewest and (parts := _Reading(text, notation, rises=rises).quoted(quoted)):
        return tuple(parts)  # however plain, the signs may mean anything
    keys = list(keys_in(text, notation))
    is_weak = sum(key.is_weak for key in keys) >= MOST * len(keys) and len(keys) >= FEWEST_BARE
    if not is_weak and not _is_row(text, keys):
        keys = [key for key in keys if not key.is_weak]
    if len(keys) < fewest:
        return ()
    return tuple(_Reading(text, notation, rises=rises).keyed(keys, fewest))


def _is_row(text: str, keys: Sequence[RunningKey]) -> bool:
    """Return whether nearly every piece between commas ends in a key: moth g, weeds bm, kite d."""
    text = text.rstrip(" .")
    ends = [*(one.start() for one in _COMMA.finditer(text)), len(text)]
    keyed = {key.end for key in keys}
    return len(ends) >= FEWEST_BARE and sum(end in keyed for end in ends) >= MOST_IN_ROW * len(ends)


def _leaves_keys_out(text: str, keys: Sequence[RunningKey]) -> bool:
    """Return whether a row of titles between commas leaves several keys out: Moth G, Weeds, Fog Bell C."""
    gaps = [text[before.end : after.begin].strip() for before, after in itertools.pairwise(keys)]
    in_row = sum(gap[:1] in (",", ";", "") or "\n" in gap for gap in gaps)
    return sum(gap.strip(" ,;").count(",") == 1 for gap in gaps) >= FEWEST_LEFT_OUT and in_row >= MOST_IN_ROW * len(
        gaps
    )


class _Reading:
    """Reads one text from its front to its end."""

    def __init__(self, text: str, notation: Notation, *, rises: bool) -> None:
        self.text, self.notation = text, notation
        self.parts: list[TextPart] = []
        self.led = False  # words of talk led to a song
        self.rises = rises
        self.leaves_keys_out = False

    # ------------------------------------------------------------------ titles between quotation marks

    def quoted(self, quoted: Sequence[tuple[int, int, str]]) -> list[TextPart]:
        """Read titles between quotation marks; what stands between them is keys, notes and talk."""
        keyed = 0
        self._lead_in(self.text[: quoted[0][0]])
        for at, (_, end, title) in enumerate(quoted):
            is_last = at + 1 == len(quoted)
            between = self.text[end : len(self.text) if is_last else quoted[at + 1][0]]
            key = next(keys_in(between, self.notation), None) or first_key_in(between, self.notation)
            written = f" ({key.written})" if key else ""
            keyed += bool(key)
            self.parts.append(TextPart(PartKind.SONG, f"{title}{written}"))
            if key:
                self._tail(between[: key.begin])
            rest = between[key.end if key else 0 :]
            if is_last:
                self._tail(rest)
            else:
                self._between(rest)
        is_list = keyed >= 0.5 * len(quoted) or (self.led and len(quoted) > FEWEST)
        return self.parts if is_list else []

    def _lead_in(self, words: str) -> None:
        """Take the words in front of the first title."""
        clauses = clauses_of(words)
        for at, clause in enumerate(clauses):
            if heading := self._heading(clause, may_be_label=at + 1 == len(clauses)):
                self._begin(heading, clause.text)
            elif at + 1 < len(clauses):
                self._talk(clause.text)
            else:
                self.led = self.led or bool(LEAD.match(f"{clause.text} "))
                if not is_led(clause.text):
                    self._talk(clause.text)

    def _between(self, words: str) -> None:
        """Take the words between a song with its key and the next title."""
        clauses = clauses_of(words)
        for at, clause in enumerate(clauses):
            if heading := self._heading(clause, may_be_label=False):
                self._begin(heading, clause.text)
            elif is_led(clause.text) or (at + 1 == len(clauses) and LEAD.match(clause.text)):
                self.led = True
                self._segue(clause.text)
            else:
                self._note(clause.text)

    def _tail(self, words: str) -> None:
        """Take what stands after the last song: in its sentence it is a note, in the next it is talk."""
        is_over = False
        for clause in clauses_of(words):
            is_over = is_over or is_farewell(clause.text)
            if is_over:
                self._talk(clause.text)
            else:
                self._note(clause.text)
            is_over = is_over or (clause.ends[:1] in ".!?\n" and bool(clause.ends))

    # ------------------------------------------------------------------ titles before keys

    def keyed(self, keys: Sequence[RunningKey], fewest: int) -> list[TextPart]:
        """Read a title before each key."""
        words = [word for word in re.findall(r"[^\W\d_][\w'’]*", self.text) if len(word) > 1]
        self.rises = self.rises or sum(word[0].isupper() for word in words) > len(keys)
        last, songs, self.reasons = 0, 0, 0
        self.leaves_keys_out = _leaves_keys_out(self.text, keys)
        for key in keys:
            gap = self.text[last : key.begin]
            if self._song(gap, key, is_first=not songs):
                songs += 1
                last = key.end
        self._tail(self.text[last:])
        is_bare = not self.led and not any(part.kind is PartKind.HEADING for part in self.parts)
        counted = len(keys) - self.reasons
        if songs < max(fewest - self.reasons, MOST * counted, FEWEST if fewest < FEWEST and is_bare else 1):
            return []
        if songs < MANY and CORRECTS.search(self.text):
            return []
        talks = self.led or any(part.kind is PartKind.TALK or part.is_unsure for part in self.parts)
        notes = {part.note for part in self.parts} - {"", "segue"}
        if not talks and not notes and len({key.form for key in keys}) == 1:
            for part in self.parts:
                part.is_plain = True
        if songs == FEWEST and is_bare and (len({key.form for key in keys}) > 1 or self._names_a_part()):
            return []  # Moth (C) - trio in F
        return self.parts

    def _names_a_part(self) -> bool:
        """Return whether the second of two titles is a part of a song: Moth in C, last chorus in D."""
        titles = [part.text.rsplit(" (", 1)[0] for part in self.parts if part.kind is PartKind.SONG]
        return bool(PART_OF_SONG.search(titles[-1])) and len(titles[-1].split()) <= FEW_OF_PART

    def _song(self, gap: str, key: RunningKey, *, is_first: bool) -> bool:
        """Read the words before a key: notes on the song above, talk, and the title at their end."""
        clauses = clauses_of(gap)
        if not clauses:
            return False
        *before, own = clauses
        if GIVES_REASON.match(own.text) and not (is_first or before or _BEGINS.match(gap)):
            self.led = True  # E flat because of my voice, whatever Ron says about E
            self.reasons += 1
            return False
        begins = not before or before[-1].ends[:1] in (*".!?:", "")
        title, said, unsure = self._title(own.text, begins=begins and (is_first or bool(before) or gap[:1] in ".!?"))
        if not self._is_title(title):
            return False
        joined: list[str] = []
        while before and before[-1].ends == "," and not said and self._goes_on(before, gap, is_first=is_first):
            led = lead_of(before[-1].text, rises=self.rises, begins=False)
            joined.insert(0, before[-1].text[led:].strip())
            said = before.pop().text[:led].strip()
        begins_here = _BEGINS.match(gap) is not None
        if _ARROW.match(gap):
            self._note("segue")
        for at, clause in enumerate(before):
            if heading := self._heading(clause, may_be_label=True):
                self._begin(heading, clause.text)
            elif is_led(clause.text):
                self.led = True
                self._segue(clause.text)
            elif is_first and clause is before[-1] and self._is_label(clause):
                title = f"{clause.text}: {title}"  # by itself this line does not say what it is
            elif is_first or (clause.ends == ":" and OF_LIST.search(clause.text)):
                self._talk(clause.text)
            elif self.rises and (at or begins_here) and self._reads_as_title(clause.text):
                self.parts.append(TextPart(PartKind.SONG, clause.text.strip(TRIM), is_unsure=True))
            else:
                self._note(clause.text)
        if said:
            self.led = self.led or LEAD.match(f"{said} ") is not None
            self._segue(said)
            if heading := self._heading(Clause(said, ""), may_be_label=False):
                self._begin(heading, said)
        self._songs([*joined, title], key, is_unsure=unsure or (bool(joined) and gap.lstrip()[:1] in ",;"))
        return True

    def _is_label(self, clause: Clause) -> bool:
        is_name = self.rises and len(clause.text.split()) <= FEW_OF_PART and self._reads_as_title(clause.text)
        return clause.ends == ":" and is_name and not OF_LIST.search(clause.text) and not is_chat(f"{clause.text},")

    def _songs(self, pieces: list[str], key: RunningKey, *, is_unsure: bool) -> None:
        """Take words between commas before one key: a title with a comma, or several songs of which the last has it."""
        if len(pieces) <= FEWEST and not key.is_of_all and not self.leaves_keys_out:
            self.parts.append(TextPart(PartKind.SONG, f"{', '.join(pieces)} ({key.written})", is_unsure=is_unsure))
            return
        pieces[-1:] = _LAST_AND.split(pieces[-1])
        for at, piece in enumerate(pieces):
            has_key = key.is_of_all or at + 1 == len(pieces)
            self.parts.append(TextPart(PartKind.SONG, f"{piece} ({key.written})" if has_key else piece, is_unsure=True))

    def _goes_on(self, before: Sequence[Clause], gap: str, *, is_first: bool) -> bool:
        """Return whether the clause before a title's last one belongs to the title: Walk Softly, Captain."""
        clause = before[-1]
        if is_first:
            return self._reads_as_title(clause.text) and not is_chat(f"{clause.text},")
        led = lead_of(clause.text, rises=self.rises, begins=False)
        title = clause.text[led:].strip()
        if (len(before) == 1 and not led and not _BEGINS.match(gap)) or not title:
            return False  # it follows the key above without a sign
        if self._heading(clause, may_be_label=True) or is_remark(clause.text):
            return False
        return title[:1].isupper() if self.rises else len(title.split()) < LONGEST_TITLE // 2

    def _title(self, words: str, *, begins: bool) -> tuple[str, str, bool]:
        """Split a clause: (the title, the words that lead to it, whether where it begins is unsure).

        ``begins``: the clause begins a sentence, so that a word of talk may have a capital there.
        """
        at = lead_of(words, rises=self.rises, begins=begins)
        rest = words[at:].strip(TRIM)
        if self.rises and (rest[:1].islower() or (begins and talks_first(rest))):
            run = risen(rest) or next((one.start() for one in re.finditer(r"(?<!\S)[^\W\d_a-z]", rest)), 0)
            if run and rest[run : run + 1].isupper():
                return rest[run:].strip(TRIM), " ".join(f"{words[:at]} {rest[:run]}".split()), True
        return rest, words[:at].strip(), bool(at) and not self.rises

    def _is_title(self, title: str) -> bool:
        signs = sum(sign.isalnum() for sign in title)  # P45 is a title
        if (
            signs < FEW_LETTERS
            or not any(map(str.isalpha, title))
            or len(title.split()) > LONGEST_TITLE
            or read_set(title)
        ):
            return False
        return not (self.rises and title[:1].islower()) and not (is_remark(title) and title[:1].islower())

    def _reads_as_title(self, text: str) -> bool:
        words = [word for word in text.strip(TRIM).split() if word[0].isalpha() and word.lower() not in SMALL]
        return bool(words) and all(word[0].isupper() for word in words) and text[:1].isupper() and not is_remark(text)

    # ------------------------------------------------------------------ headings, notes, talk

    def _heading(self, clause: Clause, *, may_be_label: bool) -> SetHeading | None:
        """Return the heading that a clause names: for the second half; after the interval; For the guests: ..."""
        text = clause.text.strip(TRIM)
        if CLOSING.search(text) and not ENCORE.search(text):
            return None
        words = text.split()
        if len(words) > LONGEST_HEADING:
            return None
        for count in (2, 3):
            for at in range(len(words) - count + 1):
                said = " ".join(words[at : at + count]).strip(TRIM)
                if (found := read_set(said)) and not found.also:
                    return found
        if ENCORE.search(text):
            return SetHeading("Encore")
        if (AFTER_BREAK.search(text) and clause.ends != ":") or (text.isupper() and is_break(text)):
            return SetHeading("")
        if may_be_label and clause.ends == ":":
            if (found := read_heading(text)) and not found.also:
                return msgspec.structs.replace(found, is_word=False)
            if FOR_PART.match(text) and not any(map(str.isdigit, text)):
                return SetHeading(text[:1].upper() + text[1:])
        if AFTER_BREAK.search(text):
            return SetHeading("")
        return None

    def _begin(self, heading: SetHeading, said: str) -> None:
        """Begin a set, unless these words name the one that is being read."""
        names = [part.heading.name for part in self.parts if part.heading]
        songs = any(part.kind is PartKind.SONG for part in self.parts)
        if heading.name and (heading.name in names or (heading.name == "First" and songs)):
            return
        above = self.parts[-1] if self.parts else None
        if above and above.heading:  # After dinner, for dancing: ...
            whole = f"{above.text}, {said.strip(TRIM)}"
            names_set = read_set(heading.name) is not None or read_set(above.heading.name) is not None
            kept = heading if read_set(heading.name) else above.heading if names_set else SetHeading(whole)
            above.text, above.heading = whole, kept
            return
        self.parts.append(TextPart(PartKind.HEADING, said.strip(TRIM), heading=heading))

    def _note(self, words: str) -> None:
        """Keep words as a note on the song above; as talk where there is none."""
        words = words.strip(TRIM + "()")
        above = self.parts[-1] if self.parts and self.parts[-1].kind is PartKind.SONG else None
        if not any(map(str.isalnum, words)):
            return
        if above is None:
            self.parts.append(TextPart(PartKind.TALK, words))
            return
        above.note = ", ".join(filter(None, (above.note, words)))

    def _segue(self, words: str) -> None:
        if found := SEGUE.search(words):
            self._note(found[0])

    def _talk(self, words: str) -> None:
        if any(map(str.isalnum, words)):
            self.parts.append(TextPart(PartKind.TALK, words.strip()))
