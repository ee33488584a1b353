"""What the screen says for a while: notices, and what the last key did to the show."""

from collections.abc import Callable, Iterable
from typing import Any, Final

from companion.night.default_keys import TOP_KEY
from companion.rig import Rig
from companion.shown import harmless

CONTINUED: Final = "; continued"  # behind this, a message names the place, which the page shows as well
NOTICE_MS: Final = 6000  # long enough for a glance


class Notices:
    """The notices of a night, each with the time when it goes. Times are ms since the show began."""

    def __init__(self, say: Callable[[str], None], rig: Rig, resumed: str = "", *, from_the_top: bool = False) -> None:
        """Start without a notice. ``say`` writes each one to the terminal as well.

        ``resumed`` says where an interrupted night continues ("" for a new night); it is shown until the first step,
        with the key that starts from the top instead, unless the rig uses that key, or it is ``from_the_top`` already.
        """
        self._say = say
        is_free = all(pedal.key != TOP_KEY for pedal in rig.pedals) and not from_the_top
        self._top_key = TOP_KEY if is_free else None
        brief = "from the top" if from_the_top else "continued"
        self._resumed = continued_forms(harmless(resumed), self._top_key, brief)
        self._told: tuple[tuple[str, int], ...] = ()
        self._did: tuple[tuple[str, ...], int] = ((), 0)
        self._awaited = ""

    def wait_for(self, why: str) -> None:
        """Show why the ports are not ready, until this is called with "": they are."""
        if why and why != self._awaited:
            self._say(why)
        self._awaited = why

    def tell(self, words: str, at_ms: int) -> None:
        """Show these words for a while, if there are any."""
        if not words:
            return
        words = harmless(words)  # a file's name may be half a letter, and the screen's pipe takes whole ones alone
        self._say(words)
        self._told = (*self._told, (words, at_ms + NOTICE_MS))

    def did(self, forms: tuple[str, ...], at_ms: int) -> None:
        """Show what the last step did, longest form first; it replaces what the step before did. Empty: nothing."""
        self._resumed = ()
        forms = tuple(map(harmless, forms))
        if forms:
            self._say(forms[0])
        self._did = (forms, at_ms + NOTICE_MS)

    def forget(self, words: str | None) -> None:
        """Remove these words: they are no longer true."""
        self._told = tuple(one for one in self._told if one[0] != words)

    def shown(self, now_ms: int) -> dict[str, Any]:
        """Return what the screen shows of them now, and drop what has expired."""
        self._told = tuple(one for one in self._told if one[1] > now_ms)
        if self._did[1] <= now_ms:
            self._did = ((), 0)
        notices = tuple(words for words, _ in self._told)
        return {"notices": notices, "done": self._did[0], "resumed": self._resumed, "awaited": self._awaited}

    def is_top(self, key: str) -> bool:
        """Return whether this key starts the show from the top now."""
        return bool(self._resumed) and key == self._top_key

    def has_expired(self, now_ms: int) -> bool:
        """Return whether one that was shown must go."""
        return any(until <= now_ms for until in self.ends_ms())

    def ends_ms(self) -> Iterable[int]:
        """Return when those that are shown go."""
        return [until for _, until in self._told] + ([self._did[1]] if self._did[0] else [])


def continued_forms(words: str, top_key: str | None, brief: str = "continued") -> tuple[str, ...]:
    """Return the notice about a continued night, longest form first; the page itself shows the place.

    ``brief`` is its shortest form without a key.

    >>> continued_forms("continued at A, Verse", "0")[:2]
    ('continued at A, Verse; 0 starts from the top', 'continued; 0 starts from the top')
    """
    if not words:
        return ()
    forms = dict.fromkeys((words, words.rpartition(CONTINUED)[0] or words))
    if top_key is None:
        return *forms, brief
    return (
        *(f"{form}; {top_key} starts from the top" for form in forms),
        f"continued; {top_key} starts from the top",
        f"{top_key}: from the top",
    )
