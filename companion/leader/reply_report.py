"""What a reply was understood as: lines for the terminal, and plain data for --json."""

from collections.abc import Iterator
from typing import Final

import msgspec

from companion.leader.alike import alike, for_many, said_alike, songs_named
from companion.leader.answer_words import difference_words
from companion.leader.answers import LeaderAnswer, LeaderAnswers
from companion.leader.asked_words import is_asked
from companion.leader.landing_answers import AnswersApplied
from companion.leader.reply_records import NOT_YOU

NOT_YOURS: Final = "the keys do not start"


def reply_report(answers: LeaderAnswers) -> Iterator[str]:
    """Yield what lands, what contradicts the show, what somebody else knows, and what was not understood."""
    for group in alike(answers.found, said_alike):
        one = group[0] if len(group) == 1 else for_many(group)
        yield str(one)
    for one in answers.contradicts:
        yield f"{one.title}: {difference_words(one.field, one.before, one.value)}"
    for pieces in alike(answers.passed, lambda one: (one.words, one.field, one.to)):
        titles = songs_named([one.title for one in pieces])
        said = str(msgspec.structs.replace(pieces[0], title=titles))
        to = pieces[0].to
        yield (
            f"for you to decide: {said}" if to == "you" else f"passed on: {said} ({NOT_YOURS if to == NOT_YOU else to})"
        )
    left = [one for one in answers.left if not is_asked(one, answers.found)]
    for said in dict.fromkeys(map(str, left)):
        yield f"not understood: {said}"


def plain(applied: AnswersApplied) -> dict[str, object]:
    """Return the result as plain data: what landed for each song, doubts, contradictions, what is open."""
    answers = applied.answers
    return {
        "answers": {
            "found": answers.found,
            "doubts": [_doubt(one) for one in (*applied.held, *answers.found) if one.doubt],
            "contradicts": answers.contradicts,
            "passed": answers.passed,
            "left": [str(one) for one in answers.left],
            "not_understood": answers.left,
            "confirms": answers.confirms,
        },
        "open": [{**msgspec.to_builtins(one.record), "says": str(one), "number": one.number} for one in applied.open],
        "dropped_to": applied.dropped_to,
        "is_written": applied.is_written,
        "kept_other_changes": applied.kept_other_changes,
    }


def _doubt(answer: LeaderAnswer) -> dict[str, object]:
    return {
        "title": answer.title,
        "field": answer.field,
        "value": answer.value,
        "doubt": answer.doubt,
        "line": answer.line,
    }
