"""Schedule the cards: spaced by an FSRS scheduler, every card once more before the show.

Card states are rebuilt from the records, which are the only file of progress. Steps of minutes within a sitting are
off: a wrong answer comes again at the end of the sitting, but only another day counts.
"""

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Final

import msgspec

from companion.planning import rank
from companion.practice_log.song_progress import Progress, QuizAnswered, of_song
from companion.quiz.cards import Card, cards_of
from companion.show import Show
from companion.show.titles import folded

if TYPE_CHECKING:
    from fsrs import Scheduler

NEW_A_DAY: Final = 20  # new cards a day; more would crowd out those that are due
LONGEST_DAYS: Final = 36_500


class Due(msgspec.Struct, frozen=True):
    """A card and when it is due. ``recalled``: the probability that it is known now, 0 to 1; None where never asked."""

    card: Card
    due: dt.datetime
    recalled: float | None


def scheduler(show_date: dt.date | None, today: dt.date) -> "Scheduler":
    """Make the scheduler; no interval reaches past the day before the show."""
    from fsrs import Scheduler  # noqa: PLC0415  only the quiz needs it

    left = (show_date - today).days - 1 if show_date else LONGEST_DAYS
    return Scheduler(
        learning_steps=(), relearning_steps=(), maximum_interval=max(1, min(left, LONGEST_DAYS)), enable_fuzzing=False
    )


def when_due(card: Card, answers: Iterable[QuizAnswered], show_date: dt.date | None, now: dt.datetime) -> Due:
    """Return when a card is due, from all answers to it. Only the first answer of a day counts, since it was recall."""
    from fsrs import Card as Kept  # noqa: PLC0415  same
    from fsrs import Rating  # noqa: PLC0415  same

    spaced = scheduler(show_date, now.date())
    kept, days = Kept(card_id=1), set()
    for answer in sorted((one for one in answers if one.question == card.name), key=lambda one: one.at):
        if answer.at.date() in days:
            continue
        days.add(answer.at.date())
        kept, _ = spaced.review_card(kept, Rating(answer.grade), answer.at.astimezone(dt.UTC))
    if not days:
        return Due(card, now, None)
    due = kept.due.astimezone(now.tzinfo)
    return Due(card, due, spaced.get_card_retrievability(kept, now.astimezone(dt.UTC)))


def due_cards(
    show: Show, progress: Mapping[str, Progress], now: dt.datetime, most_new: int = NEW_A_DAY
) -> tuple[Due, ...]:
    """Return the cards due today: first those likely forgotten and important, then new ones.

    ``now`` is aware of its UTC offset. A card answered today is not due again; the sitting repeats wrong answers.
    """
    days_left = max(1, (show.date - now.date()).days) if show.date else 14
    weight = {folded(one.song.title): one.value + 0.01 for one in rank(show, days_left, progress)}
    asked_today, old, new = 0, [], []
    for card in cards_of(show):
        answers = of_song(progress, card.song).quiz_answers
        mine = [one for one in answers if one.question == card.name]
        if any(one.at.astimezone(now.tzinfo).date() == now.date() for one in mine):
            asked_today += len(mine) == 1
            continue
        due = when_due(card, mine, show.date, now)
        if due.recalled is None:
            new.append(due)
        elif due.due.date() <= now.date():
            old.append(due)

    def matters(one: Due) -> float:
        return weight.get(folded(one.card.song.title), 0.0) * (1 - (one.recalled or 0.0))

    old.sort(key=matters, reverse=True)
    new.sort(key=matters, reverse=True)
    return (*_mixed(old), *_mixed(new[: max(0, most_new - asked_today)]))


def _mixed(due: Sequence[Due]) -> list[Due]:
    """Keep two cards of one song apart while other songs' cards remain."""
    waiting = list(due)
    mixed: list[Due] = []
    while waiting:
        last = mixed[-1].card.song.title if mixed else ""
        often, number = Counter(one.card.song.title for one in waiting).most_common(1)[0]
        wanted = often if number > len(waiting) // 2 and often != last else None  # else its cards pile up at the end
        titles = [one.card.song.title for one in waiting]
        at = titles.index(wanted) if wanted else next((at for at, title in enumerate(titles) if title != last), 0)
        mixed.append(waiting.pop(at))
    return mixed


class Sitting(msgspec.Struct, frozen=True):
    """A sitting: the cards still to come; one answered wrong comes again at the end, once."""

    waiting: tuple[Card, ...]
    again: frozenset[str] = frozenset()
    right: int = 0
    wrong: int = 0

    @property
    def card(self) -> Card | None:
        """The current card; None at the end."""
        return self.waiting[0] if self.waiting else None

    def answered(self, grade: int) -> "Sitting":
        """Return the sitting after an answer."""
        card, *rest = self.waiting
        name = f"{folded(card.song.title)} {card.name}"
        if grade > 1:
            return msgspec.structs.replace(self, waiting=tuple(rest), right=self.right + 1)
        once_more = () if name in self.again else (card,)
        return msgspec.structs.replace(
            self, waiting=(*rest, *once_more), again=self.again | {name}, wrong=self.wrong + 1
        )
