"""One sitting of the quiz: ask what to brush up and record the answers."""

import datetime as dt
from collections.abc import Callable, Mapping

import msgspec

from companion.errors import CompanionError
from companion.practice_log.logged import Path_, show_and_progress
from companion.practice_log.records import LogKind, PracticeRecord, add_records
from companion.practice_log.song_progress import Progress, named_songs
from companion.quiz.cards import Card, cards_of
from companion.quiz.scheduling import Sitting, due_cards
from companion.show import Show
from companion.show.titles import folded


class QuizResult(msgspec.Struct, frozen=True):
    """The result of a sitting: right answers, questions to run again, and questions that were not reached."""

    right: int
    again: int
    left: int

    def __str__(self) -> str:
        """Return the sitting in one line."""
        rest = f"{self.left} left to brush up today" if self.left else "nothing left to brush up today"
        if self.again and not self.left:
            rest = "this comes back tomorrow" if self.again == 1 else "these come back tomorrow"
        return f"{self.right} right, {self.again} wrong; {rest}"


def cards_to_ask(show: Show, progress: Mapping[str, Progress], now: dt.datetime, only: str = "") -> tuple[Card, ...]:
    """Return today's cards; of the songs that ``only`` names, all cards, today's first. Raises CompanionError.

    A song asked for by name is asked about whenever the player wants, also twice a day.
    """
    today = [one.card for one in due_cards(show, progress, now)]
    if not only:
        return tuple(today)
    titles = {folded(song.title) for song in named_songs(show, only)}
    if not titles:
        raise CompanionError(f"this show has no song or set called {only!r}")
    cards = [card for card in cards_of(show) if folded(card.song.title) in titles]
    if not cards:
        raise CompanionError(f"nothing can be asked about {only}. Write: its key, who starts, its sound, its road map")
    first = [card for card in today if folded(card.song.title) in titles]
    return (*first, *(card for card in cards if card not in first))


def sit_quiz(
    show_path: Path_,
    now: Callable[[], dt.datetime],
    answer: Callable[[Card], int | None],
    most: int = 20,
    only: str = "",
) -> QuizResult:
    """Ask up to ``most`` cards. ``answer`` shows a card and returns the grade, or None to stop.

    Raises CompanionError if ``only`` names nothing that can be asked about.
    """
    show, progress = show_and_progress(show_path)
    cards = cards_to_ask(show, progress, now(), only)
    sitting = Sitting(cards[:most])
    answered: set[tuple[str, str]] = set()
    while (card := sitting.card) is not None:
        grade = answer(card)
        if grade is None:
            break
        add_records(
            show_path, [PracticeRecord(now(), LogKind.ASKED, card.song.title, question=card.name, grade=int(grade))]
        )
        answered.add((card.song.title, card.name))
        sitting = sitting.answered(grade)
    return QuizResult(sitting.right, sitting.wrong, len(cards) - len(answered))
