"""Bench: a band pack. 70 songs for five players, against the PDF library writing the same text to as many pages.

    .venv/bin/python tests/bench/print.py [--runs 5] [--songs 70]

The program reads the show file, charts and lays out every song, and writes the PDF. The first floor writes every text
that is on those pages where it stands, one call of the library for each; the second, harder one joins what stands on
one line first, so that it has far fewer texts to write. Each runs in a separate process, in turns.
"""

import argparse
import json
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bench.stopwatch import ROOT, Row, show

from companion.paper import Paper, PrintJob, Sheet, print_show
from companion.paper.band_pack import pack_leaves
from companion.paper.leaves import Words
from companion.paper.paper_fonts import FACES
from companion.paper.readers import reader_for
from companion.show import read_show

PLAYERS = ("keys", "trumpet", "alto sax", "horn", "guitar")
KEYS = ("Bb", "F#m", "C", "Ab", "E", "Dm", "Gb")
GOAL, MAX_MIB = 3.0, 300.0
Text = tuple[float, float, float, str]  # x and y from the bottom left, size, text


def written(songs: int) -> str:
    """Return a show of so many songs, no two of them alike."""
    lines = ["show: A long night on the pier\nsongs:\n"]
    for number in range(songs):
        four = [f"{1 + (number + place) % 6}{('', '-', '-7', 'maj7')[place % 4]}" for place in range(4)]
        turn = f"{four[1]} {four[2]} | {four[3]}/{1 + number % 6}"
        lines.append(
            f"  - title: Song number {number} of the long pier\n    key: {KEYS[number % len(KEYS)]}\n"
            f"    tempo: {80 + number}\n    starts_with: keys\n    count_off: two bars, sticks\n    ending: cold\n"
            f"    sound: grand piano\n    road_map:\n"
            f'      - {{section: Intro, bars: 4, feature: riff {number}, chords: "{" | ".join(four)}"}}\n'
            f'      - {{section: Verse, bars: 16, chords: "{" | ".join(four * 3)} | {turn} | % | <{four[0]}>"}}\n'
            f'      - {{section: Chorus, bars: 8, hits: "4, 4&", sound: strings, chords: "({" | ".join(four)}) x2"}}\n'
            f"      - {{section: Verse, bars: 16}}\n      - {{section: Chorus, bars: 8}}\n"
            f'      - {{section: Bridge, bars: 8, watch: singer, cue: soft, chords: "{" | ".join(four[::-1] * 2)}"}}\n'
            f"      - {{section: Solo, bars: 16, open: true, watch: drummer, cue: two fingers up is one more round}}\n"
            f"      - {{section: Chorus, bars: 8, passes: 2}}\n      - {{section: Outro, bars: 4}}\n"
        )
    return "".join(lines)


def texts_of(path: Path) -> list[list[Text]]:
    """Return every text of the pack, page by page."""
    top = Paper.A4.height
    return [
        [(mark.x, top - mark.y, mark.size, mark.text) for mark in leaf.marks if isinstance(mark, Words)]
        for player in PLAYERS
        for leaf in pack_leaves(read_show(path).show, reader_for(player), Paper.A4)
    ]


def joined(pages: list[list[Text]]) -> list[list[Text]]:
    """Return one text for all that stands on one line."""
    found = []
    for page in pages:
        lines: dict[int, list[Text]] = {}
        for text in sorted(page):
            lines.setdefault(round(text[1]), []).append(text)
        found.append([(*line[0][:3], " ".join(text[3] for text in line)) for line in lines.values()])
    return found


def the_program(path: Path, out: Path) -> float:
    begun = time.perf_counter()
    print_show(path, PrintJob((Sheet.BAND_PACK,), players=PLAYERS), out)
    return time.perf_counter() - begun


def the_library(path: Path, out: Path) -> float:
    pages = json.loads(path.read_text(encoding="utf-8"))
    begun = time.perf_counter()
    from reportlab import rl_config  # noqa: PLC0415 - the program pays for it too
    from reportlab.pdfbase import pdfmetrics  # noqa: PLC0415
    from reportlab.pdfbase.ttfonts import TTFont  # noqa: PLC0415
    from reportlab.pdfgen.canvas import Canvas  # noqa: PLC0415

    rl_config.useA85 = 0  # as the program has it
    name, font = FACES[0][0], FACES[0][1]
    pdfmetrics.registerFont(TTFont(name, str(font)))
    canvas = Canvas(str(out), pagesize=(Paper.A4.width, Paper.A4.height), initialFontName=name, pageCompression=1)
    for page in pages:
        for x, y, size, text in page:
            canvas.setFont(name, size)
            canvas.drawString(x, y, text)
        canvas.showPage()
    canvas.save()
    return time.perf_counter() - begun


def in_a_process(what: str, path: Path, out: Path) -> tuple[float, float]:
    """Return seconds, and the most memory that it held, in MiB."""
    command = (sys.executable, __file__, "--inside", what, str(path), str(out))
    done = subprocess.run(command, check=True, capture_output=True, text=True, cwd=ROOT)
    seconds, mib = json.loads(done.stdout)
    return seconds, mib


def main() -> None:
    """Measure, and print the table."""
    options = argparse.ArgumentParser(description=__doc__.split("\n", maxsplit=1)[0])
    options.add_argument("--runs", type=int, default=5)
    options.add_argument("--songs", type=int, default=70)
    options.add_argument("--inside", nargs=3)
    asked = options.parse_args()
    if asked.inside:
        what, path, out = asked.inside
        seconds = {"program": the_program, "library": the_library}[what](Path(path), Path(out))
        sys.stdout.write(json.dumps((seconds, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)))
        return
    with tempfile.TemporaryDirectory() as place:
        here = Path(place)
        (here / "show.yaml").write_text(written(asked.songs), encoding="utf-8")
        pages = texts_of(here / "show.yaml")
        (here / "all.json").write_text(json.dumps(pages), encoding="utf-8")
        (here / "lines.json").write_text(json.dumps(joined(pages)), encoding="utf-8")
        figures, floors, lines, memory = [], [], [], []
        for _ in range(asked.runs):
            floors.append(in_a_process("library", here / "all.json", here / "floor.pdf")[0])
            lines.append(in_a_process("library", here / "lines.json", here / "floor.pdf")[0])
            seconds, mib = in_a_process("program", here / "show.yaml", here / "pack.pdf")
            figures.append(seconds)
            memory.append(mib)
        size = (here / "pack.pdf").stat().st_size
    texts, whole_lines = sum(map(len, pages)), sum(map(len, joined(pages)))
    sys.stdout.write(
        f"{asked.songs} songs, {len(PLAYERS)} players: {len(pages)} pages, {texts:,} texts on {whole_lines:,} lines, "
        f"{size / 2**20:.1f} MiB\n"
    )
    show(
        "Printing a band pack",
        [
            Row("a band pack / the library, every text of it", "s", figures, floors, GOAL),
            Row("a band pack / the library, whole lines", "s", figures, lines),
            Row("most memory held", "MiB", memory, goal=MAX_MIB),
        ],
    )


if __name__ == "__main__":
    main()
