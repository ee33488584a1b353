"""Hearing: what comes in at one port goes into the inbox, and the driver's thread is let go at once."""

from collections.abc import Sequence

from companion.ports.arrivals import Inbox, MidiCame
from companion.ports.clock import now_ns
from companion.ports.tokens import Splitter, is_whole


class InPort:
    """One open port of the system, for each word of the rig that means it. Silent until ``hear`` and after ``deaf``."""

    def __init__(self, inbox: Inbox) -> None:
        """Take the inbox that all goes into."""
        self._inbox = inbox
        self._words: tuple[str, ...] = ()
        self._splitter = Splitter()

    def hear(self, words: tuple[str, ...]) -> None:
        """Let in what comes from now on, once for each of these words of the rig."""
        self._words = words

    def deaf(self) -> None:
        """Let in nothing more, also of what is on its way."""
        self._words = ()

    def came(self, some: Sequence[int]) -> None:
        """Take what the driver gives: a whole message nearly always, else bytes that are cut into messages here."""
        at_ns = now_ns()
        message = bytes(some)
        whole = (message,) if is_whole(message) else self._splitter.feed(message)
        for word in self._words:
            for one in whole:
                self._inbox.put(MidiCame(word, one, at_ns))
