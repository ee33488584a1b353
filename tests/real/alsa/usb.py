"""USB-MIDI devices that exist only in the virtual machine: what was sent to them, and what they send.

The kernel's dummy_hcd joins a USB host and devices without a cable; usb_f_midi is a device's MIDI function, which its
own side sees as a raw MIDI port (Documentation/usb/gadget-testing.rst, "MIDI function").
"""

import os
import re
import threading
import time
from collections.abc import Callable
from pathlib import Path

GADGETS = Path("/sys/kernel/config/usb_gadget")
CLIENTS = Path("/proc/asound/seq/clients")
PATIENCE_S = 45.0  # until something is taken to be missing; several times what a start takes on a machine at rest


def until(true: Callable[[], object], what: str, seconds: float = PATIENCE_S) -> None:
    """Wait for something to be true."""
    end = time.monotonic() + seconds
    while not true():
        if time.monotonic() > end:
            raise AssertionError(f"not within {seconds:.0f} s: {what}")
        time.sleep(0.02)


class Usb:
    """A USB-MIDI device, from its own side. ``took`` is all that was sent to it since it was plugged in, as hex."""

    free: int = 0

    def __init__(self, name: str) -> None:
        self.name, self.card = name, f"gadget{Usb.free}"
        self.controller = f"dummy_udc.{Usb.free}"
        Usb.free += 1
        self.took = ""
        self._node: int | None = None
        self._folder = GADGETS / self.card
        strings, function = self._folder / "strings/0x409", self._folder / "functions/midi.0"
        for folder in (self._folder, strings, function, self._folder / "configs/c.1"):
            folder.mkdir(parents=True)
        for file, text in (("idVendor", "0x1d6b"), ("idProduct", f"0x{0x100 + Usb.free:04x}")):
            (self._folder / file).write_text(text)  # the Linux Foundation's own number, for gadgets
        (strings / "product").write_text(name)
        (function / "id").write_text(self.card)
        (self._folder / "configs/c.1/midi.0").symlink_to(function)

    def plug(self) -> None:
        """Plug it in, and switch it on."""
        (self._folder / "UDC").write_text(self.controller)
        card = Path("/proc/asound") / self.card
        until(card.exists, f"the device's own side of {self.name}")
        number = re.sub(r"\D", "", str(card.readlink()))
        self._node = os.open(f"/dev/snd/midiC{number}D0", os.O_RDWR | os.O_NONBLOCK)
        self.took = ""
        threading.Thread(target=self._take, args=(self._node,), daemon=True).start()

    def pull(self) -> None:
        """Pull the cable."""
        node, self._node = self._node, None
        if node is not None:
            os.close(node)
        (self._folder / "UDC").write_text("\n")

    def replug(self, pause_s: float = 0.5) -> None:
        """Pull the cable, and plug it in again after a while."""
        self.pull()
        time.sleep(pause_s)
        self.plug()
        until(self.is_listed, f"the sequencer lists {self.name}")

    def play(self, message: str) -> None:
        """Send bytes, as a player's hand or foot does."""
        assert self._node is not None
        os.write(self._node, bytes.fromhex(message))

    def _take(self, node: int) -> None:
        while self._node == node:
            try:
                self.took += os.read(node, 256).hex()
            except BlockingIOError:
                time.sleep(0.01)
            except OSError:
                return

    def got(self, wanted: str) -> None:
        """Wait until it has got these bytes, clock ticks aside."""
        until(lambda: wanted in self.sounds(), f"{self.name} gets {wanted}; it has {self.sounds()[-200:]}")

    def sounds(self) -> str:
        """Return what it took, less clock and start and stop."""
        pairs = (self.took[at : at + 2] for at in range(0, len(self.took), 2))
        return "".join(pair for pair in pairs if pair < "f8")

    def number(self) -> str:
        """Return the client that the sequencer lists it as."""
        found = re.search(rf'Client\s+(\d+) : "{self.name}"', CLIENTS.read_text())
        return found[1] if found else ""

    def is_listed(self) -> bool:
        return bool(self.number())
