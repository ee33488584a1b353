"""Thousands of files that were good: no exception but the program's own, each within its limits of memory and time."""

import io
import json
import random
import subprocess
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

import mido
import pytest
from examples import seldom
from hostile.mutation import mutated, mutated_journal, mutated_kept, mutated_zip
from hostile.nights import journals
from hostile.reader import RIG, ROOT, SHOW
from setlist.attacks import form, pdf
from setlist.shapes_pages import PAGES
from setlist.shapes_sheets import SHEETS
from setlist.shapes_text import TEXTS

from companion.child import MAX_CPU_S
from companion.night import memory as memory_room
from companion.night.preflight import make_ready
from companion.night.read_before import FILE

Sample = tuple[str, bytes]
Mutator = Callable[[random.Random, bytes, Sequence[bytes]], bytes]
READER = Path(__file__).with_name("reader.py")
SEED = 11
KILLED = (-5, -6, -9, 77)  # a library that gets no more memory ends its process; 77 is our own word for it
OFFICE = ROOT / "tests" / "show" / "lists" / "office"


class Reader:
    """The process that reads; a new one if it was ended by its limits."""

    def __init__(self, *, limited: bool) -> None:
        self._limited = limited
        self._process = self._started()

    def _started(self) -> "subprocess.Popen[bytes]":
        how = "limited" if self._limited else "free"
        return subprocess.Popen(
            (sys.executable, "-P", str(READER), how),
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
        )

    def read(self, kind: str, name: str, raw: bytes) -> tuple[str, float]:
        pipe, out = self._process.stdin, self._process.stdout
        assert pipe is not None
        assert out is not None
        pipe.write(json.dumps({"kind": kind, "name": name, "size": len(raw)}).encode() + b"\n" + raw)
        pipe.flush()
        line = out.readline()
        if line:
            told = json.loads(line)
            return told["said"], told["cpu_s"]
        code = self._process.wait()
        self.end()
        self._process = self._started()
        return ("refused" if self._limited and code in KILLED else f"ended by {code}"), 0.0

    def end(self) -> None:
        with self._process as process:
            process.kill()


def _shows() -> list[Sample]:
    paths = [*ROOT.glob("shows/*.yaml")]
    return [(str(path), path.read_bytes()) for path in paths if path.name != "songbook.yaml"]


def _rigs() -> list[Sample]:
    return [("rig.yaml", path.read_bytes()) for path in ROOT.glob("config/*.yaml")]


def _workbooks() -> list[Sample]:
    made = [make() for make in SHEETS.values()]
    found = [(path.name, path.read_bytes()) for path in OFFICE.glob("*.xlsx")]
    return [*found, *[(shape[0], shape[1]) for shape in made if shape[0].endswith(".xlsx")]]


def _pdfs() -> list[Sample]:
    content = b"".join(b"BT /F 12 Tf 50 %d Td (%d. Moth in Bb) Tj ET\n" % (700 - 20 * at, at) for at in range(20))
    inside = content + b"/X Do", (form(b"BT /F 9 Tf (Owl) Tj ET"),), b"/XObject<</X 5 0 R>>"
    plain, open_pdf = pdf(*inside), pdf(*inside, is_packed=False)
    made = [make() for make in PAGES.values()]
    found = [(path.name, path.read_bytes()) for path in OFFICE.glob("*.pdf")]
    return [("a.pdf", plain), ("a.pdf", open_pdf), *found, *[(one[0], one[1]) for one in made]]


def _texts() -> list[Sample]:
    return [(shape[0], shape[1]) for shape in (make() for make in TEXTS.values())]


