"""The floor and the prober in plain python-rtmidi, if no compiler is there: see floor.cpp and prober.cpp.

``without_compiler.py floor NAME`` or ``without_compiler.py prober NAME``; they say and read the same lines.
"""

import random
import sys
import time

import rtmidi

BOUNCE_PASSED_S = (0.040, 0.070)  # from 40 ms: past the 30 ms in which an edge is a bounce


def floor(ear: rtmidi.MidiIn, mouth: rtmidi.MidiOut) -> None:
    """Answer each damper press with a program change, until the input ends."""
    program = 0

    def heard(event: tuple[list[int], float], _: object) -> None:
        nonlocal program
        message = event[0]
        if message[:2] == [0xB0, 64] and message[2] >= 64:
            program = program + 1 & 127
            mouth.send_message((0xC0, program))

    ear.set_callback(heard)
    say_ready(ear, mouth)
    sys.stdin.read()


def prober(ear: rtmidi.MidiIn, mouth: rtmidi.MidiOut) -> None:
    """Press, listen, and print what each press took."""
    answers: list[int] = []

    def heard(event: tuple[list[int], float], _: object) -> None:
        if event[0][0] == 0xC0:
            answers.append(time.perf_counter_ns())

    ear.set_callback(heard)
    say_ready(ear, mouth)
    for line in sys.stdin:
        presses, seed = map(int, line.split())
        chance = random.Random(seed)  # noqa: S311  # irregular, not secret
        extra = 0
        for _ in range(presses):
            answers.clear()
            begun = time.perf_counter_ns()
            mouth.send_message((0xB0, 64, 127))
            time.sleep(chance.uniform(*BOUNCE_PASSED_S))
            mouth.send_message((0xB0, 64, 0))
            time.sleep(chance.uniform(*BOUNCE_PASSED_S))
            sys.stdout.write(f"{(answers[0] - begun) / 1000:.1f}\n" if answers else "lost\n")
            extra += max(0, len(answers) - 1)
        sys.stdout.write(f"extra {extra}\n")
        sys.stdout.flush()


def say_ready(ear: rtmidi.MidiIn, mouth: rtmidi.MidiOut) -> None:
    """Open one port each way and say so."""
    mouth.open_virtual_port("out")
    ear.open_virtual_port("in")
    sys.stdout.write("ready\n")
    sys.stdout.flush()


if __name__ == "__main__":
    {"floor": floor, "prober": prober}[sys.argv[1]](
        rtmidi.MidiIn(rtapi=rtmidi.API_UNIX_JACK, name=sys.argv[2]),
        rtmidi.MidiOut(rtapi=rtmidi.API_UNIX_JACK, name=sys.argv[2]),
    )
