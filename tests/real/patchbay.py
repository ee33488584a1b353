"""A silent client on a JACK server of the tests: says which ports there are, who is connected, and connects.

It stays for as long as the server does, and never plays. The command-line tools that do the same come and go, and a
client that goes at the moment in which another one begins leaves JACK 1.9.21 a trap: the newcomer takes the place of
the one that went, keeps its semaphore, and waits there for ever.

In: ``ports``, ``connections``, ``connect<tab>SOURCE<tab>TARGET``. Out: ``ready``; then for each request its lines, and
``done``. A pair of connected ports is given in both orders, with a tab between.
"""

import ctypes
import ctypes.util
import sys
import time
from collections.abc import Iterator
from typing import Any

NO_START_SERVER = 1  # jack/types.h, JackNoStartServer


def main() -> None:
    """Wait for the server, then serve until the input ends."""
    jack = library()
    jack.jack_client_open.restype = ctypes.c_void_p
    jack.jack_get_ports.restype = ctypes.POINTER(ctypes.c_char_p)
    jack.jack_port_by_name.restype = ctypes.c_void_p
    jack.jack_port_get_all_connections.restype = ctypes.POINTER(ctypes.c_char_p)
    silent = ctypes.CFUNCTYPE(None, ctypes.c_char_p)(lambda _: None)
    jack.jack_set_error_function(silent)
    jack.jack_set_info_function(silent)
    while not (opened := jack.jack_client_open(b"patchbay", NO_START_SERVER, None)):
        time.sleep(0.01)
    client = ctypes.c_void_p(opened)

    def ports() -> list[str]:
        return list(names(jack, jack.jack_get_ports(client, None, None, ctypes.c_ulong(0))))

    def connections() -> list[str]:
        pairs = []
        for port in ports():
            number = ctypes.c_void_p(jack.jack_port_by_name(client, port.encode()))
            pairs += [f"{port}\t{other}" for other in names(jack, jack.jack_port_get_all_connections(client, number))]
        return pairs

    say(["ready"])
    for line in sys.stdin:
        what, *ends = line.rstrip("\n").split("\t")
        if what == "connect":
            jack.jack_connect(client, *(end.encode() for end in ends))
        say([*(ports() if what == "ports" else connections() if what == "connections" else []), "done"])
    jack.jack_client_close(client)


def library() -> ctypes.CDLL:
    """Load JACK's library by its usual name; the search for another starts two programs."""
    try:
        return ctypes.CDLL("libjack.so.0")
    except OSError:
        return ctypes.CDLL(ctypes.util.find_library("jack") or "libjack.so")


def names(jack: Any, found: Any) -> Iterator[str]:  # noqa: ANN401 - a C library, and its array of strings
    """Yield the strings of an array that NULL ends, and free it."""
    if found:
        at = 0
        while (name := found[at]) is not None:
            yield name.decode()
            at += 1
        jack.jack_free(found)


def say(lines: list[str]) -> None:
    """Print lines at once."""
    sys.stdout.write("\n".join(lines) + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
