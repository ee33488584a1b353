"""Write a draft into the show, where the player has written nothing; and compare it with what is written."""

import difflib
import itertools
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Final

import msgspec

from companion.audio.heard_draft import SURE, DraftSection, SongDraft
from companion.edits import Edit, FileText, SectionNamed, SetValue, SongNamed, applied, names_in, open_text, save
from companion.errors import CompanionError
from companion.files import SourceFile
from companion.music import Key, fifths_between
from companion.show import Section, Song
from companion.show.chords import needs_chords_in, record_letters_key
from companion.show.shorthand_text import short_map
from companion.show.show_file import show_in
from companion.show.songbook import CHORDS_IN, ROAD_MAP

PARTS: Final = ("key", "tempo", "meter", "form", "chords")
OUT_OF_TUNE: Final = 10  # cents: less is no more than a band differs (common practice, no source)
USUAL_METER: Final = "4/4"  # a song without a meter is in it
NEAR_TEMPO: Final = 0.04  # as tempo estimates are judged (Gouyon et al., 2006, from memory)


class DraftWritten(msgspec.Struct, frozen=True):
    """The show's text with drafts in it; ``what`` names what was put in, song by song."""

    file: FileText
    edits: tuple[Edit, ...]
    after: str
    what: tuple[str, ...]

    def write(self) -> None:
        """Write the file. Raises CompanionError."""
        path = str(self.file.path)
        save(self.file, self.edits, "what was heard", check=lambda text: show_in(SourceFile(path, text)))


def offered(song: Song, draft: SongDraft) -> dict[str, str]:
    """Return what a draft adds to a song, by part: only where nothing is written."""
    found: dict[str, str] = {}
    if draft.record_key is not None and song.record_key is None:
        found["key"] = str(draft.record_key)
    if draft.tempo_bpm and song.tempo_bpm is None:
        found["tempo"] = f"{draft.tempo_bpm:g}"
    if draft.meter and draft.meter != USUAL_METER and song.meter is None:
        found["meter"] = draft.meter
    if draft.sections and not song.road_map:
        found["form"] = road_map_of(draft, song.key)
    if lines := _lines_for(song, draft):
        found["chords"] = "\n".join(f"{named.name}{_in(key)} | {line}" for named, line, key in lines)
    return found


def tonight_too(song: Song, draft: SongDraft) -> str:
    """Return the record's key where tonight's is not written: a question for the leader. Empty if there is none."""
    key = song.record_key or draft.record_key
    return "" if key is None or song.key is not None else str(key)


def key_text(song: Song, draft: SongDraft) -> str:
    """Return the record's key, how far it is out of tune, and tonight's key where it is another one."""
    if draft.record_key is None:
        return ""
    words = str(draft.record_key)
    if abs(draft.cents) >= OUT_OF_TUNE:
        words += f", {abs(draft.cents):.0f} cents {'sharp' if draft.cents > 0 else 'flat'}"
    if song.key is not None and fifths_between(draft.record_key, song.key):
        words += f"; tonight {song.key}"
    return words


def _in(key: Key | None) -> str:
    return "" if key is None else f" in {key}"


def sure_parts(draft: SongDraft) -> tuple[str, ...]:
    """Return the parts of a draft that need no question: none of a medley, the key alone of a voice alone.

    A form is counted in bars and written with its chords: it is no surer than the tempo, the meter and the chords. One
    section alone is no form.
    """
    if draft.has_second_song:
        return ()
    sure = {"key": draft.key_sure, "tempo": draft.tempo_sure, "meter": min(draft.meter_sure, draft.tempo_sure)}
    chords = min((min(one.chords_sure, one.key_sure) for one in draft.sections), default=0.0)
    sure["chords"] = min(sure["meter"], chords)
    begins = min((min(one.start_sure, one.key_sure) for one in draft.sections[1:]), default=0.0)
    sure["form"] = min(sure["chords"], begins)
    if not draft.has_clear_chords:
        sure = {part: draft.key_sure if part == "key" else 0.0 for part in PARTS}
    return tuple(part for part in PARTS if sure[part] >= SURE)


def road_map_of(draft: SongDraft, tonight: Key | None = None, *, has_chords: bool = True) -> str:
    """Return the draft's road map in shorthand.

    ``tonight`` is the song's own key: a section that changes key goes as far from it as on the record. If it is not
    known, no section has a key, since that would stay when the song's key comes.
    """
    bare: list[Mapping[str, object]] = [
        {"section": one.name, "bars": str(one.bars), **_key_of(_moved(one, draft, tonight))} for one in draft.sections
    ]
    if not has_chords:
        return short_map(bare)
    full: list[Mapping[str, object]] = [
        {**table, "chords": one.chords} for table, one in zip(bare, draft.sections, strict=True)
    ]
    return short_map(full) or short_map(bare)


def _moved(section: DraftSection, draft: SongDraft, tonight: Key | None) -> Key | None:
    """Return the key of a section as the band plays it tonight; None if it has none of its own, or it is not sure."""
    if section.key is None or section.key_sure < SURE or tonight is None or draft.record_key is None:
        return None
    return section.key.moved_with(draft.record_key, tonight)


def _key_of(key: Key | None) -> dict[str, str]:
    return {} if key is None else {"key": str(key)}


