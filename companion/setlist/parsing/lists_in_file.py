"""Find the lists in a text that holds several, and choose one: the new one, not the old one quoted below it."""

import datetime as dt
import itertools
import re
from collections.abc import Iterable, Sequence

import msgspec

from companion.how_many import how_many
from companion.setlist.model import Doubt, DoubtAnswer, ReadAgain
from companion.setlist.notation import Notation
from companion.setlist.parsing.cells import any_date_in
from companion.setlist.parsing.gig_days import WEEKDAYS_SAID, next_gig
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.line_kinds import about, is_chat, is_rule, is_sentence, is_title_of_list
from companion.setlist.parsing.patterns import IN_BRACKETS
from companion.setlist.parsing.set_headings import is_break, read_heading, read_set
from companion.setlist.parsing.text_lines import TextLine
from companion.setlist.tidy import day_text
from companion.show.titles import folded

FIRST = "First"
LONGEST_STORE = 6  # words
_STORE = re.compile(
    r"\b(?:all (?:our|my|the)? ?(?:songs|tunes|titles)|(?:full |whole )?repertoire|song ?(?:bank|book)|master list|"
    r"library|songs we know|pad list|alle (?:songs|titel)|répertoire complet)\b",
    re.IGNORECASE,
)
MAX_NAMED = 4  # lists whose size a question names
FAR = 100  # lines above and below in which a second list is looked for
MAX_AGAIN = 0.4  # share of a list's songs that an earlier version has
FEWEST = 3  # lines that may be songs, without which it is no list
LONGEST_NAME = 60
LONGEST_HEAD = 12  # words; a longer line that speaks of an old list is talk, unless a colon ends it
_OLD = re.compile(
    r"\b(?:(?:old|previous|first) v(?:ersion|\.)? ?\d|old v\d|ignore(?: this)?|superseded|do not use|not this one|"
    r"last (?:time|year|month|week|gig|show)|old (?:list|one|set)|previous|earlier|for reference|as played|"
    r"we played|"
    r"letztes mal|letztes jahr|alte liste|dernière fois|l'an dernier|vorige|sist|förra)\b",
    re.IGNORECASE,
)
_OLD_ALONE = re.compile(r"^\W*(?:old|alt|ancienne|vieja|vecchia|antiga|oud|gammel|gammal|stara)\W*$", re.IGNORECASE)
_NEW = re.compile(
    r"\b(?:new (?:list|one|set ?list|version|order)|revised|bin the (?:old|other)|"
    r"updated?|latest|final|forget the old|scrap that|instead of|replaces|"
    r"current|"
    r"you(?:'re| are) (?:only )?(?:on|in|doing|playing) this|this (?:one )?is yours|"
    r"this time|neue liste|nouvelle liste|nueva lista|nuova lista|nieuwe lijst)\b",
    re.IGNORECASE,
)
_OTHERS_ARE_OLD = re.compile(  # ignore what's below: the list at hand is the new one
    r"\b(?:ignore[zr]?|forget|disregard|bin|delete|ignorier\w*|vergiss|vergesst|vergessen|oublie[zr]?|olvida\w*|"
    r"ignor\w{1,4}|dimentica\w*|esquece\w*|negeer|vergeet|glem|glöm|strunta)\b.{0,30}\b"
    r"(?:below|under|underneath|beneath|further down|"
    r"old|other|last|previous|earlier|rest|unten|drunter|darunter|alten?|anderen?|dessous|ancienne|vieille|suit|abajo|"
    r"debajo|vieja|anterior|sotto|vecchia|abaixo|antiga|hieronder|onder|oude|nedenfor|nedenunder|gamle|nedan|nedanför|"
    r"gamla|förra)\b",
    re.IGNORECASE,
)
_VERSION = re.compile(
    r"^\W*(?:set ?list\s|list\s|the list\s)?(?:v|ver|version|draft)[\s.]?(\d{1,2})\W*$", re.IGNORECASE
)
_LIST = re.compile(
    r"\b(?:set ?list|song ?list|list|running order|gig|show|repertoire|setliste|liste|lista|lijst|programm?e?)\b",
    re.IGNORECASE,
)
_DAY = re.compile(rf"\b(?:{'|'.join(WEEKDAYS_SAID)})\b", re.IGNORECASE)
_WEEKDAY = re.compile(rf"^\W*(?:{_DAY.pattern})(?:\W|$)", re.IGNORECASE)


