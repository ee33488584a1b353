"""What a line certainly is by its own form; open where it may be a song."""

import re
from collections.abc import Sequence

import msgspec

from companion.setlist.model import Doubt, LineKind
from companion.setlist.notation import Notation
from companion.setlist.parsing import line_kinds
from companion.setlist.parsing.column_roles import Column, Head, read_heads
from companion.setlist.parsing.conditions import is_condition
from companion.setlist.parsing.inline_songs import InlineSongs, inline_songs, of_a_key, read_voice, sung_by
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import SAYS_AGAIN, plain_key
from companion.setlist.parsing.labels import label_of
from companion.setlist.parsing.list_talk import heads_changes, says_same_as_before
from companion.setlist.parsing.not_played import names_taken_out
from companion.setlist.parsing.patterns import BARE_NUMBER, COMMA, MINUTES, PARTED, SLASHED, TAIL
from companion.setlist.parsing.pieces import read_piece
from companion.setlist.parsing.running_text import PartKind, TextPart
from companion.setlist.parsing.sender_lines import is_day_alone
from companion.setlist.parsing.set_headings import (
    SetHeading,
    clock_in_front,
    is_break,
    is_music_too,
    is_without_music,
    read_heading,
)
from companion.setlist.parsing.song_draft import Draft
from companion.setlist.parsing.text_lines import TextLine


class Classified(msgspec.Struct):
    """A line with what it was taken for. ``draft`` is set for songs, ``heading`` for sets, ``also`` for doubts."""

    line: TextLine
    took: LineKind | None = None  # None: not known yet
    draft: Draft | None = None
    heading: SetHeading | None = None
    inline: InlineSongs | None = None
    doubts: tuple[Doubt, ...] = ()
    facts: str = ""  # of a line that only names values of the song above, a comma between them
    aside: str = ""  # why it is not played
    begins_set: bool = False  # without a heading: the songs' numbers begin again here

    @property
    def has_key(self) -> bool:
        """Return whether the line, if it is a song, holds a key."""
        return self.draft is not None and self.draft.has_key

    @property
    def is_beside(self) -> bool:
        """Return whether the line is beside the songs: words about the show, or decoration."""
        return self.took in (LineKind.LEFT, LineKind.RULE, LineKind.ABOUT)


def is_line_of_songs(one: Classified) -> bool:
    """Return whether a line holds several songs, without a heading and a key of all."""
    return one.inline is not None and one.heading is None and not one.inline.key


def rows_of_songs(found: Sequence[Classified]) -> int:
    """Return how many lines hold several songs; those of running text only where they hold most of the songs."""
    running = sum(one.inline is not None and one.inline.is_running for one in found)
    rows = sum(one.inline is not None and one.inline.is_whole_row for one in found)
    return rows if running > sum(one.took is None for one in found) else rows - running


def ends_in_colon(one: Classified) -> bool:
    """Return whether an open line without a key or a length ends in a colon, as headings do."""
    return one.took is None and one.line.whole.rstrip().endswith(":") and not (one.draft and one.draft.has_fact)


