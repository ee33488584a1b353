"""What is said alike of many songs: one line and one question for all of them."""

from collections.abc import Callable, Hashable, Iterator, Sequence
from typing import Final, TypeVar

import msgspec

from companion.leader.answers import LeaderAnswer
from companion.leader.reply_records import OpenQuestion

MANY: Final = 4  # songs; fewer have a line each
One = TypeVar("One")
_NAMED: Final = 2  # titles in a line about many songs


def alike(those: Sequence[One], say: Callable[[One], Hashable | None]) -> Iterator[tuple[One, ...]]:
    """Yield those that say the same together, where they are many; each other one alone, in their order.

    ``say`` returns None for one that says something of its own.
    """
    groups: dict[Hashable, list[One]] = {}
    for one in those:
        said = say(one)
        if said is not None:
            groups.setdefault(said, []).append(one)
    yielded: set[Hashable] = set()
    for one in those:
        said = say(one)
        group = groups.get(said, []) if said is not None else []
        if len(group) < MANY:
            yield (one,)
        elif said not in yielded:
            yielded.add(said)
            yield tuple(group)


def said_alike(answer: LeaderAnswer) -> Hashable | None:
    """Return what answers about songs have in common: the field, the value and why they are in doubt."""
    if answer.song_at is None or answer.before or answer.also or answer.words:
        return None
    return answer.field, answer.value, answer.doubt


def open_alike(question: OpenQuestion) -> Hashable | None:
    """Return what open questions about songs have in common: all but the song and its number."""
    one = question.record
    return (one.replied, one.field, one.words, one.value, one.to, one.now) if one.title and one.field else None


def songs_named(titles: Sequence[str]) -> str:
    """Return many songs in few words.

    >>> songs_named(["Moth", "Old Canal Road", "Postbox Tango", "Café Morgenrot"])
    'Moth, Old Canal Road and 2 more'
    """
    more = len(titles) - _NAMED
    return f"{', '.join(titles[:_NAMED])} and {more} more" if more > 0 else ", ".join(titles)


def for_many(answers: Sequence[LeaderAnswer]) -> LeaderAnswer:
    """Return one answer with the titles of many songs, to be shown for all of them."""
    return msgspec.structs.replace(answers[0], title=songs_named([one.title for one in answers]))


def open_lines(questions: Sequence[OpenQuestion]) -> Iterator[str]:
    """Yield a line for each open question, and one for many that are alike: 1-3, 5. Moth and 3 more, key: ..."""
    for group in alike(questions, open_alike):
        if len(group) == 1:
            yield str(group[0])
            continue
        first = group[0]
        titles = songs_named([one.record.title for one in group])
        said = str(first).partition(". ")[2].removeprefix(first.record.title)
        yield f"{_ranges([one.number for one in group])}. {titles}{said}"


def _ranges(numbers: Sequence[int]) -> str:
    """Return numbers with those in a row as a range.

    >>> _ranges([1, 2, 3, 5, 8, 9])
    '1-3, 5, 8-9'
    """
    parts: list[tuple[int, int]] = []
    for one in sorted(numbers):
        if parts and one == parts[-1][1] + 1:
            parts[-1] = (parts[-1][0], one)
        else:
            parts.append((one, one))
    return ", ".join(f"{first}-{last}" if last > first else f"{first}" for first, last in parts)
