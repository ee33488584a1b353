"""A songbook's song is changed for tonight, or in the songbook: asked once for each song, and shown on its sheet."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Final

from companion.debrief.into_songbook import OF_PLAYER
from companion.edits import Edit, SetValue, SongNamed
from companion.errors import CompanionError
from companion.pages.desk import ShowDesk, SongOnDesk, Stack
from companion.pages.markup import Html, fragment, tag
from companion.pages.song_in_book import SongInBook, for_the_book, for_tonight, other_shows, song_in_book
from companion.pages.wanted import WantedEdit, WantedRow

TONIGHT: Final = "tonight"
BOOK: Final = "book"
ONLY_TONIGHT: Final = ("title", "segue")  # what a show calls a song, and which one follows
Wanted = WantedEdit | WantedRow


class AskedWhere(CompanionError):  # noqa: N818  reads better than an Error
    """It is not decided yet whether changes of this song are for tonight, or for its songbook."""


class TonightOrBook:
    """The answers so far, and the changes that wait for one. Any thread may call it."""

    def __init__(self) -> None:
        self._answers: dict[tuple[Path, str], str] = {}
        self._waiting: dict[str, Wanted] = {}  # by the song's id on the page

    def write(
        self, desk: ShowDesk, named: SongNamed, says: str, make: Callable[[Stack], Sequence[Edit]], wanted: Wanted
    ) -> Stack:
        """Write a song's edits where they belong; they are on disk when this returns.

        Raises AskedWhere if the player is to say it first; else as ``ShowDesk.edit``.
        """
        stack = desk.look()
        one = stack.song(named)
        book = song_in_book(stack, one)
        if book is None:
            return desk.edit(says, make)
        edits = make(stack)
        if all(book.is_own(edit) or _is_tonights(edit) for edit in edits):
            return desk.edit(says, make)
        answer = BOOK if all(map(_is_players, edits)) else self._answers.get((book.path, book.slug))
        if answer is None:
            self._waiting[one.mark] = wanted
            raise AskedWhere("only tonight, or in the songbook?")
        if answer == TONIGHT:
            return desk.edit(says, lambda now: for_tonight(now, now.song(named), make(now)))
        return desk.edit_book(
            f"{says}, in the songbook",
            lambda now: for_the_book(now.song(named), _still(now, named), make(now), desk.folder),
        )

    def answer(self, stack: Stack, one: SongOnDesk, where: str) -> Wanted | None:
        """Note where changes of a song go; return the one that waited for it. Raises CompanionError."""
        book = song_in_book(stack, one)
        if book is None or where not in (TONIGHT, BOOK):
            raise CompanionError("this song is in no songbook")
        self._answers[book.path, book.slug] = where
        return self._waiting.pop(one.mark, None)

    def head_html(self, stack: Stack, one: SongOnDesk, known: Sequence[Path]) -> Html | None:
        """Return what a sheet says about the songbook that its song is from; None for a song of the show alone."""
        book = song_in_book(stack, one)
        if book is None:
            return None
        answer = self._answers.get((book.path, book.slug))
        others = other_shows(book, stack.file.path, known)
        sentence = {
            TONIGHT: "From a songbook. What you change here is for tonight only.",
            BOOK: "From a songbook. What you change here is changed in the songbook.",
            None: "From a songbook.",
        }[answer]
        used = f" Also used in {', '.join(others)}." if others else ""
        other = {TONIGHT: BOOK, BOOK: TONIGHT}.get(answer or "")
        return tag(
            "div",
            tag("p", f"{sentence}{used}", class_="pencil"),
            tag("p", _button(one, other), class_="buttons") if other else None,
            tag("p", id=f"where-{one.mark}", class_="slip"),
        )


def question_html(stack: Stack, one: SongOnDesk, slip: str, known: Sequence[Path]) -> Html:
    """Return the question, as the note under a field; it names the other shows that the songbook's song is in."""
    choice = fragment(_button(one, TONIGHT), " ", _button(one, BOOK))
    book = song_in_book(stack, one)
    others = other_shows(book, stack.file.path, known) if book is not None else ()
    used = f"A change in the songbook also changes {_and(others)}." if others else "No other show here uses this song."
    words = f"Only tonight, or in the songbook? {used}"
    return tag("p", words, tag("span", choice, class_="buttons"), id=slip, class_="slip")


def _and(words: Sequence[str]) -> str:
    """Return words as a sentence has them.

    >>> _and(["Pier Street", "Mill", "Tide"])
    'Pier Street, Mill and Tide'
    """
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1])))


def _button(one: SongOnDesk, where: str) -> Html:
    words = "Only tonight" if where == TONIGHT else "In the songbook"
    return tag(
        "button", words, type="button", data_do="where", data_show=f"{one.mark} {where}", data_then="sheet-title"
    )


def _is_tonights(edit: Edit) -> bool:
    return isinstance(edit, SetValue) and len(edit.where) > 1 and edit.where[1] in ONLY_TONIGHT


def _is_players(edit: Edit) -> bool:
    """Whether an edit is about the player, whom every show has alike."""
    return isinstance(edit, SetValue) and len(edit.where) > 1 and edit.where[1] in OF_PLAYER


def _still(stack: Stack, named: SongNamed) -> SongInBook:
    book = song_in_book(stack, stack.song(named))
    if book is None:
        raise CompanionError(f"{named} is no longer from a songbook")
    return book
