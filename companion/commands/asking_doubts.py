"""The conversation about a list's doubts at the terminal: one question at a time, enter keeps what was read."""

import sys
from collections.abc import Callable, Hashable, Sequence
from typing import TYPE_CHECKING

import click

from companion.shown import harmless_line

if TYPE_CHECKING:
    from companion.leader.answers import LeaderAnswer
    from companion.setlist import DoubtAnswer
    from companion.setlist.list_questions import DoubtQuestion

STOP, ALL = "stop", "all"
SURE_KEYS = {"y": True, "n": False}


def doubt_asker(*, yes: bool, as_json: bool) -> "Callable[[DoubtQuestion], DoubtAnswer | None] | None":
    """Return the function that asks about a list's doubts; None if there is nobody to answer."""
    if yes or as_json or not sys.stdin.isatty():
        return None
    return _Conversation().ask


class _Conversation:
    """Remembers whether the player has agreed to the rest."""

    def __init__(self) -> None:
        self._agrees = self._has_begun = False

    def ask(self, question: "DoubtQuestion") -> "DoubtAnswer | None":
        """Ask one question until it is answered; None if the player wants to stop."""
        from companion.setlist import DoubtAnswer
        from companion.setlist.doubt_answers import answer_to, how_to_answer

        doubt = question.doubt
        as_read = doubt.answers[0] if doubt.answers else DoubtAnswer("")
        if self._agrees:
            return as_read
        if not self._has_begun:
            self._has_begun = True
            many = f"{question.left} questions" if question.left > 1 else "One question"
            click.echo(
                f"{many} about the list. Enter keeps what was read; {STOP} ends the questions; {ALL} keeps the rest."
            )
        click.echo()
        if question.text:
            click.echo(harmless_line(f"{question.where}: {question.text}"))
        if doubt.quotes:
            click.echo(harmless_line(doubt.quotes))
        while True:
            typed = click.prompt(_prompt(question), default="", show_default=False).strip()
            if typed.lower() == STOP:
                return None
            if typed.lower() == ALL:
                self._agrees = True
                return as_read
            answer = answer_to(doubt, typed, question.listed) if typed else as_read
            if answer is not None:
                return answer
            click.echo(f"{how_to_answer(doubt)}; {STOP} ends the questions")


def _prompt(question: "DoubtQuestion") -> str:
    """Return the question with the words that answer it, the one assumed in capital letters."""
    words = [answer.word for answer in question.doubt.answers]
    offered = [words[0].upper(), *words[1:]] if words else []
    if field := question.doubt.asks_for:
        offered.append(f"or the {field.replace('_', ' ')}")
    return harmless_line(f"{question.doubt.question} [{', '.join(offered)}]")


class ReplyDoubtsAsked:
    """Who decides about a reply's answers in doubt, by one key each; without a terminal every doubt stays.

    Remembers whether the player wants no more questions, and what was decided about many songs at once.
    """

    def __init__(self, *, yes: bool, as_json: bool) -> None:
        self._has_begun = False
        self._stopped = yes or as_json or not sys.stdin.isatty()
        self._groups: dict[Hashable, tuple[LeaderAnswer, ...]] = {}
        self._decided: dict[Hashable, bool | None] = {}

    def see(self, answers: "Sequence[LeaderAnswer]") -> None:
        """Look at all answers, so that one question settles those that are alike."""
        from companion.leader.alike import alike, said_alike

        doubted = [one for one in answers if one.doubt]
        self._groups = {said_alike(group[0]): group for group in alike(doubted, said_alike) if len(group) > 1}

    def is_sure(self, answer: "LeaderAnswer") -> bool | None:
        """Ask about one answer, or about all that are like it; None where its doubt stays."""
        from companion.leader.alike import for_many, said_alike

        if self._stopped:
            return None
        said = said_alike(answer)
        if said in self._decided:
            return self._decided[said]
        group = self._groups.pop(said, ())
        if not self._has_begun:
            self._has_begun = True
            click.echo(
                "Answers in doubt: y writes it, n leaves it out, Enter lets it wait for the leader, q lets all wait."
            )
        if group:
            key = self._key(
                f"{len(group)} songs: {for_many(group)} [y/n/Enter/q, 1 asks one by one] ", ("y", "n", "1", "", "q")
            )
            if key != "1":
                return self._decided.setdefault(said, SURE_KEYS.get(key))
        return SURE_KEYS.get(self._key(f"{answer} [y/n/Enter/q] ", ("y", "n", "", "q")))

    def _key(self, asked: str, keys: Sequence[str]) -> str:
        """Ask for one of these keys; q ends the questions."""
        click.echo(harmless_line(asked), nl=False)
        while True:
            key = click.getchar().strip().casefold()
            if key in keys:
                click.echo(key)
                self._stopped = key == "q"
                return key