class FoundList(msgspec.Struct):
    """One list in a file: its lines, its name, and how new it looks. A greater ``age`` is older."""

    name: str
    lines: list[TextLine]
    age: int
    day: dt.date | None

    @property
    def is_list(self) -> bool:
        """Return whether it has lines enough that may be songs."""
        return _has_songs(self.lines)


def lists_in(lines: Sequence[TextLine]) -> tuple[FoundList, ...]:
    """Return the lists in a text in their order; one if it holds one. Lines above the first belong to it."""
    found: list[FoundList] = []
    before: list[TextLine] = []
    songs_before = 0
    several_days = _heads_of_days(lines) > 1
    for at, line in enumerate(lines):
        if _begins_list(line, lines, at, found, several_days=several_days):
            if found and not found[-1].is_list:  # two lines of one head
                found[-1].lines.append(line)
                _look(found[-1], line)
                continue
            found.append(FoundList(_name(line), [], 0, None))
            if len(found) == 1:
                found[0].lines, before, songs_before = before, [], 0
            _look(found[-1], line)
            found[-1].lines.append(line)
        elif found:
            found[-1].lines.append(line)
        else:
            before.append(line)
            songs_before += _may_be_song(line)
            if songs_before >= FEWEST:
                found.append(FoundList("the first list", before, 0, None))
                for one in before:
                    _look(found[0], one)
                before, songs_before = [], 0
    if before:
        found.append(FoundList("", before, 0, None))
    return _merged(found)


def _merged(found: list[FoundList]) -> tuple[FoundList, ...]:
    """Put what is no list by itself to the list before it."""
    made: list[FoundList] = []
    for one in found:
        if made and (not one.is_list or _counts_on(made[-1].lines, one.lines)):
            made[-1].lines += one.lines
        elif made and not made[-1].is_list:
            one.lines = made.pop().lines + one.lines
            made.append(one)
        else:
            made.append(one)
    return tuple(made)


def _counts_on(above: Sequence[TextLine], below: Sequence[TextLine]) -> bool:
    """Return whether the numbers of songs go on below a head that has a date or looks like one: 6, After ten, 7."""
    last = next((line.number for line in reversed(above) if line.number is not None), 0)
    first = next((line.number for line in below if line.number is not None), 0)
    return last >= FEWEST and first == last + 1


def _begins_list(
    line: TextLine, lines: Sequence[TextLine], at: int, found: Sequence[FoundList], *, several_days: bool
) -> bool:
    """Return whether a new list begins with this line: a head with a date or such a word, or a deeper quotation."""
    above = lines[at - 1] if at else None
    if above is not None and line.row.quoted != above.row.quoted and (line.row.quoted > above.row.quoted):
        quoted = (one for one in lines[at:] if one.row.quoted)
        before = next((one.number for one in reversed(lines[:at]) if one.number is not None), None)
        if before is not None and line.number == before + 1:
            return False  # a remark between the lines of one list
        return bool(found) and _has_songs(quoted)
    if line.message.is_head and above is not None and not above.message.is_head:
        return bool(found) and found[-1].is_list and _has_songs(lines[at:])
    if at and _starts_again(lines, at):
        return True
    if line.is_marked or line.message.is_envelope or not line.text or _keyed(line) or read_heading(line.text):
        return False
    says_age = bool(_OLD.search(line.text) or _NEW.search(line.text)) and not _is_talk(line)
    if (_VERSION.match(line.text) or (at and _OLD_ALONE.match(line.text))) and _has_songs(lines[at + 1 :]):
        return True
    dated = any_date_in(line.text) is not None
    words = line.text.split()
    if says_age and (_LIST.search(line.text) or dated or line.text.rstrip().endswith(":") or line.row.is_large):
        return True
    if says_age and len(words) <= LONGEST_HEAD and _heads_set(lines, at):
        return True
    if several_days and _heads_day(lines, at):
        return True
    if found and _is_store(line) and _has_songs(lines[at + 1 :]):
        return True
    is_head = dated and len(words) <= LONGEST_HEAD and not is_sentence(line.text)
    return is_head and (
        bool(_LIST.search(line.text) or _DAY.search(line.text)) or line.row.is_large or line.row.text.startswith("#")
    )


