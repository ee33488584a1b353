"""One sitting of the quiz: ask what is due and record the answers."""

import datetime as dt
from collections.abc import Callable

import msgspec

from companion.practice_log.logged import Path_, show_and_progress
from companion.practice_log.records import Did, PracticeRecord, add_records
from companion.practice_log.song_progress import named_songs
from companion.quiz.cards import Card
from companion.quiz.scheduling import Sitting, due_cards


class Sat(msgspec.Struct, frozen=True):
    """The result of a sitting."""

    right: int
    wrong: int
    due: int


def sit_quiz(
    show_path: Path_,
    now: Callable[[], dt.datetime],
    answer: Callable[[Card], int | None],
    most: int = 20,
    only: str = "",
) -> Sat:
    """Ask what is due. ``answer`` shows a card and returns the grade, or None to stop."""
    show, progress = show_and_progress(show_path)
    titles = {song.title for song in named_songs(show, only)} if only else None
    due = [one.card for one in due_cards(show, progress, now()) if titles is None or one.card.song.title in titles]
    sitting = Sitting(tuple(due[:most]))
    while (card := sitting.card) is not None:
        grade = answer(card)
        if grade is None:
            break
        add_records(
            show_path, [PracticeRecord(now(), Did.ASKED, card.song.title, question=card.name, grade=int(grade))]
        )
        sitting = sitting.answered(grade)
    return Sat(sitting.right, sitting.wrong, len(due))
