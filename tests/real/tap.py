"""A client on a JACK server of the tests: prints what arrives with its time, sends what its standard input says.

It is a separate process, because a JACK client whose server is killed may hang, or end the process it lives in.
Out: ``ready``, then a line a message, ``<nanoseconds of the monotonic clock> <bytes in hexadecimal>``. In: bytes
in hexadecimal, one message a line; the end of the input ends it.
"""

import sys
import time
from collections.abc import Callable
from typing import Any

import rtmidi


def main(name: str) -> None:
    """Open one port each way under this name and serve until the input ends."""
    ear = accepted(lambda: rtmidi.MidiIn(rtapi=rtmidi.API_UNIX_JACK, name=name))
    ear.ignore_types(sysex=False, timing=False, active_sense=False)
    mouth = accepted(lambda: rtmidi.MidiOut(rtapi=rtmidi.API_UNIX_JACK, name=name))

    def heard(event: tuple[list[int], float], _: object) -> None:
        at = time.monotonic_ns()
        sys.stdout.write(f"{at} {bytes(event[0]).hex()}\n")
        sys.stdout.flush()

    ear.set_callback(heard)
    ear.open_virtual_port("in")
    mouth.open_virtual_port("out")
    sys.stdout.write("ready\n")
    sys.stdout.flush()
    for line in sys.stdin:
        mouth.send_message(list(bytes.fromhex(line)))
        sys.stdout.write(f"sent {time.monotonic_ns()}\n")
        sys.stdout.flush()
    ear.cancel_callback()
    ear.close_port()
    mouth.close_port()
    ear.delete()
    mouth.delete()


def accepted(client: Callable[[], Any]) -> Any:  # noqa: ANN401 - the module ships no types
    """Open a client; once more where the server refuses it, as a server that runs does now and then."""
    try:
        return client()
    except rtmidi.RtMidiError:
        return client()


if __name__ == "__main__":
    main(sys.argv[1])
