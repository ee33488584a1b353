"""A process that reads one mutated file after the other as the program does, within the program's own limits.

Each answer is a line of JSON: what was raised ("" for nothing, "refused" for an error of the program's own, else the
last lines of the traceback) and the processor time it took.
"""

import json
import os
import sys
import tempfile
import time
import traceback
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path

from companion import child
from companion.debrief import night_report as debrief_room
from companion.errors import CompanionError
from companion.files import SourceFile
from companion.files.text_file import text_of
from companion.night import memory as memory_room
from companion.night.memory import StartOptions, memory_of
from companion.night.preflight import make_ready
from companion.night.read_before import FILE
from companion.ports import NotAJournal, shelf_of
from companion.rig import read_rig
from companion.setlist.list_reading import list_in
from companion.setlist.readers.midi_file import as_show, midi_song
from companion.show import check
from companion.show.show_file import show_in
from companion.show.show_text import write_show
from companion.stage import Book, Next, step

ROOT = Path(__file__).parents[2]
SHOW, RIG = ROOT / "shows" / "pier-street.yaml", ROOT / "config" / "two-tiers.yaml"


def a_show(raw: bytes, name: str) -> None:
    check(show_in(SourceFile(name, text_of(raw, name))), exists=lambda _: True)


def a_rig(raw: bytes, name: str) -> None:
    with _file(raw, name) as path:
        read_rig(path)


def a_list(raw: bytes, name: str) -> None:
    listed = list_in(raw, name)
    show_in(SourceFile("new.yaml", write_show(listed.show)))  # what is written is a show again


def a_midi_file(raw: bytes, name: str) -> None:
    found = as_show(midi_song(raw, name))
    show_in(SourceFile("new.yaml", write_show(found)))


@cache
def book() -> Book:
    return make_ready(SHOW, RIG).book


def a_journal(raw: bytes, name: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        for room in (memory_room, debrief_room):
            vars(room)["data_path"] = lambda: Path(folder)
        journal = shelf_of(SHOW, Path(folder)) / name
        journal.parent.mkdir(parents=True)
        journal.write_bytes(raw)
        with memory_of(SHOW, book(), StartOptions(resume=True), lambda _: None) as memory:
            step(memory.resumed.state, Next(memory.resumed.at_ms))
            memory.end()
        journal.write_bytes(raw)
        debrief_room.debrief(SHOW, journal)


def a_kept_reading(raw: bytes, _name: str) -> None:
    with _file(raw, FILE) as path:
        make_ready(SHOW, RIG, shelf=path.parent)  # what it holds counts, or both are read


@contextmanager
def _file(raw: bytes, name: str) -> Iterator[Path]:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(raw)
        yield path


READS: dict[str, Callable[[bytes, str], None]] = {
    "show": a_show,
    "rig": a_rig,
    "list": a_list,
    "midi": a_midi_file,
    "journal": a_journal,
    "kept": a_kept_reading,
}


def answer(kind: str, name: str, raw: bytes) -> str:
    try:
        READS[kind](raw, name)
    except (CompanionError, NotAJournal):
        return "refused"
    except MemoryError:
        os._exit(child.OUT_OF_MEMORY)
    except BaseException:  # noqa: BLE001 - whatever it is, it is reported
        return "\n".join(traceback.format_exc().splitlines()[-8:])
    return ""


def main() -> None:
    if sys.argv[1] == "limited":
        sys.modules["numpy"] = None  # type: ignore[assignment]  # as in the program's own reader
        child.limit_this_process(max_cpu_s=None)
    while line := sys.stdin.buffer.readline():
        asked = json.loads(line)
        raw = sys.stdin.buffer.read(asked["size"])
        began = time.process_time()
        said = answer(asked["kind"], asked["name"], raw)
        told = {"said": said, "cpu_s": time.process_time() - began}
        sys.stdout.write(json.dumps(told) + "\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
