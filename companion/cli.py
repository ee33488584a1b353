"""The command line's entry point: a fast path to the stage, and the command group for everything else."""

import gc
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

from companion.errors import CompanionError, FaultyFile
from companion.shown import harmless_line, harmless_output

SCREENS = ("full", "window", "text", "none")


class PlayRequest(NamedTuple):
    """The usual options of ``companion play``, read without the command-line library."""

    show: Path
    rig: Path | None
    screen: str
    fresh: bool
    resume: bool


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command. Return 0 (success), 1 (errors in a file, or no stage) or 2 (usage error)."""
    words = sys.argv[1:] if argv is None else list(argv)
    with harmless_output():
        try:
            request = quick_play_request(words)
            if request is not None:
                _play(request)
                return 0
            from companion.commands.group import run

            return run(words)
        except FaultyFile as faulty:
            sys.stderr.write("".join(f"{harmless_line(str(fault))}\n" for fault in faulty.faults))
        except CompanionError as trouble:
            sys.stderr.write(f"{trouble}\n")
        except KeyboardInterrupt:  # ctrl-c before anything started that needs an orderly end
            pass
        return 1


def quick_play_request(words: Sequence[str]) -> PlayRequest | None:
    """Return the options of ``play SHOW`` with its plain options; None for any other command line.

    The command-line library takes 40 ms to import, as long as opening a MIDI port; a restart on stage saves that.

    >>> quick_play_request(["play", "a.yaml", "--screen", "text"]).screen
    'text'
    """
    if not words or words[0] != "play":
        return None
    shows: list[str] = []
    rig, screen, flags = None, "full", set()
    rest: Iterator[str] = iter(words[1:])
    if words.count("--rig") > 1 or words.count("--screen") > 1:
        return None
    for word in rest:
        match word:
            case "--rig":
                rig = next(rest, None)
                if rig is None or rig.startswith("-"):
                    return None
            case "--screen":
                screen = next(rest, "")
            case "--fresh" | "--resume":
                flags.add(word)
            case _ if word.startswith("-"):
                return None
            case _:
                shows.append(word)
    if len(shows) != 1 or screen not in SCREENS:
        return None
    return PlayRequest(Path(shows[0]), Path(rig) if rig else None, screen, "--fresh" in flags, "--resume" in flags)


def _play(request: PlayRequest) -> None:
    from companion.night.ahead import started_early

    gc.disable()  # starting makes little garbage; the night turns collection on again
    with started_early(request.screen) as ahead:
        from companion.night.memory import StartOptions
        from companion.night.starting import ScreenMode, play

        options, mode = StartOptions(fresh=request.fresh, resume=request.resume), ScreenMode(request.screen)
        play(request.show, rig_path=request.rig, screen=mode, options=options, out=sys.stderr, ahead=ahead)


if __name__ == "__main__":
    sys.exit(main())
