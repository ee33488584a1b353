"""Become another program that has limits: of memory in bytes and of processor seconds, the first two words."""

import os
import sys

from companion import child


def main() -> int:
    """Set the limits and run the program in this process's place."""
    max_bytes, max_cpu_s, program, *words = sys.argv[1:]
    child.limit_this_process(int(max_bytes), int(max_cpu_s))
    os.environ["OMP_THREAD_LIMIT"] = "1"  # several threads take more time in all (tesseract's own advice, from memory)
    os.execv(program, (program, *words))  # noqa: S606 - the program that our parent found


if __name__ == "__main__":
    sys.exit(main())
