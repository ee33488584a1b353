"""ALSA's sequencer table: which client is ours, and whether it is still connected.

RtMidi reports no lost connection on any system (RtMidi issue 374). A USB-MIDI keyboard that leaves the bus and returns
may get its old client number: the list of names then looks unchanged while nothing is connected. The kernel's own table
shows the difference; it is a text file of a few lines (sound/core/seq/seq_clientmgr.c, ``snd_seq_info_clients_read``).
"""

import re
from pathlib import Path
from typing import Final

CLIENTS: Final = Path("/proc/asound/seq/clients")
_CLIENT: Final = re.compile(r'Client\s+(\d+) : "(.*)" \[')
_CONNECTED: Final = re.compile(r"    Connect(?:ing|ed) (?:To|From): (.*)")
_ADDRESS: Final = re.compile(r"(\d+):(\d+)")
_NAMED: Final = re.compile(r"\s(\d+):(\d+)$")  # RtMidi.cpp, MidiInAlsa::getPortName: the name ends with client and port

Address = tuple[int, int]
"""Client and port."""


class Links:
    """One reading of the table: the clients, and which are connected."""

    def __init__(self, table: str) -> None:
        """Parse the text of the table."""
        self.clients: dict[int, str] = {}
        self.connected: set[tuple[int, Address]] = set()
        client = 0
        for line in table.splitlines():
            if found := _CLIENT.match(line):
                client = int(found[1])
                self.clients[client] = found[2]
            elif found := _CONNECTED.match(line):
                for one in _ADDRESS.finditer(found[1]):
                    self.connected.add((client, (int(one[1]), int(one[2]))))

    def ours(self, theirs: Address, name: str, before: "Links") -> int | None:
        """Return our client that is new since ``before`` and connected to this port; None unless exactly one is."""
        new = [
            client
            for client, called in self.clients.items()
            if called == name and client not in before.clients and (client, theirs) in self.connected
        ]
        return new[0] if len(new) == 1 else None


def links(table: Path = CLIENTS) -> Links | None:
    """Read the table; None if the system has none."""
    try:
        return Links(table.read_text(encoding="utf-8", errors="replace"))
    except OSError:
        return None


def address_in(name: str) -> Address | None:
    """Return the address at the end of a port's name.

    >>> address_in("Stage Piano:Stage Piano MIDI 1 24:0")
    (24, 0)
    """
    found = _NAMED.search(name)
    return (int(found[1]), int(found[2])) if found else None