def _lines_for(song: Song, draft: SongDraft) -> list[tuple[SectionNamed, str, Key | None]]:
    """Return the chord lines for the player's own sections: none if one has chords, or if others were drafted.

    A section whose chords are those of the one before it with its name and bars needs none.
    """
    passes = [(one.name, one.bars) for one in song.road_map for _ in range(one.passes)]
    is_of_this_map = draft.is_own_map and passes == [(one.name, one.bars) for one in draft.sections]
    if not is_of_this_map or any(one.chords for one in song.road_map):
        return []
    lines: list[tuple[SectionNamed, str, Key | None]] = []
    last: dict[tuple[str, int], str] = {}
    heard = iter(draft.sections)
    has_keys = any(one.key for one in song.road_map)
    for place, section in enumerate(song.road_map):
        one, *_ = itertools.islice(heard, section.passes)
        key = None if has_keys else _moved(one, draft, song.key)
        if key is not None or last.get((section.name.casefold(), one.bars)) != one.chords:
            times = [each.name for each in song.road_map[: place + 1]].count(section.name)
            lines.append((SectionNamed(section.name, times), one.chords, key))
        last[section.name.casefold(), one.bars] = one.chords
    return lines


def with_drafts(show_path: Path, drafts: Sequence[tuple[Song, SongDraft, Sequence[str]]]) -> DraftWritten:
    """Return the show file with parts of drafts in it; nothing is written. Raises CompanionError."""
    file = open_text(show_path)
    text, path = file.text or "", str(file.path)
    there = _songs_in(text, path)
    edits: list[Edit] = []
    what: list[str] = []
    for song, draft, parts in drafts:
        name, now = _found(there, song, path)
        if "tonight" in parts and now.key is None:
            now = msgspec.structs.replace(now, key=draft.record_key)
        values = {part: value for part, value in offered(now, draft).items() if part in parts}
        if "tonight" in parts:
            values["tonight"] = str(now.key)
        new = _edits(name, now, draft, values)
        try:
            applied(text, new, path)
        except CompanionError:  # its road map is in a songbook
            values.pop("chords", None)
            new = _edits(name, now, draft, values)
        edits += new
        if values:
            what.append(f"{song.title}: {', '.join(values)}")
    after = applied(text, edits, path)
    show_in(SourceFile(path, after))
    return DraftWritten(file, tuple(edits), after, tuple(what))


def _songs_in(text: str, path: str) -> list[tuple[SongNamed, Song]]:
    show = show_in(SourceFile(path, text)).show
    names = names_in(text, path)
    return [pair for one, own in zip(show.sets, names, strict=True) for pair in zip(own, one.songs, strict=True)]


def _found(there: Sequence[tuple[SongNamed, Song]], song: Song, path: str) -> tuple[SongNamed, Song]:
    """Return the entry that was heard, as it is now. Raises CompanionError.

    A title may come twice: the entry has the recording that was heard, and the road map if several have that.
    """
    same = [pair for pair in there if (pair[1].title, pair[1].recording) == (song.title, song.recording)]
    if not same:
        raise CompanionError(f"{path}: {song.title!r} with this recording is not in the show any more")
    return next((pair for pair in same if pair[1].road_map == song.road_map), same[0])


def _edits(name: SongNamed, song: Song, draft: SongDraft, values: Mapping[str, str]) -> list[Edit]:
    """Return the edits for some parts of a draft.

    Letters belong to the record's key: where that is neither written nor taken, no chords are; where it is not the
    song's own, ``chords_in`` says so.
    """
    plain = {"key": "record_key", "tonight": "key", "tempo": "tempo", "meter": "meter"}
    edits: list[Edit] = [
        SetValue((name, plain[part]), int(value) if part == "tempo" and value.isdecimal() else value)
        for part, value in values.items()
        if part in plain
    ]
    their = record_letters_key(song, draft.record_key if "key" in values else None)
    has_chords = their is not None
    if "form" in values:
        edits.append(SetValue((name, ROAD_MAP), road_map_of(draft, song.key, has_chords=has_chords)))
    if "chords" in values and has_chords:
        for named, line, key in _lines_for(song, draft):
            edits.append(SetValue((name, ROAD_MAP, named, "chords"), line))
            edits += [SetValue((name, ROAD_MAP, named, "key"), str(key))] if key else []
    if their is not None and needs_chords_in(song, their) and {"form", "chords"} & set(values):
        edits.append(SetValue((name, CHORDS_IN), str(their)))
    return edits


class Agreement(msgspec.Struct, frozen=True):
    """How much of a draft agrees with what the player wrote by hand, 0 to 1; None if nothing is written."""

    key: float | None = None
    tempo: float | None = None
    meter: float | None = None
    form: float | None = None


def agreement(song: Song, draft: SongDraft) -> Agreement:
    """Compare a draft with a song: the player's own measure of how far to trust drafts."""
    key = song.record_key
    written = [one for one in song.road_map if one.bars]
    return Agreement(
        None if key is None or draft.record_key is None else float(_same_key(key, draft.record_key)),
        None
        if song.tempo_bpm is None or not draft.tempo_bpm
        else float(abs(draft.tempo_bpm / song.tempo_bpm - 1) < NEAR_TEMPO),
        None if song.meter is None or draft.meter is None else float(str(song.meter) == draft.meter),
        _form(written, draft) if written and draft.sections else None,
    )


def _same_key(one: object, other: object) -> bool:
    return str(one) == str(other) or str(getattr(one, "respelled", one)) == str(other)


def _form(written: Sequence[Section], draft: SongDraft) -> float:
    """Return the share of written sections that the draft has, in order and with the same number of bars."""
    lengths = [one.bars for one in written for _ in range(one.passes)]
    heard = [one.bars for one in draft.sections]
    matched = sum(
        block.size for block in difflib.SequenceMatcher(None, lengths, heard, autojunk=False).get_matching_blocks()
    )
    return matched / len(lengths)