def _midi_files() -> list[Sample]:
    out: list[Sample] = []
    for kind in (0, 1):
        file, saved = mido.MidiFile(type=kind, ticks_per_beat=480), io.BytesIO()
        track = mido.MidiTrack()
        for number, name in enumerate(("Intro", "Verse", "Chorus", "Verse")):
            track.append(mido.MetaMessage("marker", text=name, time=0))
            track.append(mido.MetaMessage("lyrics", text="la ", time=0))
            track.append(mido.MetaMessage("time_signature", numerator=4 - number % 2, denominator=4, time=0))
            for note in (60, 64, 67, 72) * 4:
                track.append(mido.Message("note_on", note=note, velocity=80, time=0))
                track.append(mido.Message("note_off", note=note, velocity=0, time=240))
        track.append(mido.MetaMessage("key_signature", key="Bb", time=0))
        track.append(mido.MetaMessage("set_tempo", tempo=500_000, time=0))
        file.tracks.append(track)
        file.save(file=saved)
        out.append(("a.mid", saved.getvalue()))
    return out


def _kept(folder: Path) -> list[Sample]:
    make_ready(SHOW, RIG, shelf=folder).keep(folder)
    return [(FILE, (folder / FILE).read_bytes())]


# kind: what reads it, where its good files come from, how they are changed, how many by default and how many in all
KINDS: dict[str, tuple[str, Callable[[Path], list[Sample]], tuple[Mutator, ...], int, int]] = {
    "shows": ("show", lambda _: _shows(), (mutated,), 15, 2_000),
    "rigs": ("rig", lambda _: _rigs(), (mutated,), 15, 1_000),
    "workbooks": ("list", lambda _: _workbooks(), (mutated, mutated_zip, mutated_zip), 15, 500),
    "PDFs": ("list", lambda _: _pdfs(), (mutated,), 8, 500),
    "texts": ("list", lambda _: _texts(), (mutated,), 8, 500),
    "MIDI files": ("midi", lambda _: _midi_files(), (mutated,), 8, 300),
    "journals": ("journal", journals, (mutated, mutated_journal, mutated_journal), 6, 500),
    "kept readings": ("kept", _kept, (mutated, mutated_kept, mutated_kept), 6, 200),
}


DAILY_KINDS = ("shows", "texts")


def read_all(kind: str, folder: Path, seed: int, number: int) -> tuple[int, float]:
    """Read so many files; return how many were not refused, and the most processor time that one took."""
    reads, samples_in, mutators, _, _ = KINDS[kind]
    chance, samples = random.Random(seed), samples_in(folder)  # noqa: S311 - same
    whole = [raw for _, raw in samples]
    reader, read, most_s = Reader(limited=reads in ("list", "midi")), 0, 0.0
    wrong: dict[str, str] = {}
    try:
        assert [reader.read(reads, *sample)[0] for sample in samples] == [""] * len(samples)
        for at in range(number):
            name, raw = chance.choice(samples)
            said, cpu_s = reader.read(reads, name, chance.choice(mutators)(chance, raw, whole))
            read, most_s = read + (said == ""), max(most_s, cpu_s)
            if said not in ("", "refused"):
                wrong.setdefault(said[-200:], f"number {at} of seed {seed}:\n{said}")
    finally:
        reader.end()
    assert not wrong, "\n\n".join(wrong.values())
    return read, most_s


@pytest.mark.parametrize("kind", [one if one in DAILY_KINDS else seldom(one) for one in KINDS])
def test_a_few_mutated_files_are_read_or_refused(kind: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(memory_room, "data_path", None)  # put back afterwards
    read, most_s = read_all(kind, tmp_path, SEED, KINDS[kind][3])
    assert read or kind == "kept readings"
    assert most_s < MAX_CPU_S


@pytest.mark.long
@pytest.mark.parametrize("kind", KINDS)
def test_thousands_of_mutated_files_are_read_or_refused(
    kind: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(memory_room, "data_path", None)  # put back afterwards
    number = KINDS[kind][4]
    read, most_s = read_all(kind, tmp_path, SEED + 1, number)
    print(f"{kind}: {number} files, {read} read, the others refused; at most {most_s:.2f} s of the processor")  # noqa: T201
    assert most_s < MAX_CPU_S
