"""Call a song on stage: the call box over the songs of the show, followed by those of its songbooks."""

import threading
from collections.abc import Callable, Sequence
from typing import Any

import msgspec

from companion.night.happenings import KeyReceived, OfSongbook
from companion.show import Song
from companion.stage import Book, Call, PutIn
from companion.stage.call_box import (
    ENTER,
    CallBox,
    Chosen,
    by_letters,
    by_likeness,
    key_typed,
    load_ranking,
    open_box,
    ranked_again,
    sounds_on_offer,
)

FROM_BOOK = "songbook: "
"""Prefix of the title of a song that is not in the show."""


class Calling:
    """The call box of a night. A song is called by its number in the show, or added as the songbook has it."""

    def __init__(self, bring_in: Callable[[], object] = load_ranking) -> None:
        """Start without songbook songs; they come once read. ``bring_in`` imports the ranking library, in a thread."""
        self._bring_in = bring_in
        self._brought_in = threading.Event()
        self._can_rank = False
        self._by_letters_alone = False
        self._entered = False  # an enter waits until titles can be ranked
        self._of_books: tuple[OfSongbook, ...] = ()
        self._box: CallBox | None = None
        self._shown: tuple[str, ...] = ()
        self._further: tuple[OfSongbook, ...] = ()
        self._in_show = 0

    @property
    def is_open(self) -> bool:
        """Return whether the call box is open."""
        return self._box is not None

    @property
    def typed(self) -> str | None:
        """The typed text; None while the call box is closed."""
        return self._box.typed if self._box else None

    @property
    def found(self) -> tuple[str, ...]:
        """The matching titles, best first; titles from a songbook are marked as such."""
        return tuple(self._shown[number] for number in self._box.fits) if self._box else ()

    @property
    def is_near(self) -> bool:
        """Return whether these titles only resemble the typed text."""
        return self._box is not None and self._box.is_near

    def shown(self) -> dict[str, Any]:
        """Return what the screen shows of it now."""
        return {"typed": self.typed, "found_songs": self.found, "found_near": self.is_near}

    def songs_are(self, songs: tuple[OfSongbook, ...]) -> None:
        """Use the songs of these songbooks, from the next call on."""
        self._of_books = songs

    def open(self, book: Book) -> None:
        """Open the box. Songbook songs that are in the show are not offered a second time."""
        titles = [one.song.title for one in book.songs]
        here = {title.casefold() for title in titles}
        self._in_show = len(titles)
        self._further = tuple(one for one in self._of_books if one.title.casefold() not in here)
        self._shown = (*titles, *(f"{FROM_BOOK}{one.title}" for one in self._further))
        self._entered = False
        if not self._brought_in.is_set():
            threading.Thread(target=self._learn_likeness, name="ranking", daemon=True).start()
        self._box = open_box([*titles, *(one.title for one in self._further)], sounds_on_offer(book))

    def close(self) -> None:
        """Close the box: the songs have changed."""
        self._box = None

    def take(self, came: KeyReceived, at_ms: int) -> Call | PutIn | None:
        """Handle a key; return the event that it calls for, if any. An enter that must wait for the ranking is kept."""
        if self._box is None:
            return None
        self.rank_again()
        self._entered = self._by_letters_alone and came.key in ENTER and not self._box.fits
        if self._entered and not self._brought_in.is_set():
            return None
        after = key_typed(self._box, came.key, came.text, self._rank)
        self._box = after if isinstance(after, CallBox) else None
        if not isinstance(after, Chosen):
            return None
        if after.song is not None:
            return PutIn(at_ms, after.song)
        if after.number is None:
            return None
        if after.number < self._in_show:
            return Call(at_ms, after.number)
        chosen = self._further[after.number - self._in_show]
        return PutIn(at_ms, msgspec.json.decode(chosen.song, type=Song))

    def entered(self, at_ms: int) -> Call | PutIn | None:
        """Return what a kept enter calls, once titles can be ranked; None while nothing waits."""
        if not self._entered or not self._brought_in.is_set():
            return None
        return self.take(KeyReceived("enter", down=True), at_ms)

    def rank_again(self) -> bool:
        """Rank once more when the library has come after the letters; return whether the box has changed."""
        if self._box is None or not (self._by_letters_alone and self._can_rank):
            return False
        self._by_letters_alone = False
        self._box = ranked_again(self._box, by_likeness)
        return True

    def _learn_likeness(self) -> None:
        try:
            self._bring_in()
            self._can_rank = True
        except ImportError:
            pass  # titles are found by their letters
        finally:
            self._brought_in.set()

    def _rank(self, typed: str, titles: Sequence[str]) -> Sequence[int]:
        """Rank by similarity once its library is imported: two threads must not import it at the same time."""
        if self._can_rank:
            return by_likeness(typed, titles)
        self._by_letters_alone = True
        return by_letters(typed, titles)