def _is_store(line: TextLine) -> bool:
    """Return whether a line heads all the songs of a band, below the list of one night."""
    stands_out = _stands_out(line) or line.row.text.startswith("#")
    return stands_out and len(line.text.split()) <= LONGEST_STORE and bool(_STORE.search(line.text))


def _heads_set(lines: Sequence[TextLine], at: int) -> bool:
    """Return whether the heading of a set follows the line at once, as below a list's name."""
    return at + 1 < len(lines) and read_set(lines[at + 1].text) is not None


def _stands_out(line: TextLine) -> bool:
    return (
        line.row.blank_before or line.row.is_large or line.text.isupper() or line.text.endswith(":") or line.is_framed
    )


def _heads_day(lines: Sequence[TextLine], at: int) -> bool:
    """Return whether a line may head the list of a day of the week."""
    line = lines[at]
    return bool(_WEEKDAY.match(line.text)) and (at == 0 or _stands_out(line)) and not _keyed(line)


def _heads_of_days(lines: Sequence[TextLine]) -> int:
    """Return how many days of the week head a part of the text that has songs enough for a list."""
    heads = [at for at in range(len(lines)) if _heads_day(lines, at)]
    if len(heads) < 2:
        return 0
    days = {lines[at].text[:3].lower() for at in heads}
    parts = zip(heads, [*heads[1:], len(lines)], strict=True)
    return min(len(days), sum(_has_songs(lines[begin + 1 : end]) for begin, end in parts))


def _starts_again(lines: Sequence[TextLine], at: int) -> bool:
    """Return whether a first set begins here, after a second one, with songs that the list above has too."""
    heading = read_set(lines[at].text)
    before, below = lines[max(0, at - FAR) : at], lines[at + 1 : at + 1 + FAR]
    if lines[at].number == 1:
        return _is_another_version(before, lines[at : at + FAR])
    if heading is None or heading.name != FIRST or not any(_is_second(line) for line in before):
        return False
    above = {folded(_title(line)) for line in before if _may_be_song(line)}
    return any(folded(_title(line)) in above for line in below if _may_be_song(line))


def _is_another_version(before: Sequence[TextLine], below: Sequence[TextLine]) -> bool:
    """Return whether numbers begin again in a later message, with many of the songs that an earlier one has."""
    numbered = [line for line in before if line.number is not None]
    again = [line for line in below if line.number is not None]
    if len(numbered) < FEWEST or len(again) < FEWEST or numbered[-1].message.message == below[0].message.message:
        return False
    above = {folded(_title(line)) for line in numbered}
    return sum(folded(_title(line)) in above for line in again) >= MAX_AGAIN * len(again)


def _is_second(line: TextLine) -> bool:
    heading = read_set(line.text)
    return heading is not None and heading.name in ("Second", "Third")


def _title(line: TextLine) -> str:
    end = key_at_end(IN_BRACKETS.sub("", line.text).strip(), Notation.LETTERS)
    return end.before.rstrip(" -–—:,/|") if end else IN_BRACKETS.sub("", line.text).strip()


def _look(found: FoundList, line: TextLine) -> None:
    """Take what a line says about a list's age."""
    found.day = found.day or any_date_in(line.text) or line.message.sent
    if version := _VERSION.match(line.text):
        found.age = -int(version[1])
    if _OTHERS_ARE_OLD.search(line.text):
        found.age = -1
    elif (
        _is_store(line)
        or _OLD_ALONE.match(line.text)
        or (_OLD.search(line.text) and not _NEW.search(line.text) and not _is_talk(line))
    ):
        found.age = 2
    elif _NEW.search(line.text):
        found.age = -1
    if (line.row.quoted or line.message.is_head) and found.age >= 0:
        found.age = max(found.age, 1)


