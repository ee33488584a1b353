"""The conversation about a list's doubts at the terminal: one question at a time, enter keeps what was read."""

import sys
from collections.abc import Callable, Sequence
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

    Remembers whether the player wants no more questions, and what was decided about several answers at once.
    """

    def __init__(self, *, yes: bool, as_json: bool) -> None:
        self._has_begun = False
        self._stopped = yes or as_json or not sys.stdin.isatty()
        self._groups: tuple[tuple[LeaderAnswer, ...], ...] = ()
        self._decided: dict[LeaderAnswer, bool | None] = {}

    def see(self, answers: "Sequence[LeaderAnswer]") -> None:
        """Look at all answers, so that one question settles those that belong together."""
        from companion.leader.alike import asked_together, said_alike, why_in_doubt

        doubted = [one for one in answers if one.doubt]
        self._groups = tuple(group for group in asked_together(doubted, said_alike, why_in_doubt) if len(group) > 1)

    def is_sure(self, answer: "LeaderAnswer") -> bool | None:
        """Ask about one answer, or about all that belong together; None where its doubt stays."""
        if answer in self._decided:
            return self._decided[answer]
        if self._stopped:
            return None
        group = next((one for one in self._groups if answer in one), ())
        self._groups = tuple(one for one in self._groups if one is not group)
        if not self._has_begun:
            self._has_begun = True
            click.echo(
                "Answers in doubt: y writes it, n leaves it out, Enter lets it wait for the leader, q lets all wait."
            )
        if group:
            key = self._key(f"{_of_all(group)} [y/n/Enter/q, 1 asks one by one] ", ("y", "n", "1", "", "q"))
            if key != "1":
                self._decided.update(dict.fromkeys(group, SURE_KEYS.get(key)))
                return self._decided[answer]
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


def _of_all(group: "Sequence[LeaderAnswer]") -> str:
    """Return what several answers say, and why they are in doubt, each reason once."""
    import msgspec

    from companion.leader.alike import for_many, in_one_line, said_alike

    if said_alike(group[0]) is not None and len({said_alike(one) for one in group}) == 1:
        return f"{len(group)} songs: {for_many(group)}"
    reasons = "; ".join(dict.fromkeys(why for one in group for why in one.doubt.split("; ")))
    sure = [msgspec.structs.replace(one, doubt="") for one in group]
    said = in_one_line([(one.title, str(one).removeprefix(f"{one.title}: ")) for one in sure])
    return f"{len(group)} answers: {said} (not sure: {reasons})"
