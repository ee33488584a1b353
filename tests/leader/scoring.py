"""Compare what a reply was read as with its facts."""

from collections.abc import Sequence
from typing import NamedTuple

from leader.reply_shape import TODAY, InventedReply

from companion.leader.answers import LeaderAnswer, LeaderAnswers, read_answers
from companion.show import Show


class ReplyScore(NamedTuple):
    """The facts that landed, are missing, or landed wrongly without a doubt; and lines that were lost."""

    landed: tuple[str, ...]
    missing: tuple[str, ...]
    wrong: tuple[str, ...]
    doubted: tuple[str, ...]  # landed wrongly, or with a needless doubt
    lost: tuple[str, ...]


def said(show: Show, answer: LeaderAnswer) -> str:
    """Return an answer as a fact of the invented replies."""
    value = (
        {True: "yes", False: "no"}.get(answer.value, answer.value) if isinstance(answer.value, bool) else answer.value
    )
    if answer.song_at is not None and answer.set_at is not None:
        number = sum(len(one.songs) for one in show.sets[: answer.set_at]) + answer.song_at + 1
        return f"{number} {answer.field} {value}"
    return f"{'show' if answer.set_at is None else show.sets[answer.set_at].name} {answer.field} {value}"


def compare(reply: InventedReply, read: LeaderAnswers) -> ReplyScore:
    """Compare a reading with the facts of a reply."""
    wanted = [fact for fact in reply.facts if not fact.startswith(("left ", "ask "))]
    plain = {fact.rstrip("?! ") for fact in wanted}
    sure = {said(reply.show, one) for one in read.found if not one.doubt}
    doubtful = {said(reply.show, one) for one in read.found if one.doubt}
    held = {f"{said(reply.show, one)} !" for one in read.contradicts}
    landed, wrong = [], []
    for fact in wanted:
        text = fact.rstrip("?! ")
        there = held if fact.endswith("!") else doubtful if fact.endswith("?") else sure | doubtful
        if (fact if fact.endswith("!") else text) in there or _in_notes(text, sure | doubtful):
            landed.append(fact)
        elif text in sure:
            wrong.append(f"{text}, without its doubt")
    wrong += [one for one in sorted(sure) if one not in plain and not _is_note(one, wanted)]
    doubted = [one for one in sorted(doubtful) if f"{one} ?" not in wanted and not _is_note(one, wanted)]
    doubted = [one for one in doubted if not _asks_of_left(one, read)]
    doubted += [one for one in sorted(held) if one not in wanted]
    return ReplyScore(
        tuple(landed),
        tuple(one for one in wanted if one not in landed),
        tuple(wrong),
        tuple(doubted),
        _lost(reply, read),
    )


def _asks_of_left(found: str, read: LeaderAnswers) -> bool:
    """Return whether a doubtful note only asks about words that are not understood."""
    _, _, words = found.partition(" notes ")
    return bool(words) and all(any(word in str(one) for one in read.left) for word in words.splitlines())


def _in_notes(fact: str, found: set[str]) -> bool:
    number, _, words = fact.partition(" notes ")
    return bool(words) and any(one.startswith(f"{number} notes ") and words.lower() in one.lower() for one in found)


def _is_note(found: str, wanted: Sequence[str]) -> bool:
    return any(" notes " in fact and _in_notes(fact.rstrip("?! "), {found}) for fact in wanted)


def _lost(reply: InventedReply, read: LeaderAnswers) -> tuple[str, ...]:
    """Return the lines that had to stay open and did not."""
    lost = []
    for fact in reply.facts:
        kind, _, words = fact.partition(" ")
        if kind == "left" and not any(words.lower() in str(one).lower() for one in (*read.left, *read.passed)):
            lost.append(fact)
        if kind == "ask":
            number, field, whom = words.split(maxsplit=2)
            asked = {
                (sum(len(s.songs) for s in reply.show.sets[: one.set_at]) + (one.song_at or 0) + 1, one.field)
                for one in read.passed
                if one.set_at is not None and whom.lower() in one.to.lower()
            }
            if (int(number), field) not in asked:
                lost.append(fact)
    return tuple(lost)


def score(reply: InventedReply) -> ReplyScore:
    """Read a reply and compare it with its facts."""
    return compare(reply, read_answers(reply.text, reply.show, today=TODAY))