_FACT = re.compile(
    r"\s*(?:[,;|/·•]\s*)?"
    r"((?:key|tonart|tonalité|tono|tom|tempo|bpm|length|duration|time|dauer|artist|original key|"
    r"lead(?: vocals?)?|vocals?|vox|singer|sung by)\s*[:=])"
    r"\s*([^\s,;|/·•:=]+(?:\s(?:major|minor|bpm|dur|moll|flat|sharp)){0,2})",
    re.IGNORECASE,
)
_LAST_SENTENCE = re.compile(r"[.!?)]\s+([^.!?]{3,40}:)$")  # We then break for the speeches. Second set:
_PARTED_FROM_SONG = re.compile(r"^[^:–—|-]{2,30}(?:\s[-–—|]\s|:\s)\S+.*\S")
LONGEST_WITH_HEADING = 300
_SET_ALONE = re.compile(r"^\W*(?:the )?set\W*$", re.IGNORECASE)  # in a table it names a column
_AT_THE_END = re.compile(r"(?:e(?:x|ks)tras?|spares?|reserves?|reserven?|reserva|réserve)$", re.IGNORECASE)
_SINGS = frozenset(("lead", "lead vocal", "lead vocals", "vocal", "vocals", "vox", "singer", "sung by"))
_SMALL_ENCORE = re.compile(r"^encores?\s+(?![A-H][b#♭♯]?m?$)([A-Z]\w.*\S)$")  # in small letters before a title
_MINUTES = re.compile(rf",\s?(?:ca\.? |about )?\d{{1,3}}\s?(?:{MINUTES}|')(?!\w)")
_CHORD = r"[A-G][b#♭♯]?(?:m|maj|min|dim|aug|sus|add)?\d{0,2}(?:/[A-G][b#]?)?"
_CHORDS = re.compile(  # outro vamp C Bb F
    r"^(?:(?:intro|outro|verse|chorus|bridge|solo|vamp|coda|tag|turnaround|ending|middle 8|link|riff)s?\s*:?\s+){1,2}"
    rf"{_CHORD}(?:[\s|,–-]+(?:{_CHORD}|x\s?\d|\d\s?x|%))*[\s|]+(?:{_CHORD}|x\s?\d|\d\s?x)[\s|]*$",
    re.IGNORECASE,
)
_COUNTS = re.compile(  # 3 sets, 2 breaks, pie in the green room
    r"^\W{0,3}(?:\d{1,2}|two|three|four)\s?(?:x\s)?(?:sets|breaks|halves|sätze|blöcke|pausen|parties|pauses|pases|"
    r"descansos|parti|partes|pausas|pauzes|sæt|pauser|sett)\b"
    r"(?:[,;.:]|\s?[+&]|\s(?:of|with|and|à|x|mit|avec|con|de|met|med|und|et|y|e|en|og|och)\s)",
    re.IGNORECASE,
)
MOST_IN_BREAK = 3  # words of a line that names a break and what there is to eat
LONGEST_FACTS = 100
MIN_TALK = 4  # words; fewer may be a title: Same Again


def facts_in(text: str, notation: Notation) -> str:
    """Return the values that a line names and nothing else, a comma between them: Key: G  Tempo: 124."""
    if line_kinds.is_meter(text):
        return text.strip()
    if facts := _only_facts(text, notation):
        return facts
    if len(text) > LONGEST_FACTS or not _FACT.match(text) or _FACT.sub("", text).strip():
        return ""
    found = [(label.rstrip(" :=").lower(), value) for label, value in _FACT.findall(text)]
    said = [f"{value} bpm" if label in ("tempo", "bpm") and value.isdecimal() else value for label, value in found]
    said = [f"{label} {value}" if label in _SINGS else value for (label, _), value in zip(found, said, strict=True)]
    is_read = all(
        label in _SINGS or read_piece(value, notation).says_something
        for (label, _), value in zip(found, said, strict=True)
    )
    return ", ".join(said) if is_read else ""


def _only_facts(text: str, notation: Notation) -> str:
    """Return the facts of a line that holds a key and other values, and no words: C · 118 bpm."""
    parts = [part.strip() for piece in PARTED.split(text) for part in COMMA.split(piece) if part.strip()]
    pieces = [read_piece(part, notation) for part in parts]
    is_all = len(pieces) > 1 and all(piece.is_fact for piece in pieces) and any(piece.key for piece in pieces)
    return ", ".join(parts) if is_all and not all(piece.key for piece in pieces) else ""


def _ends_in_key(text: str, notation: Notation) -> bool:
    bracket = TAIL.match(text)
    return key_at_end(text, notation) is not None or bool(bracket and plain_key(bracket[2], notation=notation))


def _keyed_in_front(text: str) -> bool:
    """Return whether a title and its key stand before a bracket: Moth - B (same as last year)."""
    bracket = TAIL.match(text)
    end = key_at_end(bracket[1], Notation.LETTERS) if bracket else None
    return end is not None and end.before[-1:] in "-–—:,|/"


