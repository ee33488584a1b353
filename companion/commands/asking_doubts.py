"""The conversation about a list's doubts at the terminal: one question at a time, enter keeps what was read."""

import sys
from collections.abc import Callable
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
        from companion.setlist.doubt_answers import answer_to

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
            answer = answer_to(doubt, typed) if typed else as_read
            if answer is not None:
                return answer
            click.echo(_advice(question))


def _prompt(question: "DoubtQuestion") -> str:
    """Return the question with the words that answer it, the one assumed in capital letters."""
    words = [answer.word for answer in question.doubt.answers]
    offered = [words[0].upper(), *words[1:]] if words else []
    if field := question.doubt.asks_for:
        offered.append(f"or the {field.replace('_', ' ')}")
    return harmless_line(f"{question.doubt.question} [{', '.join(offered)}]")


def _advice(question: "DoubtQuestion") -> str:
    words = [answer.word for answer in question.doubt.answers]
    field = question.doubt.asks_for.replace("_", " ")
    return f"Write {' or '.join(words)}{f', or the {field}' if field else ''}; {STOP} ends the questions"


def reply_doubts_asked(*, yes: bool, as_json: bool) -> "Callable[[LeaderAnswer], bool | None]":
    """Return who decides about a reply's answers in doubt, by one key each; without a terminal every doubt stays."""
    if yes or as_json or not sys.stdin.isatty():
        return lambda _answer: None
    return _ReplyConversation().is_sure


class _ReplyConversation:
    """Remembers whether the player wants no more questions."""

    def __init__(self) -> None:
        self._has_begun = self._stopped = False

    def is_sure(self, answer: "LeaderAnswer") -> bool | None:
        """Ask about one answer; None where its doubt stays."""
        if self._stopped:
            return None
        if not self._has_begun:
            self._has_begun = True
            click.echo(
                "Answers in doubt: y writes it, n leaves it out, Enter lets it wait for the leader, q lets all wait."
            )
        click.echo(harmless_line(f"{answer} [y/n/Enter/q] "), nl=False)
        while True:
            key = click.getchar().strip().casefold()
            if key in ("", "q", *SURE_KEYS):
                click.echo(key)
                self._stopped = key == "q"
                return SURE_KEYS.get(key)
