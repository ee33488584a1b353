"""Sounds that no program change reaches: what the player must select by hand, until the keyboard answers."""

from companion.rig import Rig

PROGRAM_CHANGE = 0xC0


class ByHand:
    """Which keyboards have answered since the last step.

    A keyboard answers with the program change that it sends when a sound is chosen on its panel; if a keyboard sends
    none, the player can confirm with the key for sound now.
    """

    def __init__(self, rig: Rig) -> None:
        """``rig`` names the ports and channels of its keyboards."""
        self._boards = tuple((board.port, board.channel) for board in rig.keyboards)
        self.done: frozenset[int] = frozenset()

    def heard(self, port: str, message: bytes) -> bool:
        """Handle a message from a port; return whether a keyboard has answered with it for the first time."""
        if not message or message[0] & 0xF0 != PROGRAM_CHANGE:
            return False
        here = (port, (message[0] & 0x0F) + 1)
        before = self.done
        self.done |= {number for number, board in enumerate(self._boards) if board == here}
        return self.done != before

    def sound_now(self) -> None:
        """Record the player's confirmation for every keyboard."""
        self.done = frozenset(range(len(self._boards)))

    def stepped(self) -> None:
        """Start again: another place asks for other sounds."""
        self.done = frozenset()
