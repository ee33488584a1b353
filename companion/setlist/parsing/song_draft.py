"""A song while its line is read: its fields so far, its notes, and what is in doubt."""

import re

import msgspec

from companion.music import Key, Meter
from companion.setlist.model import Doubt, SourceLine
from companion.setlist.notation import Notation
from companion.setlist.parsing.cells import length_cell, meter_cell, tempo_cell
from companion.setlist.parsing.doubts import doubtful_key
from companion.setlist.parsing.key_cells import KeyFound, key_cell, plain_key
from companion.setlist.parsing.pieces import LinePiece, read_pieces
from companion.setlist.parsing.remarks import read_remark
from companion.setlist.parsing.whole_clauses import with_whole_clauses
from companion.setlist.song_words import song_words
from companion.setlist.tidy import cut, one_line
from companion.show import Ending, Song

METER_IN = re.compile(r"(?<![\d/])(?:[2-9]|1[0-9])/(?:2|4|8|16)(?![\d/])(?!\s*-?(?:st|t)(?:ep|one))")
METER_OF_PART = re.compile(  # 2/4 intro, a bar of 2/4: of a part of the song
    r"\b(?:bars?|intro|verses?|chorus(?:es)?|bridge|middle|outro|ending|end|solo|break|tag|part|half|count|hits?)\b",
    re.IGNORECASE,
)
IF_KEY = re.compile(r"(?<![\w'’])[A-G][b#♭♯]?m?\s(?:if|when)\s[^\W\d_]")  # D if Ann sings, F if Bob does
PERHAPS_KEY = re.compile(
    r"\b(?:maybe|perhaps|possibly|poss|might be|could be|may be)\s+(?:in\s+|do it in\s+)?"
    r"[A-G](?:[b#♭♯]m?|m)?(?![\w'’#♭♯])"
)
UNSURE = re.compile(  # G, I think (dictionaries of each language; no single source)
    r"\b(?:i think|think so|i guess|not sure|unsure|i believe|to confirm|to be confirmed|glaub(?:e)?(?: ich)?|denk ich|"
    r"je crois|creo|credo|acho|tror jeg|tror jag|denk ik|luulisin|myslím|chyba|mislim)\b",
    re.IGNORECASE,
)
_PREFERRED = re.compile(  # lieber in G, sagt Conny (dictionaries of each language; no single source)
    r"\b(?:better|rather|prefer(?:s|red|ably)?|instead|make (?:it|that)|make|actually|lieber|besser|eher|plutôt|mieux|"
    r"mejor|meglio|melhor|liever|beter|toch|hellre|helst|bättre|hellere|bedre|heller|lepiej|raczej|raději|radši|lépe|"
    r"radije|bolje|raje|mieluummin|paremmin)\s(?:it\s)?(?:in|en|i|em|w|v|u)\s((?-i:[A-H])[^\s,.;:()!?]{0,6}|[a-h](?:is|es|s)?-moll)(?![\w'’])",
    re.IGNORECASE,
)
NOT_KNOWN = re.compile(  # Moth (dunno), Moth (?), where others have their keys
    r"(?:i )?(?:dunno|no idea|don['’]?t know|can['’]?t remember|forgot(?:ten)?|not sure|unsure|keine ahnung|weiß nicht|"
    r"weiß ich nicht|je sais pas|sais pas|no sé|ni idea|non so|boh|não sei|geen idee|weet niet|vet inte|ved ikke|"
    r"vet ikke|nie wiem|nevím|ne znam|ne vem|en tiedä)?",
    re.IGNORECASE,
)
LONGEST_TITLE = 200  # limit of a show file; a line of 5,000 letters is cut and reported
LONGEST_NOTES = 1_000


