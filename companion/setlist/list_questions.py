"""The questions about a list: what is in doubt, answered from an earlier version of the list or by the player."""

from collections.abc import Callable, Iterable

import msgspec

from companion.setlist.correcting import pointless
from companion.setlist.doubt_answers import answer_to
from companion.setlist.kept_answers import SettledDoubt
from companion.setlist.model import Doubt, DoubtAnswer, ReadAgain, SetList


class DoubtQuestion(msgspec.Struct, frozen=True):
    """One question to the player: what the list says there, what is in doubt, and how many questions are left."""

    doubt: Doubt
    where: str = ""  # the line's place; empty if the doubt is about the whole list
    text: str = ""
    left: int = 1  # this one included
    listed: SetList | None = None  # the list that the question is about; None for other questions


Ask = Callable[[DoubtQuestion], DoubtAnswer | None]
"""Asks the player. None: ask nothing more, the rest stays as read."""


def questions_of(listed: SetList) -> tuple[DoubtQuestion, ...]:
    """Return the questions about a list: first those about the whole list, then line by line."""
    about_all = [DoubtQuestion(doubt) for doubt in listed.doubts if doubt.question]
    about_lines = [
        DoubtQuestion(doubt, str(line.place), line.text)
        for line in listed.lines
        for doubt in line.doubts
        if doubt.question
    ]
    found = [*about_all, *about_lines]
    return tuple(msgspec.structs.replace(one, left=len(found) - at, listed=listed) for at, one in enumerate(found))


class ListAnswers:
    """The answers to the questions about one file, over all its readings: kept ones first, then the player's."""

    def __init__(self, kept: Iterable[SettledDoubt], ask: Ask | None) -> None:
        self._known = {one.question: one.word for one in kept}
        self._ask = ask
        self._given: dict[str, str] = {}

    @property
    def given(self) -> tuple[SettledDoubt, ...]:
        """What the player answered now."""
        return tuple(SettledDoubt(*one) for one in self._given.items())

    def kept_for(self, listed: SetList) -> tuple[SettledDoubt, ...]:
        """Return the kept answers that settle a question about this list."""
        asked = {question.doubt.question for question in questions_of(listed)}
        return tuple(SettledDoubt(*one) for one in self._known.items() if one[0] in asked and one[0] not in self._given)

    def assume(self, settled: Iterable[SettledDoubt]) -> None:
        """Take answers for given where the player gave none."""
        for one in settled:
            self._known.setdefault(one.question, one.word)

    def settle(
        self, listed: SetList, *, is_chosen: bool = False
    ) -> tuple[list[tuple[Doubt, DoubtAnswer]], ReadAgain | None]:
        """Return the doubts with their answers; or how to read the file again, if an answer wants that.

        ``is_chosen``: the player has named one of the file's lists, so which to read is not asked.
        """
        pairs: list[tuple[Doubt, DoubtAnswer]] = []
        ask = self._ask
        for question in questions_of(listed):
            doubt = question.doubt
            if doubt in pointless(listed, pairs):
                continue
            if is_chosen and _asks_which_list(doubt):
                pairs.append((doubt, doubt.answers[0]))
                continue
            word = self._known.get(doubt.question)
            answer = None if word is None else answer_to(doubt, word, listed)
            if answer is None and ask is not None:
                answer = ask(question)
                if answer is None:
                    ask = None  # the player has had enough
                elif answer.word:
                    self._given[doubt.question] = answer.word
            if answer is not None:
                again = next((one for one in answer.corrections if isinstance(one, ReadAgain)), None)
                if again is not None and _differs(again, listed):
                    self._known |= self._given
                    return [], again
                pairs.append((doubt, answer))
        return pairs, None


def _asks_which_list(doubt: Doubt) -> bool:
    """Return whether a doubt is about which of the file's lists to read."""
    return any(isinstance(one, ReadAgain) and one.chosen for answer in doubt.answers for one in answer.corrections)


def _differs(again: ReadAgain, listed: SetList) -> bool:
    """Return whether a list would be read otherwise than it was."""
    return (again.notation or listed.notation, again.chosen or listed.chosen) != (listed.notation, listed.chosen)