def _is_talk(line: TextLine) -> bool:
    """Return whether a line only talks about a list ('do not trust the old list, ...') and heads none."""
    words = IN_BRACKETS.sub("", line.text).split()
    return len(words) > LONGEST_HEAD and not line.text.rstrip().endswith(":")


def _name(line: TextLine) -> str:
    return line.text.strip(" :#*=-")[:LONGEST_NAME]


def _keyed(line: TextLine) -> bool:
    text = IN_BRACKETS.sub(lambda found: f" {found[0][1:-1]}", line.text).strip()
    return key_at_end(text, Notation.LETTERS) is not None or key_at_end(text, Notation.GERMAN) is not None


def _has_songs(lines: Iterable[TextLine]) -> bool:
    """Return whether there are enough songs for a list; looks no further than that."""
    return sum(1 for _ in itertools.islice(filter(_may_be_song, lines), FEWEST)) >= FEWEST


def _may_be_song(line: TextLine) -> bool:
    if line.message.is_envelope or is_rule(line.text) or read_heading(line.text) or is_break(line.text):
        return False
    if about(line.text) or is_title_of_list(line.text):
        return False
    return (
        _keyed(line)
        or (line.is_marked and not is_sentence(line.text))
        or (
            len(line.text.split()) <= 7
            and not is_chat(line.text)
            and not is_sentence(line.text)
            and line.text[:1].isupper()
        )
    )


def choose(found: Sequence[FoundList], chosen: str | None) -> int:
    """Return which list is read: the one asked for; else the newest by its words, then the next gig's, then the first.

    Where all days are past, it is the last.
    """
    names = names_of(found)
    if chosen in names:
        return names.index(chosen)
    youngest = min(one.age for one in found)
    young = [at for at, one in enumerate(found) if one.age == youngest]
    at = next_gig([(found[at].name, found[at].day) for at in young])
    return young[at or 0]


def names_of(found: Sequence[FoundList]) -> list[str]:
    """Return a name for each list, no two alike."""
    names: list[str] = []
    for number, one in enumerate(found, start=1):
        name = one.name or f"list {number}"
        names.append(name if name not in names else f"{name} ({number})")
    return names


def sizes_of(found: Sequence[FoundList]) -> list[str]:
    """Return what tells the lists apart: 14 lines, Sat 14 Nov 2026."""
    return [size_text(_songs_in(one.lines), one.day) for one in found]


def _songs_in(lines: Sequence[TextLine]) -> int:
    """Return how many songs a list has, roughly: its lines with keys, where most have one."""
    songs = [line for line in lines if _may_be_song(line) and not line.text.endswith(":")]
    keyed = sum(map(_keyed, songs))
    return keyed if 2 * keyed >= len(songs) else len(songs)


def size_text(songs: int, day: dt.date | None) -> str:
    """Return how many lines a list has for songs, and its day: its songs are counted once it is read."""
    return f"{how_many(songs, 'line')}{f', {day_text(day)}' if day else ''}"


def doubt_which(names: Sequence[str], at: int, sizes: Sequence[str]) -> Doubt:
    """Doubt which list of several is the one to play. ``sizes``: what else tells them apart."""
    others = [name for name in names if name != names[at]]
    no = [DoubtAnswer("no", (ReadAgain(chosen=others[0]),))] if len(others) == 1 else []
    return Doubt(
        f"{len(names)} lists in one file: read {names[at]}; not {', '.join(others)}",
        f"Is {names[at]!r} the list to play?{_apart(names, sizes)}",
        (DoubtAnswer("yes"), *no, *(DoubtAnswer(name, (ReadAgain(chosen=name),)) for name in others)),
    )


def _apart(names: Sequence[str], sizes: Sequence[str]) -> str:
    """Return a sentence that tells the lists apart: March has 14 lines, April has 12 lines."""
    said = [f"{name} has {size}" for name, size in zip(names, sizes, strict=True)]
    return f" ({'; '.join(said)})" if len(said) <= MAX_NAMED else ""
