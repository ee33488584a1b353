"""Read a song from a Standard MIDI File: tempo, meter, key and road map, and how sure each of them is."""

import contextlib
import io
import itertools
import os
import re
from collections import defaultdict
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, Final

import msgspec

from companion.errors import Fault, FaultyFile
from companion.how_many import how_many
from companion.music import Key, Meter, read_key
from companion.music.key_finding import find_key, fits_key
from companion.music.tempo import FASTEST_BPM, SLOWEST_BPM
from companion.regular import TooLarge, read_regular
from companion.setlist.readers.apart import ReadRequest, read_apart
from companion.show import Section, Set, Show, Song

MAX_BYTES: Final = 4 * 2**20
MAX_SECTIONS: Final = 400
USUAL_TEMPO_US: Final = 500_000  # no tempo event: 120 (Standard MIDI Files 1.0, Set Tempo)
DRUMS: Final = 9  # channel 10: notes there have no pitch (General MIDI 1)
DEFAULT_KEY: Final = Key.signed(0)
RELATIVE_AHEAD: Final = 0.15  # lead over the signature's own key: relative keys share their notes (by experiment)
BLOCK: Final = 8  # bars to compare in a file without markers
ALIKE: Final = 0.6  # share of equal notes from which two blocks are the same part
KEY_SIGNATURE: Final = re.compile(rb"\xff\x59\x02([\x00-\xff])([\x00-\xff])", re.DOTALL)


class MidiSong(msgspec.Struct, frozen=True):
    """What the file holds, and sentences about where each of it came from."""

    song: Song
    remarks: tuple[str, ...]


class _Heard(msgspec.Struct):
    """The events that matter, in ticks since the start."""

    tempos: list[tuple[int, int]] = []
    meters: list[tuple[int, Meter]] = []
    keys: list[tuple[int, str]] = []
    markers: list[tuple[int, str]] = []
    words: list[tuple[int, str]] = []
    notes: list[tuple[int, int, int]] = []  # tick, length in ticks, note
    title: str = ""
    end: int = 0


def as_show(found: MidiSong) -> Show:
    """Return a show with this one song, its sources in its notes, ready to write and edit."""
    song = msgspec.structs.replace(found.song, notes="; ".join(found.remarks) or None)
    return Show(song.title, sets=(Set("Set 1", songs=(song,)),))


def read_midi_file(path: str | os.PathLike[str]) -> MidiSong:
    """Read a file in a child process. Raises FaultyFile like ``midi_song``, and if the file cannot be opened."""
    try:
        raw = read_regular(path, MAX_BYTES)
    except TooLarge:
        raise _faulty(path, f"it is larger than {MAX_BYTES // 2**20} MiB", "a file with the notes only") from None
    except (OSError, ValueError) as error:
        problem = f"it cannot be read: {getattr(error, 'strerror', None) or error}"
        raise _faulty(path, problem, "the path of a MIDI file") from None
    return read_apart(ReadRequest("midi", Path(path).name), raw, path, MidiSong)


def midi_song(raw: bytes, path: str) -> MidiSong:
    """Read a file's bytes. Raises FaultyFile if it is cut short, not a MIDI file, or has no bars."""
    file_of, division = _opened(path, raw)
    remarks: list[str] = []
    heard = _heard(file_of, remarks)
    lines = _bar_lines(heard, division)
    meter = _longest([(tick, one) for tick, one in heard.meters] or [(0, Meter(4, 4))], heard.end)
    song = Song(
        title=heard.title or Path(path).stem.replace("_", " ").strip()[:200] or "Untitled",
        tempo_bpm=_tempo(heard, meter, remarks),
        meter=meter,
        key=_key(heard, remarks),
        road_map=_road_map(heard, lines, remarks),
        first_words=_first_words(heard.words, 0, heard.end),
    )
    return MidiSong(song, tuple(remarks))


def _faulty(path: str | os.PathLike[str], problem: str, write: str) -> FaultyFile:
    return FaultyFile((Fault(os.fspath(path), 0, 0, problem, write),))