def _are_names(heads: Sequence[Head | None]) -> bool:
    """Return whether the words can only name columns: all are known, or a title's and a key's are among them."""
    columns = [head.column if head else Column.OTHER for head in heads]
    return Column.OTHER not in columns or {Column.TITLE, Column.KEY} <= set(columns)


def _of_several_pieces(line: TextLine) -> LineKind | None:
    """Tell names of columns, and a break with what there is beside it, from the signs between its words."""
    text = line.text
    pieces = PARTED.split(line.text)
    if len(pieces) == 1 and not line.is_marked:
        pieces = SLASHED.split(line.text)
    is_slashed = len(pieces) == 2 and "/" in line.text and not line.is_marked  # in two languages
    tells_break = line.is_framed or _MINUTES.search(text) is not None  # --break, pass the hat--; pause, 25 min, pie
    if len(pieces) == 1 and not line.is_marked and (tells_break or len(text.split()) <= MOST_IN_BREAK):
        pieces = COMMA.split(text)  # Paus, korv
    is_pause = is_break(pieces[0]) or (is_slashed and any(map(is_break, pieces)))  # EGWYL / INTERVAL
    if len(pieces) > 1 and is_pause and not any(map(plain_key, pieces[1:])):
        is_played = is_music_too(text) and not all(piece[:1].islower() for piece in pieces[1:])
        return None if is_played else LineKind.BREAK  # Interval - squash
    for said in (pieces, PARTED.split(line.whole)):  # Song - Key, where Song is no label of what follows
        if len(said) > 1 and (heads := read_heads(said)) and _are_names(heads):
            return LineKind.COLUMNS
    return None


def _encore(text: str) -> InlineSongs | None:
    """Read an encore and its song in one line: encore Moth on a Wire."""
    found = _SMALL_ENCORE.match(text)
    return InlineSongs((found[1],), heading=SetHeading("Encore")) if found else None


def _labelled_set(line: TextLine, notation: Notation) -> InlineSongs | None:
    """Read a set and its songs in one line whose label was taken off as if a person were named: encore: Moth (F)."""
    label = line.whole.removesuffix(line.text).rstrip()
    inline = inline_songs(line.whole, notation) if label.endswith(":") and label != line.whole else None
    return inline if inline and inline.heading else None


def _on_condition(text: str, notation: Notation) -> InlineSongs | None:
    """Read a condition and its song with a key in one line: falls noch Zeit ist: Moth - G."""
    label, _, song = text.partition(": ")
    if not song or not is_condition(f"{label}:") or not _ends_in_key(song, notation):
        return None
    return InlineSongs((song,), heading=SetHeading(label[:1].upper() + label[1:]))


def _song_behind(line: TextLine, heading: SetHeading, notation: Notation) -> Classified | None:
    """Read the song behind a word that may head a set: 19:45 First dance: Moth (Ab); Extra: Moth - C, a set's own."""
    text = clock_in_front(line.text)[1]
    label = label_of(text)
    if label is None or not _ends_in_key(label[1], notation):
        return None
    if _AT_THE_END.match(heading.name):
        return Classified(line, LineKind.SET, heading=SetHeading(heading.name), inline=InlineSongs((label[1],)))
    return Classified(msgspec.structs.replace(line, text=text))


def of_running_text(line: TextLine, part: TextPart) -> Classified:
    """Say what a part of a longer text is: its reader knows."""
    match part.kind:
        case PartKind.HEADING:
            return Classified(line, LineKind.SET, heading=part.heading)
        case PartKind.SONG:
            songs = InlineSongs(
                (part.text,), is_running=True, note=part.note, is_unsure=part.is_unsure, is_plain=part.is_plain
            )
            return Classified(line, LineKind.SONG, inline=songs)
        case PartKind.TALK:
            return Classified(line, LineKind.LEFT)


