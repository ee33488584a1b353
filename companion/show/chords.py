"""Which chords are on in each section, and in which key: the one rule for stage, paper, quiz and checks.

"A section's own; else those of the last section of the same name with as many bars, in written order, moved where the
key differs." Chords that fit into a section's bars two or more times exactly are repeated. Letters belong to the key in
which they were written: the song's ``chords_in``, else its ``key``. Numbers never change.
"""

import functools
import re
from typing import TYPE_CHECKING, Final

import msgspec

from companion.music import Key, Meter, NotMusic, fifths_between
from companion.show.model import Section, Song
from companion.show.notes_in_key import notes_written_in

if TYPE_CHECKING:
    from companion.music import ChordLine

FOUR_FOUR: Final = Meter(4, 4)  # for a song without a meter
LETTER: Final = r"(?<![A-Za-z.])[A-G]"  # does not mark a line of letters: numbers have N.C. too
MAX_LINES: Final = 4096  # cached lines: a screen asks again at each step
MAX_SONGS: Final = 256


class SongKeys(msgspec.Struct, frozen=True):
    """A song's keys, for sections without their own; all in one mode except ``written``. None if not known.

    ``listed`` is the key in the show file, ``written`` the key of its letter chords, ``sounds`` the key that the band
    plays in, ``hands`` the key under the player's fingers.
    """

    listed: Key | None = None
    written: Key | None = None
    sounds: Key | None = None
    hands: Key | None = None


class SectionChords(msgspec.Struct, frozen=True):
    """The chords of one section. ``text`` is as in the file, "" for none; ``is_own`` unless taken from another section.

    The keys are this section's: of its letters, of the sound, of the hands. ``bars`` are its own, else its chords'.
    """

    section: Section
    text: str = ""
    is_own: bool = False
    meter: Meter = FOUR_FOUR
    bars: int | None = None
    written: Key | None = None
    sounds: Key | None = None
    hands: Key | None = None

    @property
    def line(self) -> "ChordLine | None":
        """The line as written, repeated to fill the section; None for no chords. Raises NotMusic."""
        return read_line(self.text, self.meter).repeated(self.times) if self.text else None

    @property
    def bars_of_chords(self) -> int | None:
        """How many bars the line has as written; None if it has none, or is unreadable."""
        return _bars(self.text, self.meter) if self.text else None

    @property
    def times(self) -> int:
        """How often the line is played to fill the section's bars; 1 if that does not come out even."""
        return times_of_chords(self.section.bars, self.bars_of_chords)

    @property
    def chords_for(self) -> int | None:
        """The bars that the chords last if the section has more or fewer, else None."""
        bars = self.bars_of_chords
        return bars if bars and self.section.bars and bars * self.times != self.section.bars else None

    def line_in(self, key: Key | None) -> "ChordLine | None":
        """Return the chords in letters, moved to ``key``; as written if a key is not known.

        Raises NotMusic.
        """
        line = self.line
        if line is None or key is None:
            return line
        if line.in_numbers:
            return line.as_letters(key).plain
        return line if self.written in (None, key) else line.moved(self.written, key).plain

    def shown_in(self, key: Key | None) -> str | None:
        """Return the text on one row, moved to ``key``, with (...) x2 where the section is twice as long.

        Numbers stay numbers. None if it cannot be moved.
        """
        moves = bool(self.text and self.written and key and self.written != key)
        try:
            line = read_line(self.text, self.meter) if self.text else None
        except NotMusic:
            return None if moves else self.text
        if line is None:
            return self.text
        if moves and self.written and key and not line.in_numbers:
            line, text = line.moved(self.written, key).plain, ""
        else:
            text = "" if "\n" in self.text else self.text
        if self.times == 1:
            return text or str(line)
        has_repeats = len(line.repeated(2).parts) > 1
        return str(line.repeated(self.times)) if has_repeats else f"({text.strip(' |') or line}) x{self.times}"


def song_keys(song: Song, shift: int = 0, hands_shift: int = 0) -> SongKeys:
    """Return a song's keys if the band plays it ``shift`` semitones higher and the hands ``hands_shift``."""
    key = song.key
    if key is None:
        return SongKeys(written=song.chords_in)
    return SongKeys(key, song.chords_in or key, key.transposed(shift), _fingers(song, key).transposed(hands_shift))


def _fingers(song: Song, key: Key) -> Key:
    """Return the key of the hands, in the song's mode: the keyboard is tuned by the distance between the tonics."""
    return song.fingered_in.in_mode(key.mode) if song.fingered_in else key


def chords_on(song: Song, keys: SongKeys | None = None) -> tuple[SectionChords, ...]:
    """Return the chords of each section, in written order; a song without a road map counts as one section.

    Their sections equal the song's own but may belong to an equal song: match them by order, not by identity.
    """
    return _chords_on(song, keys or song_keys(song))