def _opened(path: str | os.PathLike[str], raw: bytes) -> tuple[Any, int]:
    import mido
    from mido.midifiles.meta import KeySignatureError

    if raw[:4] != b"MThd":
        raise _faulty(path, "it is not a Standard MIDI File", "a file that ends in .mid")
    kind, division = int.from_bytes(raw[8:10], "big"), int.from_bytes(raw[12:14], "big", signed=True)
    if kind == 2:
        raise _faulty(path, "it is of type 2: several patterns, not one song", "the song saved as type 0 or 1")
    if division <= 0:
        raise _faulty(path, "it counts time in frames, so it has no bars", "the song saved with ticks a quarter note")
    try:
        try:
            return mido.MidiFile(file=io.BytesIO(raw), clip=True), division
        except KeySignatureError:  # replace an impossible key signature with an ignored event of the same length
            return mido.MidiFile(file=io.BytesIO(KEY_SIGNATURE.sub(_without, raw)), clip=True), division
    except (EOFError, OSError, ValueError, LookupError, KeySignatureError, UnicodeError) as error:
        problem = "it is cut short" if isinstance(error, EOFError) else f"it cannot be read as MIDI ({error})"
        raise _faulty(path, problem, "the file copied or saved again") from None


def _without(found: re.Match[bytes]) -> bytes:
    sf, mi = int.from_bytes(found[1], "big", signed=True), found[2][0]
    return found[0] if abs(sf) <= 7 and mi <= 1 else b"\xff\x7f\x02" + found[1] + found[2]


def _heard(file: Any, remarks: list[str]) -> _Heard:  # noqa: ANN401 - the library is untyped
    heard = _Heard()
    for number, track in enumerate(file.tracks):
        tick = 0
        began: dict[tuple[int, int], list[int]] = defaultdict(list)
        for message in track:
            tick += message.time
            match message.type:
                case "set_tempo" if message.tempo > 0:
                    heard.tempos.append((tick, message.tempo))
                case "set_tempo":
                    remarks.append("a tempo of 0 is ignored")
                case "time_signature" if message.numerator > 0 and message.denominator <= 32:
                    heard.meters.append((tick, Meter(min(message.numerator, 32), message.denominator)))
                case "key_signature":
                    heard.keys.append((tick, message.key))
                case "marker" | "cue_marker" if _clean(message.text):
                    heard.markers.append((tick, _clean(message.text)[:80]))
                case "lyrics":
                    heard.words.append((tick, message.text))
                case "track_name" if number == 0 and not heard.title:
                    heard.title = _clean(message.name)[:200]
                case "note_on" if message.velocity and message.channel != DRUMS:
                    began[message.channel, message.note].append(tick)
                case "note_on" | "note_off" if began[message.channel, message.note]:
                    start = began[message.channel, message.note].pop(0)
                    heard.notes.append((start, tick - start, message.note))
                case _:
                    pass
        heard.end = max(heard.end, tick)
    for events in (heard.tempos, heard.meters, heard.keys, heard.markers, heard.words, heard.notes):
        events.sort(key=lambda one: one[0])
    return heard


def _clean(text: str) -> str:
    """Return a text on one line. MIDI declares no encoding: decode as UTF-8 if valid, else as Latin-1."""
    with contextlib.suppress(UnicodeError):
        text = text.encode("latin-1").decode("utf-8")
    return " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())


def _longest(changes: Sequence[tuple[int, Any]], end: int) -> Any:  # noqa: ANN401 - any kind of value
    """Return the value that lasts longest in all."""
    held: dict[Any, int] = defaultdict(int)
    stops = [*(tick for tick, _value in changes[1:]), end]
    for (tick, value), stop in zip(changes, stops, strict=True):
        held[value] += max(0, stop - tick) + 1
    return max(held, key=lambda value: held[value])


def _tempo(heard: _Heard, meter: Meter, remarks: list[str]) -> float | None:
    tempo_us = _longest(heard.tempos, heard.end) if heard.tempos else USUAL_TEMPO_US
    if not heard.tempos:
        remarks.append("the file has no tempo; the standard's default is 120")
    tempo = round(60_000_000 / tempo_us * float(1 / (4 * meter.felt_beat)), 1)
    if len({tempo for _tick, tempo in heard.tempos}) > 1:
        remarks.append(f"the tempo changes; {tempo:g} lasts longest")
    return tempo if SLOWEST_BPM <= tempo <= FASTEST_BPM else None


def _key(heard: _Heard, remarks: list[str]) -> Key | None:
    """Return the key of the signature, unless the notes say otherwise and the signature may be what a program put in.

    Many programs write a signature of C, or the major one for minor music, whatever the notes are (common practice, no
    source).
    """
    sounding = [0.0] * 12
    for _tick, long, note in heard.notes:
        sounding[note % 12] += long
    found = find_key(sounding)
    signed = read_key(heard.keys[0][1]) if heard.keys else None
    if signed is None:
        if found is None:
            remarks.append("no key: no key signature and no notes to find it from")
            return None
        remarks.append(f"key {found}; there is no key signature")
        return found.key
    if found is None or not found.is_sure or _sounds_as(found.key, signed):
        remarks.append(f"key {signed}, from its key signature")
        return signed
    is_relative = _sounds_as(found.key, signed.relative)
    if is_relative and found.fits - fits_key(sounding, signed) < RELATIVE_AHEAD:
        remarks.append(f"key {signed}, from its key signature")
        return signed
    if signed == DEFAULT_KEY or is_relative:
        remarks.append(f"key {found}; its key signature says {signed}, as many programs write for any key")
        return found.key
    remarks.append(f"key {signed}, from its key signature, but its notes fit {found.key} better: check it")
    return signed