class Draft:
    """One song as far as known. A second value for a field, or text that fits no field, goes to the notes."""

    def __init__(self, place: SourceLine, text: str, *, notation: Notation = Notation.LETTERS) -> None:
        self.place = place
        self.text = text
        self.notation = notation
        self.title = ""
        self.number: int | None = None
        self.set_name: str | None = None
        self.stars = ""
        self.segue = False
        self.label = ""  # words before a colon that were left in the title, in doubt
        self.is_out = ""  # why it is not played, if a column says so
        self.says_out = ""  # the same, as its notes say it
        self.artist: str | None = None
        self.key: Key | None = None
        self.record_key: Key | None = None
        self.key_is_unknown = False  # the list says so: ?, TBC
        self.key_is_open = False  # a key was written, but which one is in doubt
        self.length_s: int | None = None
        self.tempo_bpm: float | None = None
        self.meter: Meter | None = None
        self.starts_with: str | None = None
        self.ending: Ending | None = None
        self.chart: str | bool | None = None
        self.recording: str | None = None
        self.notes: list[str] = []
        self.doubts: list[Doubt] = []

    # ------------------------------------------------------------------ taking a piece

    def take(self, piece: LinePiece) -> bool:
        """Take a piece for what it says; return False if it is only a name."""
        if piece.is_nothing:
            self.key_is_unknown = self.key_is_unknown or any(sign.isalpha() or sign == "?" for sign in piece.text)
            return True
        if piece.key:
            return self._take_key(piece.text, piece.key)
        if piece.length_s is not None:
            return self._take_length(piece.text, piece.length_s)
        if piece.tempo_bpm is not None:
            return self._take_tempo(piece.text, piece.tempo_bpm)
        if piece.meter:
            return self._take_meter(piece.text, piece.meter)
        return piece.is_remark and self.note(piece.text)

    def take_key(self, cell: str) -> bool:
        """Take a key's cell; return False if it is no key."""
        found = key_cell(cell, notation=self.notation)
        return bool(found) and found is not None and self._take_key(cell, found)

    def _take_key(self, cell: str, found: KeyFound) -> bool:
        if found.key and self.key:
            if found.key == self.key:
                return True
            says = f"a second key: used {self.key}, kept {cell} in the notes"
            self.doubts.append(doubtful_key(says, self.title or self.text, str(self.key)))
            return self.note(f"key: {cell}")
        self.key = found.key or self.key
        self.record_key = found.record_key or self.record_key
        self.key_is_open = self.key_is_open or not (found.key or found.record_key)
        if found.doubt:
            taken = str(found.key) if found.key else None
            self.doubts.append(doubtful_key(found.doubt, self.title or self.text, taken, found.choices))
        if found.also:
            self.note(found.also) if found.doubt or not found.also[0].isalnum() else self.take_each(found.also)
        return True

    def take_record_key(self, cell: str) -> bool:
        """Take a cell from the column of the recording's key."""
        found = key_cell(cell, notation=self.notation)
        if not found or not (found.key or found.record_key):
            return False
        self.record_key = found.key or found.record_key
        return not found.also or self.note(found.also)

    def take_length(self, cell: str, *, named: bool = False) -> bool:
        """Take a length in seconds."""
        seconds = length_cell(cell, named=named)
        return seconds is not None and self._take_length(cell, seconds)

    def _take_length(self, cell: str, seconds: int) -> bool:
        if self.length_s is not None:
            return self.note(cell)
        self.length_s = seconds
        return True

    def take_tempo(self, cell: str, *, named: bool = False) -> bool:
        """Take a tempo."""
        tempo_bpm = tempo_cell(cell, named=named)
        return tempo_bpm is not None and self._take_tempo(cell, tempo_bpm)

    def _take_tempo(self, cell: str, tempo_bpm: float) -> bool:
        if self.tempo_bpm is not None:
            return self.note(cell)
        self.tempo_bpm = tempo_bpm
        return True

    def take_meter(self, cell: str) -> bool:
        """Take a meter."""
        meter = meter_cell(cell)
        return meter is not None and self._take_meter(cell, meter)

    def _take_meter(self, cell: str, meter: Meter) -> bool:
        if self.meter is not None:
            return self.note(cell)
        self.meter = meter
        return True

    def take_each(self, text: str) -> None:
        """Take text between commas piece by piece; words are kept together as they were written."""
        self.take_all(read_pieces(text, self.notation), text)

    def take_all(self, pieces: tuple[LinePiece, ...], text: str) -> None:
        """Take pieces that were read before; if none is a fact, the text is one note."""
        if not any(piece.is_fact or piece.is_nothing for piece in pieces):
            self.note(text)
            return
        for piece in pieces:
            if not self.take(piece):
                self.note(piece.text)

    def note(self, words: str) -> bool:
        """Keep words as a note, and take start, ending and segue from them."""
        words = words.strip(" ,;")
        if not words or words in self.notes:
            return True
        remark = read_remark(words)
        self.starts_with = self.starts_with or remark.starts_with
        self.ending = self.ending or remark.ending
        self.segue = self.segue or remark.segue
        if self.meter is None and (found := METER_IN.search(words)) and not METER_OF_PART.search(words):
            self.meter = meter_cell(found[0])
        if any(letter.isalnum() for letter in words):
            self.notes.append(words)
        return True

    @property
    def has_fact(self) -> bool:
        """Return whether the line held a key, also an open one, or a length."""
        return self.has_key or self.length_s is not None

    @property
    def has_key(self) -> bool:
        """Return whether the line held a key, also one left open, or says that it is not known."""
        return bool(self.key or self.record_key) or self.key_is_open or self.key_is_unknown

    def name_in_doubts(self) -> None:
        """Name the song by its title in questions that were asked before the title was known."""
        if self.title:
            self.doubts = [
                msgspec.structs.replace(doubt, question=doubt.question.replace(repr(self.text), repr(self.title)))
                for doubt in self.doubts
            ]

    # ------------------------------------------------------------------ the result

    def song(self) -> Song:
        """Return the song."""
        self.notes = with_whole_clauses(self.notes, self.text)
        return Song(
            title=cut(one_line(self.title), LONGEST_TITLE),
            key=self.key,
            record_key=self.record_key,
            tempo_bpm=self.tempo_bpm,
            meter=self.meter,
            length_s=self.length_s,
            starts_with=self.starts_with and cut(one_line(self.starts_with), LONGEST_TITLE),
            ending=self.ending,
            chart=self.chart,
            recording=self.recording and cut(one_line(self.recording), LONGEST_TITLE),
            artist=cut(one_line(self.artist or ""), LONGEST_TITLE) or None,
            notes=cut(one_line("; ".join(self.notes)), LONGEST_NOTES) or None,
        )

    def says(self) -> str:
        """Return a one-line summary of what was understood."""
        read = Song(
            title=self.title,
            key=self.key,
            record_key=self.record_key,
            tempo_bpm=self.tempo_bpm,
            meter=self.meter,
            length_s=self.length_s,
            starts_with=self.starts_with,
            ending=self.ending,
            chart=self.chart,
            artist=self.artist,
            notes="; ".join(self.notes),
        )
        return song_words(read, self.stars, "segue" if self.segue else "")


def doubt_other_key(draft: Draft) -> None:
    """Doubt the key of a song whose notes name another one as possible: maybe Dm, depends on the singer."""
    _take_preferred(draft)
    said = next((note for note in draft.notes if PERHAPS_KEY.search(note) or IF_KEY.search(note)), None)
    said = said or next((note for note in draft.notes if UNSURE.search(note)), None)
    if said is None and (found := IF_KEY.search(draft.text)):
        said = draft.text[found.start() :]
    if said and draft.key and not any(doubt.asks_for == "key" for doubt in draft.doubts):
        draft.doubts.append(doubtful_key(f"the note says: {said}", draft.title, str(draft.key)))


def _take_preferred(draft: Draft) -> None:
    """Take the key that a note wants instead of the one before it, in doubt: Moth in A (lieber in G)."""
    found = next(filter(None, map(_PREFERRED.search, draft.notes)), None)
    key = plain_key(found[1], notation=draft.notation) if found else None
    if found and key and draft.key and key != draft.key:
        says = f"the list says {draft.key}, then {found[0]}: used {key}"
        draft.key = key
        draft.doubts.append(doubtful_key(says, draft.title, str(key)))
