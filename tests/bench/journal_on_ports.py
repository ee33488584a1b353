"""Bench: from the pedal to the sound while the disk takes 50 ms for a sync, on real JACK ports.

    .venv/bin/python tests/bench/journal_on_ports.py [--presses 500] [--runs 3]

Both sides are the real program without a screen; the floor's disk takes no journal at all. A sync is made slow where
Python hands it to the system, so all of the journal's own way is as on stage.
"""

import argparse
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bench.pedal_to_sound import WARM_UP, Answers, Start, built, one_start, together
from bench.stage_under_test import own_home, write_rig, write_show
from bench.stopwatch import Row, percentile, show
from real.jack import JackServer
from real.program import Program

GOAL = 1.1
SLOW_DISK = """
import os, sys, time
from companion import cli
sync = os.fsync
os.fsync = lambda number: (time.sleep(0.05), sync(number))
sys.exit(cli.main(sys.argv[1:]))
"""
NO_DISK = """
import sys
from companion import cli
from companion.ports import Journal
def refused(*_):
    raise OSError(28, "No space left on device")
Journal.begun = refused
sys.exit(cli.main(sys.argv[1:]))
"""


def main() -> None:
    """Measure and print the table."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--presses", type=int, default=500, help="presses a run, on each side")
    parser.add_argument("--runs", type=int, default=3)
    parser.add_argument("--starts", type=int, default=2, help="starts of each side in a run; they share its presses")
    asked = parser.parse_args()
    presses = -(-asked.presses // asked.starts)
    sides: dict[str, list[Answers]] = {"slow": [], "none": []}
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary)
        words: tuple[str, ...] = (
            "play",
            str(write_show(folder, asked.presses + WARM_UP + 1)),
            "--screen",
            "none",
            "--fresh",
        )
        words += ("--rig", str(write_rig(folder, "Prober")))
        prober = built("prober", folder)

        def start(code: str) -> Start:
            def on(server: JackServer) -> Program:
                return Program((sys.executable, "-c", code, *words), env={**own_home(folder), **server.env})

            return on

        for _ in range(asked.runs):
            parts: dict[str, list[Answers]] = {"slow": [], "none": []}
            for seed in range(asked.starts):
                for side, code in (("slow", SLOW_DISK), ("none", NO_DISK)):
                    parts[side].append(one_start(start(code), prober, presses, seed, real_time=True, waits=True))
            for side, of_side in parts.items():
                sides[side].append(together(of_side))
    slow, none = sides["slow"], sides["none"]
    show(
        f"Pedal to sound while a sync takes 50 ms, {asked.presses} presses a run; the floor keeps no journal",
        [
            Row(
                f"{name} of press to program change",
                "ms",
                [percentile(run.heard_ms, share) for run in slow],
                [percentile(run.heard_ms, share) for run in none],
                GOAL,
            )
            for name, share in (("p50", 0.5), ("p99", 0.99))
        ],
    )
    lost = sum(run.lost for run in slow), sum(run.lost for run in none)
    sys.stdout.write(f"\nlost: {lost[0]} beside the slow disk, {lost[1]} without a journal\n")


if __name__ == "__main__":
    main()