def _sounds_as(one: Key, other: Key) -> bool:
    """Return whether two keys are the same to the ear: Gb and F#."""
    return (one.tonic.semitone, one.mode) == (other.tonic.semitone, other.mode)


def _bar_lines(heard: _Heard, division: int) -> list[int]:
    """Return the tick of each bar line up to the end."""
    meters = list(heard.meters)
    if not meters or meters[0][0] > 0:
        meters.insert(0, (0, Meter(4, 4)))  # no time signature: 4/4 (Standard MIDI Files 1.0)
    lines = [0]
    for (_tick, meter), stop in zip(meters, [*(tick for tick, _meter in meters[1:]), heard.end], strict=True):
        bar = max(1, int(meter.whole_notes * 4 * division))
        while lines[-1] + bar <= stop and len(lines) < 20_000:
            lines.append(lines[-1] + bar)
    if heard.end - lines[-1] > division // 2:
        lines.append(heard.end)
    return lines


def _bar_at(lines: Sequence[int], tick: int) -> int:
    """Return the number of the nearest bar line."""
    return min(range(len(lines)), key=lambda number: abs(lines[number] - tick))


def _road_map(heard: _Heard, lines: Sequence[int], remarks: list[str]) -> tuple[Section, ...]:
    bars = len(lines) - 1
    if bars < 1:
        return ()
    if heard.markers:
        remarks.append(f"road map from {how_many(len(heard.markers), 'marker')}")
        starts = [(_bar_at(lines, tick), name) for tick, name in heard.markers]
        if starts[0][0] > 0:
            starts.insert(0, (0, "Intro"))
        ends = [*(start for start, _name in starts[1:]), bars]
        return tuple(
            Section(name, bars=min(400, end - start), first_words=_first_words(heard.words, lines[start], lines[end]))
            for (start, name), end in list(zip(starts, ends, strict=True))[:MAX_SECTIONS]
            if end > start
        )
    remarks.append("road map proposed from repetitions, because there are no markers; give the parts their names")
    return tuple(_proposed(heard, lines))[:MAX_SECTIONS]


def _proposed(heard: _Heard, lines: Sequence[int]) -> Iterator[Section]:
    """Yield each block of eight bars with its letter; blocks that sound nearly the same share one."""
    blocks = [set[tuple[int, int]]() for _start in range(0, len(lines) - 1, BLOCK)]
    place = 0
    for tick, _long, note in heard.notes:
        while place + 1 < len(lines) - 1 and lines[place + 1] <= tick:
            place += 1
        beat = 8 * (tick - lines[place]) // max(1, lines[place + 1] - lines[place])
        blocks[place // BLOCK].add((8 * (place % BLOCK) + beat, note % 12))
    parts: list[set[tuple[int, int]]] = []
    letters: list[int] = []
    for block in blocks:
        same = (number for number, part in enumerate(parts) if _alike(block, part) >= ALIKE)
        number = next(same, len(parts))
        if number == len(parts):
            parts.append(block)
        letters.append(number)
    sizes = [min(BLOCK, len(lines) - 1 - start) for start in range(0, len(lines) - 1, BLOCK)]
    for (number, size), group in itertools.groupby(zip(letters, sizes, strict=True)):
        name = f"Part {chr(ord('A') + number)}" if number < 26 else f"Part {number + 1}"
        times = len(list(group))
        for done in range(0, times, 32):
            yield Section(name, bars=size, passes=min(32, times - done))


def _alike(one: set[tuple[int, int]], other: set[tuple[int, int]]) -> float:
    return len(one & other) / len(one | other) if one | other else 1.0


def _first_words(words: Sequence[tuple[int, str]], start: int, end: int) -> str | None:
    """Return the first three words sung there; a lyric event is a syllable, and a space ends a word."""
    sung = "".join(re.sub(r"^[/\\\r\n]+", " ", text) for tick, text in words if start <= tick < end)[:200]
    return " ".join(_clean(sung.replace("-", "")).split()[:3]) or None
