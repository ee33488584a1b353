"""Answers and offers land in the show file: only what was said changes, comments stay."""

import os
from collections.abc import Callable, Sequence

import msgspec

from companion.files import Items, Node, Source, Table, parse
from companion.files.opening import open_source
from companion.files.writing import edited, write_whole
from companion.music import read_key
from companion.prep.answers import Answer, Answers, read_answers
from companion.show import Show
from companion.show.key_change import beside_the_key
from companion.show.reading import show_in

Where = tuple[str | int, ...]


class Landed(msgspec.Struct, frozen=True):
    """What came of a reply."""

    answers: Answers
    is_written: bool


def where(text: str, path: str, answer: Answer) -> Where:
    """Give the place of an answer in the show file's text."""
    if answer.set_at is None:
        return (answer.field,)
    root = parse(Source(path, text), [])
    without_sets = isinstance(root, Table) and "songs" in root.entries
    song = () if answer.song_at is None else ("songs", answer.song_at)
    return (*(() if without_sets else ("sets", answer.set_at)), *song, answer.field)


def with_answers(text: str, path: str, answers: Sequence[Answer]) -> str:
    """Return the show file's text with the answers in it. Raises FaultyFile where it would not be a show any more."""
    changes: dict[Where, object] = {}
    for one in answers:
        at = where(text, path, one)
        changes[at] = one.value
        if one.field == "key":
            changes.update(_beside(text, path, one, at[:-1]))
    after = edited(text, changes, path)
    show_in(Source(path, after))
    return after


def _beside(text: str, path: str, answer: Answer, song_at: Where) -> dict[Where, object]:
    """Return what else changes with a song's key: what its letters are written in, and the keys of its sections."""
    song = show_in(Source(path, text)).show.sets[answer.set_at or 0].songs[answer.song_at or 0]
    table: Node = parse(Source(path, text), [])
    for step in song_at:
        table = table.entries[str(step)][1] if isinstance(table, Table) else _nodes(table)[int(step)]
    return {
        (*song_at, *within): said for within, said in beside_the_key(song, read_key(str(answer.value)), table).items()
    }


def _nodes(node: Node) -> tuple[Node, ...]:
    return tuple(node.nodes) if isinstance(node, Items) else ()


def answer_questions(
    show_path: str | os.PathLike[str],
    answers_path: str | os.PathLike[str],
    *,
    german: bool = False,
    agree: Callable[[Answers], bool] = lambda answers: True,  # noqa: ARG005  the answer is yes to anything
) -> Landed:
    """Read a reply from a file into a show file; ``agree`` is asked before anything is written."""
    source = open_source(show_path)
    show: Show = show_in(source).show
    answers = read_answers(open_source(answers_path).text, show, german=german)
    if not answers.found or not agree(answers):
        return Landed(answers, is_written=False)
    write_whole(show_path, with_answers(source.text, source.path, answers.found))
    return Landed(answers, is_written=True)
