"""A song while its line is read: its fields so far, its notes, and what is in doubt."""

import re

from companion.music import Key, Meter, shown_length
from companion.setlist.model import Doubt, SourceLine
from companion.setlist.notation import Notation
from companion.setlist.parsing.cells import is_nothing, key_cell, length_cell, meter_cell, tempo_cell
from companion.setlist.parsing.doubts import doubtful_key
from companion.setlist.parsing.remarks import is_remark, read_remark
from companion.setlist.tidy import cut, one_line
from companion.show.model import Ending, Song

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
        self.artist: str | None = None
        self.key: Key | None = None
        self.record_key: Key | None = None
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

    def take(self, piece: str, *, bare_tempo: bool = False, remarks: bool = True) -> bool:
        """Take a piece recognizable by itself: a key, a length, a tempo, a meter, a remark. Return whether it was."""
        piece = piece.strip()
        return (
            is_nothing(piece)
            or self.take_key(piece)
            or self.take_length(piece)
            or self.take_tempo(piece, named=bare_tempo and piece.isdecimal() and 40 <= int(piece) <= 260)
            or self.take_meter(piece)
            or (remarks and is_remark(piece) and self.note(piece))
        )

    def take_key(self, cell: str) -> bool:
        """Take a key's cell; return False where it is not a key, or the song already has another."""
        found = key_cell(cell, notation=self.notation)
        if not found:
            return False
        if found.key and self.key:
            self.doubts.append(
                doubtful_key(
                    f"a second key: used {self.key}, kept {cell} in the notes", self.title or self.text, str(self.key)
                )
            )
            return self.note(f"key: {cell}")
        self.key = found.key or self.key
        self.record_key = found.record_key or self.record_key
        if found.doubt:
            self.doubts.append(
                doubtful_key(found.doubt, self.title or self.text, str(found.key) if found.key else None)
            )
        if found.also:
            self.take_each(found.also) if not found.doubt else self.note(found.also)
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
        if seconds is None:
            return False
        if self.length_s is not None:
            return self.note(cell)
        self.length_s = seconds
        return True

    def take_tempo(self, cell: str, *, named: bool = False) -> bool:
        """Take a tempo."""
        tempo_bpm = tempo_cell(cell, named=named)
        if tempo_bpm is None:
            return False
        if self.tempo_bpm is not None:
            return self.note(cell)
        self.tempo_bpm = tempo_bpm
        return True

    def take_meter(self, cell: str) -> bool:
        """Take a meter."""
        meter = meter_cell(cell)
        if meter is None:
            return False
        if self.meter is not None:
            return self.note(cell)
        self.meter = meter
        return True

    def take_each(self, pieces: str) -> None:
        """Take text between commas piece by piece; pieces not recognized become notes."""
        for piece in re.split(r"\s*[,;|•·]\s*", pieces):
            if piece and not self.take(piece):
                self.note(piece)

    def note(self, words: str) -> bool:
        """Keep words as a note, and take start, ending and segue from them."""
        words = words.strip(" ,;")
        if not words or words in self.notes:
            return True
        remark = read_remark(words)
        self.starts_with = self.starts_with or remark.starts_with
        self.ending = self.ending or remark.ending
        self.segue = self.segue or remark.segue
        if any(letter.isalnum() for letter in words):
            self.notes.append(words)
        return True

    def all_pieces_say_something(self, pieces: str) -> bool:
        """Return whether each piece between commas is a key, a length, a remark ..., not part of a title."""
        trial = Draft(self.place, self.text, notation=self.notation)
        parts = [part for part in re.split(r"\s*[,;|•·]\s*", pieces) if part]
        took = [trial.take(part) for part in parts]
        facts = trial.key or trial.record_key or trial.length_s or trial.tempo_bpm or trial.meter or trial.doubts
        return bool(parts) and (all(took) or bool(facts and took[0]))

    # ------------------------------------------------------------------ the result

    def song(self) -> Song:
        """Return the song."""
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
            artist=self.artist and cut(one_line(self.artist), LONGEST_TITLE),
            notes=cut(one_line("; ".join(self.notes)), LONGEST_NOTES) or None,
        )

    def says(self) -> str:
        """Return a one-line summary of what was understood."""
        parts = [
            self.title,
            self.artist and f"by {self.artist}",
            self.key and f"in {self.key}",
            self.record_key and f"record in {self.record_key}",
            self.tempo_bpm and f"{self.tempo_bpm:g} bpm",
            self.meter and str(self.meter),
            self.length_s and shown_length(self.length_s),
            self.starts_with and f"{self.starts_with} start",
            self.ending and f"ending {self.ending.value}",
            self.chart is not None and f"chart {'yes' if self.chart is True else self.chart or 'no'}",
            self.stars,
            "segue" if self.segue else "",
            f"({'; '.join(self.notes)})" if self.notes else "",
        ]
        return " · ".join(str(part) for part in parts if part)
