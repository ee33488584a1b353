"""The screen's own process: ``python -m companion.screen``, started by the engine with pipes."""

import argparse
import os
import signal
import sys

from companion.view import Light


def main(argv: list[str] | None = None) -> int:
    """Read the arguments and run the window until standard input ends."""
    parser = argparse.ArgumentParser(prog="python -m companion.screen", description=__doc__)
    how = parser.add_mutually_exclusive_group()
    how.add_argument("--full", action="store_true", help="full screen (the default)")
    how.add_argument("--window", action="store_true", help="a window that can be resized")
    parser.add_argument("--monitor", type=int, default=0, help="which monitor, from 0")
    parser.add_argument(
        "--light", choices=[light.value for light in Light], default=Light.DARK.value, help="of the empty page"
    )
    args = parser.parse_args(argv)
    for number in (signal.SIGINT, signal.SIGTERM):  # the engine handles ctrl-c and a shutdown, then ends this process
        signal.signal(number, signal.SIG_IGN)  # SDL would take SIGTERM for a closed window
    # The screen makes no sound. pygame works without its mixer, which saves 3 MiB.
    sys.modules.update({"pygame.mixer": None, "pygame.mixer_music": None})  # type: ignore[dict-item]  # not there
    from companion.screen.window import main_window  # after the arguments: wrong ones fail before pygame loads

    return main_window(full=not args.window, monitor=args.monitor, light=Light(args.light))


if __name__ == "__main__":
    try:
        code = main()
    except Exception:  # noqa: BLE001 - Python would abort with a core dump while the thread below reads
        sys.excepthook(*sys.exc_info())
        code = 1
    sys.stdout.flush()
    os._exit(code)  # do not wait for the thread that reads the pipe