def by_form(line: TextLine, notation: Notation, *, speaks: bool = True) -> Classified:
    """Say what a line certainly is by its own form; open where it may be a song. ``speaks``: others say number one."""
    text = line.text
    if (
        plain_key(text, notation=notation)
        and not line.is_marked
        and len(text) > 0
        and (len(text) > 1 or text.isupper())
        and not (text[:1].isupper() and SAYS_AGAIN.match(text))  # Still in D
    ):
        return Classified(line, LineKind.NOTE)  # a key alone is a note on the title above
    if line.message.is_envelope or not text:
        return Classified(line, LineKind.RULE)
    if line.is_struck:
        return Classified(line, LineKind.ASIDE)
    if names_taken_out(text):
        return Classified(line, LineKind.ASIDE, aside="not played")
    if (line_kinds.is_rule(text) and not line.is_marked) or line_kinds.is_legend(line.whole):
        return Classified(line, LineKind.RULE)
    if line_kinds.mark_meaning(line.whole) or sung_by(line.whole):
        return Classified(line, LineKind.MARK)
    is_same = says_same_as_before(text) and len(text.split()) >= MIN_TALK
    counts_sets = _COUNTS.match(line.whole) is not None and not _ends_in_key(text, notation)
    if counts_sets or heads_changes(line.whole) or (is_same and not (line.is_marked or _keyed_in_front(text))):
        return Classified(line, LineKind.LEFT)
    voice = read_voice(text, notation) if speaks and not line.is_marked else None
    inline = voice or of_a_key(text, notation) or inline_songs(text, notation) or _encore(text)
    inline = inline or _labelled_set(line, notation) or _on_condition(text, notation)
    if inline:
        return Classified(
            line, LineKind.SET if inline.heading else LineKind.SONG, heading=inline.heading, inline=inline
        )
    if not line.is_marked and text[:1].islower() and len(text) <= LONGEST_FACTS and _CHORDS.match(text):
        return Classified(line, LineKind.NOTE)
    if facts := facts_in(text, notation):
        return Classified(line, LineKind.NOTE, facts=facts)
    heading = read_heading(line.whole) or read_heading(text)
    if heading is None and (said := _LAST_SENTENCE.search(text)) and len(text) < LONGEST_WITH_HEADING:
        heading = read_heading(said[1])
        heading = heading if heading and not heading.is_word and not heading.also else None
    if heading and heading.is_word and plain_key(heading.also, notation=notation):
        heading = None  # Overture (C)
    if heading and heading.is_word and line.whole[:1] in "([" and line.whole[1:2].islower():
        heading = None  # (acoustic bit, on stools)
    if heading is None and _SET_ALONE.match(text):
        heading = SetHeading("")
    if heading and heading.also and line.number is not None and key_at_end(text, notation):
        heading = None  # 2. Encore, Mademoiselle Cm
    if heading and heading.is_word and (song := _song_behind(line, heading, notation)):
        return song
    if heading and not heading.is_word:
        if _PARTED_FROM_SONG.search(text) and _ends_in_key(heading.also, notation):  # Encore - Moth - F
            songs = InlineSongs((heading.also,))
            return Classified(line, LineKind.SET, heading=msgspec.structs.replace(heading, also=""), inline=songs)
        return Classified(line, LineKind.SET, heading=heading)
    if kind := _of_several_pieces(line):
        return Classified(line, kind)
    if BARE_NUMBER.match(text) and is_music_too(BARE_NUMBER.sub("", text)):
        return Classified(line)
    if is_break(text) or (not heading and is_without_music(text)):
        return Classified(line, None if line.number is not None and is_music_too(text) else LineKind.BREAK)
    if line_kinds.is_total(text):
        return Classified(line, LineKind.TOTAL)
    is_about = (line_kinds.about(text) and line.number is None) or line_kinds.is_date(line.whole)
    if is_about or (line.number is None and is_day_alone(text)):
        return Classified(line, LineKind.ABOUT if is_about else LineKind.LEFT)
    return Classified(line, heading=heading)
