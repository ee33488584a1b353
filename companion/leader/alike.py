"""What is said alike of many songs: one line and one question for all of them."""

from collections.abc import Callable, Hashable, Iterator, Sequence
from typing import Final, NamedTuple, TypeVar

import msgspec

from companion.leader.answers import LeaderAnswer
from companion.leader.reply_records import OpenQuestion, Replied

MANY: Final = 4  # songs; fewer have a line each
AT_ONCE: Final = 8  # answers of one question; more are hard to check at a glance
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


class WhyInDoubt(NamedTuple):
    """What an answer in doubt is about, the line that says it, and why it is in doubt."""

    about: Hashable
    line: str
    doubt: str


def asked_together(
    those: Sequence[One], say: Callable[[One], Hashable | None], why: Callable[[One], WhyInDoubt | None]
) -> Iterator[tuple[One, ...]]:
    """Yield the answers that one question settles: many alike, those of a line with the same doubt, those of a song.

    Answers about one song belong together if one line says them, or if the same words doubt them. ``say`` is as for
    ``alike``; ``why`` returns None for an answer that is asked alone.
    """
    groups = list(alike(those, say))
    singles = [group[0] for group in groups if len(group) == 1]
    joined = dict(_joined(singles, why))
    yielded: set[int] = set()
    for group in groups:
        at = next((at for at, one in enumerate(singles) if one is group[0]), -1) if len(group) == 1 else -1
        if at < 0:
            yield group
        elif at not in yielded:
            yielded.update(joined[at])
            yield tuple(singles[one] for one in joined[at])


def _joined(those: Sequence[One], why: Callable[[One], WhyInDoubt | None]) -> Iterator[tuple[int, list[int]]]:
    """Yield the place of each answer with the places of all that are asked with it, by songs if those are too many."""
    reasons = [why(one) for one in those]
    by_song = _linked([_of_song(one) for one in reasons])
    by_line = _linked([[*_of_song(one), *([(one.line, one.doubt)] if one and one.line else [])] for one in reasons])
    for at in range(len(those)):
        together = [one for one, root in enumerate(by_line) if root == by_line[at]]
        if len(together) > AT_ONCE:
            together = [one for one, root in enumerate(by_song) if root == by_song[at]]
        yield at, together


def _of_song(one: WhyInDoubt | None) -> list[Hashable]:
    if one is None:
        return []
    of_line = [(one.about, "in", one.line)] if one.line else []
    return [*of_line, *((one.about, "by", why) for why in one.doubt.split("; "))]


def _linked(marks: Sequence[Sequence[Hashable]]) -> list[int]:
    """Return for each item the first item that it is linked with: those that share a mark are linked."""
    first = list(range(len(marks)))
    seen: dict[Hashable, int] = {}
    for at, some in enumerate(marks):
        for mark in some:
            one, other = first[at], first[seen.setdefault(mark, at)]
            first = [min(one, other) if each in (one, other) else each for each in first]
    return first


def why_in_doubt(answer: LeaderAnswer) -> WhyInDoubt | None:
    """Return why an answer is in doubt; None if it is not."""
    return WhyInDoubt((answer.set_at, answer.song_at), answer.line, answer.doubt) if answer.doubt else None


def why_open(question: OpenQuestion) -> WhyInDoubt | None:
    """Return why an answer that waits is in doubt; None for other open questions."""
    one = question.record
    return WhyInDoubt((one.title, one.of_set), one.line, one.words) if one.replied is Replied.DOUBT else None


def in_one_line(answers: Sequence[tuple[str, str]]) -> str:
    """Return what several answers say, each as its title and its words, in one line.

    >>> in_one_line([("Moth", "key F"), ("Moth", "ending cold"), ("Weeds", "key G")])
    'Moth: key F, ending cold; Weeds: key G'
    """
    said: dict[str, list[str]] = {}
    for title, words in answers:
        said.setdefault(title, []).append(words)
    return "; ".join(f"{title}: {', '.join(words)}" if title else ", ".join(words) for title, words in said.items())


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
