"""Calling a song on stage: the call box over the songs of the show, and behind them those of its songbooks."""

import threading

import msgspec

from companion.show import Song
from companion.stage import Book, Call, PutIn
from companion.stage.call_box import CallBox, Chosen, bring_in_the_ranking, key_typed, open_box

from .happenings import KeyCame, OfSongbook

FROM_BOOK = "songbook: "
"""Stands before the title of a song that is not in the show."""


class Calling:
    """The call box of a night. A song is called by its number in the show, or put in as the songbook has it."""

    def __init__(self) -> None:
        """Know no songbook yet; its songs come when they are read."""
        self._of_books: tuple[OfSongbook, ...] = ()
        self._box: CallBox | None = None
        self._shown: tuple[str, ...] = ()
        self._further: tuple[OfSongbook, ...] = ()
        self._in_show = 0

    @property
    def is_open(self) -> bool:
        """Tell whether somebody is calling a song."""
        return self._box is not None

    @property
    def typed(self) -> str | None:
        """What has been typed; None where nobody is calling."""
        return self._box.typed if self._box else None

    @property
    def found(self) -> tuple[str, ...]:
        """The titles that fit, the best first; those of a songbook are told as such."""
        return tuple(self._shown[number] for number in self._box.fits) if self._box else ()

    def songs_are(self, songs: tuple[OfSongbook, ...]) -> None:
        """Take the songs of the songbooks, from the next call on."""
        self._of_books = songs

    def open(self, book: Book) -> None:
        """Open the box. What is in the show is not offered a second time."""
        titles = [one.song.title for one in book.songs]
        here = {title.casefold() for title in titles}
        self._in_show = len(titles)
        self._further = tuple(one for one in self._of_books if one.title.casefold() not in here)
        self._shown = (*titles, *(f"{FROM_BOOK}{one.title}" for one in self._further))
        threading.Thread(target=bring_in_the_ranking, name="ranking", daemon=True).start()
        self._box = open_box([*titles, *(one.title for one in self._further)])

    def close(self) -> None:
        """Close the box: the songs have changed under it."""
        self._box = None

    def take(self, came: KeyCame, at_ms: int) -> Call | PutIn | None:
        """Take a key; give what it calls, if it does."""
        if self._box is None:
            return None
        after = key_typed(self._box, came.key, came.text)
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