@functools.lru_cache(MAX_SONGS)
def _chords_on(song: Song, keys: SongKeys) -> tuple[SectionChords, ...]:
    meter = song.meter or FOUR_FOUR
    in_force = keys.listed
    carriers: dict[
        str, list[tuple[Section, int | None, Key | None]]
    ] = {}  # by section name: chords, their bars, their key
    found = []
    for section in song.road_map or (Section(""),):
        in_force = section.key or in_force
        named = carriers.setdefault(section.name.casefold(), [])
        if section.chords:
            named.append((section, section.bars or _bars(section.chords, meter), in_force))
        source, bars, their_key = next(
            (one for one in reversed(named) if section.bars in (None, one[1]) or one[0] is section),
            (section, section.bars, None),
        )
        found.append(
            SectionChords(
                section,
                source.chords or "",
                bool(section.chords),
                meter,
                section.bars or bars,
                _written(in_force, their_key, keys),
                _moved(in_force, keys.listed, keys.sounds),
                _moved(in_force, keys.listed, keys.hands),
            )
        )
    return tuple(found)


def _moved(key: Key | None, old: Key | None, new: Key | None) -> Key | None:
    return key.moved_with(old, new) if key and old and new else key


def _written(here: Key | None, there: Key | None, keys: SongKeys) -> Key | None:
    """Return the key of letters written in a section in the key ``there``, in the mode of this section."""
    if here is None:
        return keys.written
    return _moved(here.moved_with(here, there) if there else here, keys.listed, keys.written)


@functools.lru_cache(MAX_LINES)
def read_line(text: str, meter: Meter) -> "ChordLine":
    """Read a chord line, from the cache if possible. Raises NotMusic."""
    from companion.music import read_chord_line

    return read_chord_line(text, meter)


def times_of_chords(bars: int | None, of_chords: int | None) -> int:
    """Return how often a chord line is played in a section of ``bars`` bars; 1 if that does not come out even.

    >>> times_of_chords(8, 4), times_of_chords(8, 6), times_of_chords(8, 16), times_of_chords(None, 4)
    (2, 1, 1, 1)
    """
    return bars // of_chords if bars and of_chords and bars % of_chords == 0 else 1


def _bars(text: str, meter: Meter) -> int | None:
    try:
        return read_line(text, meter).bars
    except NotMusic:
        return None


def with_bars(song: Song) -> Song:
    """Return the song with bars from its chords for sections without bars."""
    if all(section.bars for section in song.road_map):
        return song
    road_map = tuple(
        msgspec.structs.replace(one.section, bars=one.bars) if one.bars and not one.section.bars else one.section
        for one in chords_on(song)
    )
    return msgspec.structs.replace(song, road_map=road_map) if song.road_map else song


def has_letters(song: Song) -> bool:
    """Whether any chord of the song is in letters."""
    return any(section.chords and re.search(LETTER, section.chords) for section in song.road_map)


def written_elsewhere(song: Song, shown: Key | None) -> Key | None:
    """Return the key of a song's letters if it is neither the song's key nor the one shown, else None."""
    written = song.chords_in
    if written is None or song.key is None or shown is None or not has_letters(song):
        return None
    return written if fifths_between(written, song.key) and fifths_between(written, shown) else None


def in_key(song: Song, key: Key) -> Song:
    """Return the song in another key: its sections move with it, its letters still belong to the old key."""
    there = msgspec.structs.replace(song, key=key)
    return written_while_in(there, song.key) if song.key else there


def written_while_in(song: Song, old: Key) -> Song:
    """Return a song in a new key, with a road map that was written in the old one."""
    if song.key is None or song.key == old:
        return song
    new = song.key
    road_map = tuple(
        msgspec.structs.replace(section, key=section.key.moved_with(old, new)) if section.key else section
        for section in song.road_map
    )
    chords_in = song.chords_in or (old if has_letters(song) else None)
    return msgspec.structs.replace(song, road_map=road_map, chords_in=chords_in)


def moved_words(song: Song, new: Key) -> str:
    """Return a sentence about what moves with a song's key, or "" if nothing does."""
    if song.key is None or song.key == new:
        return ""
    there = written_while_in(msgspec.structs.replace(song, key=new), song.key)
    remarks = [f"its letters stay written in {there.chords_in}"] if there.chords_in else []
    remarks += [
        f"{before.name} {before.key} → {after.key}"
        for before, after in zip(song.road_map, there.road_map, strict=True)
        if before.key != after.key
    ]
    if notes_written_in(song.notes, song.key, new) != song.notes:
        remarks.append(f"its notes stay written in {song.key}")
    return ", ".join(remarks)


def record_letters_key(song: Song, taken: Key | None = None) -> Key | None:
    """Return the key of letter chords that were heard on the song's recording; None if they cannot be kept.

    ``taken`` is the record's key as heard, if it is written with them. Letters of another key than the song's other
    letters cannot be kept: a song has one ``chords_in``.
    """
    key = song.record_key or taken
    return key if song.chords_in in (None, key) else None


def needs_chords_in(song: Song, written: Key) -> bool:
    """Return whether letters written in a key would be read in another one without ``chords_in``."""
    return song.chords_in is None and song.key != written
