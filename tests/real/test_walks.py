"""Random walks of the foot, the hands and the keys on real ports, and kills: the program beside the oracle."""

import random
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from oracle.songs import an_evening
from oracle.walking import strides
from real.jack import JackServer, JackTap
from real.switches import BY_FOOT, PORTS, Instruments
from real.walker import Walker

WALKS_A_TEST, TESTS, STEPS = 5, 10, 120
KILLED = 4  # of five walks
MAX_LOST = 3  # of six hundred steps, by JACK on a machine that is busy with something else


@pytest.fixture
def instruments(jack: JackServer, foot_box: JackTap) -> Iterator[Instruments]:
    """Two boards and a foot box."""
    boards = {board: JackTap(jack, port) for board, port in PORTS.items()}
    yield Instruments(jack, foot_box, boards)
    for board in boards.values():
        board.close()


@pytest.mark.long
@pytest.mark.parametrize("number", range(TESTS))
def test_random_walks_and_kills_on_real_ports_agree_with_the_oracle(
    number: int, instruments: Instruments, tmp_path: Path
) -> None:
    """Compare each step: the journal's place, the boards' bytes, the picture; a kill changes nothing."""
    lost: list[str] = []
    for walk in range(WALKS_A_TEST):
        seed = number * WALKS_A_TEST + walk
        lost += a_walk(seed, instruments, tmp_path / f"walk-{seed}", killed=walk < KILLED)
    sys.stdout.write(f"{WALKS_A_TEST} walks of {STEPS} steps, {KILLED} kills; lost by JACK: {lost}\n")
    assert len(lost) <= MAX_LOST


def a_walk(seed: int, instruments: Instruments, folder: Path, *, killed: bool) -> list[str]:
    """Walk, and die once on the way, with up to four presses not yet answered; what was lost before it arrived."""
    chance = random.Random(1000 + seed)  # noqa: S311  # irregular, not secret
    evening = an_evening(chance)
    walked = strides(chance, evening, STEPS)
    walker = Walker(instruments, folder, evening)
    try:
        walker.start()
        begun = 0
        if killed:
            dies_at = chance.randrange(1, STEPS - 1)
            walker.walk(walked[:dies_at])
            for one in walked[dies_at : dies_at + chance.randint(0, 4)]:
                if one.word not in BY_FOOT:
                    break
                walker.act(one)
            time.sleep(chance.uniform(0, 0.02))
            begun = walker.kill()
            walker.start()
            walker.compare_taken_up()
        walker.walk(walked[begun:])
    finally:
        walker.end()
    return walker.lost
