"""The process that listens to one recording: ``python -m companion.audio RECORDING KEPT [--until-input-ends]``.

It decodes a stranger's file, so it has limits, and it leaves the processor to everything else. It writes one line of
JSON for each stage, and a last one with ``heard`` or ``problem``. With ``--until-input-ends`` it stops when its
standard input ends, as it does when the process that started it is killed.
"""

import contextlib
import json
import os
import sys
from pathlib import Path
from typing import Final

from companion.child import OUT_OF_MEMORY, UNTIL_INPUT_ENDS, end_with_parent, limit_this_process
from companion.errors import CompanionError

MAX_MEMORY: Final = 3 << 30  # bytes of address space; 20 minutes of music need 1 GiB
MAX_CPU_S: Final = 600
THREADS: Final = "1"  # more would take the processor from a stage that plays meanwhile
NICE: Final = 15


def _say(**fields: object) -> None:
    sys.stdout.write(json.dumps(fields) + "\n")
    sys.stdout.flush()


def main() -> int:
    """Listen to the recording and keep what was heard."""
    for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
        os.environ[name] = THREADS
    with contextlib.suppress(AttributeError, OSError):
        os.nice(NICE)
    limit_this_process(MAX_MEMORY, MAX_CPU_S)
    if UNTIL_INPUT_ENDS in sys.argv[3:]:
        end_with_parent()
    recording, kept_at = Path(sys.argv[1]), Path(sys.argv[2])
    try:
        from companion.audio.decoding import NotHeard, decoded
        from companion.audio.hearing import raw_hearing
        from companion.audio.kept_hearings import keep

        _say(stage="decoding")
        try:
            samples = decoded(recording)
            raw = raw_hearing(samples, lambda name: _say(stage=name))
        except NotHeard as why:
            _say(problem=str(why))
            return 0
        try:
            keep(raw, kept_at)
        except (OSError, CompanionError) as fault:
            _say(problem=f"cannot keep the result: {getattr(fault, 'strerror', None) or fault}")
            return 0
    except MemoryError:
        return OUT_OF_MEMORY
    _say(heard=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
