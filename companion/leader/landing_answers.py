"""Write answers and offers into the show file: only the lines that they are about change."""

import datetime as dt
import os
from collections.abc import Callable, Sequence
from typing import Final

import msgspec

from companion.edits import Appended, Edit, EditClash, FileText, SetNamed, SetValue, names_in, open_text, save
from companion.errors import Fault, FaultyFile
from companion.files import Items, Node, SourceFile, Table, parse
from companion.files.text_file import open_source
from companion.leader.answers import LeaderAnswer, LeaderAnswers, read_answers
from companion.music import read_key
from companion.setlist.notation import Notation
from companion.show import Show
from companion.show.key_change import beside_the_key
from companion.show.show_file import show_in

MAX_REPLY: Final = 64 * 1024  # characters; seventy songs with a sentence each need 5,000
MAX_LINE: Final = 1_000
NUMBERS: Final = ("tempo", "minutes", "known")


class AnswersApplied(msgspec.Struct, frozen=True):
    """The result of reading a reply."""

    answers: LeaderAnswers
    is_written: bool
    kept_other_changes: bool = False  # changes that another program saved meanwhile


def edits_of(file: FileText, answers: Sequence[LeaderAnswer]) -> tuple[Edit, ...]:
    """Return the edits that write answers into a show file."""
    source = SourceFile(str(file.path), file.text or "")
    show, root, names = show_in(source).show, parse(source, []), names_in(source.text, source.path)
    edits: list[Edit] = []
    for one in answers:
        if one.set_at is None:
            edits.append(SetValue((one.field,), _typed(one)))
        elif one.song_at is None:
            edits.append(SetValue((_set_named(show, one.set_at), one.field), _typed(one)))
        else:
            name = names[one.set_at][one.song_at]
            edits.append(SetValue((name, one.field), _typed(one)))
            if one.field == "key":
                song = show.sets[one.set_at].songs[one.song_at]
                beside = beside_the_key(song, read_key(str(one.value)), _song_node(root, one.set_at, one.song_at))
                edits += [SetValue((name, *within), said, beside=(name, one.field)) for within, said in beside.items()]
    return tuple(edits)


def _typed(answer: LeaderAnswer) -> object:
    """Return the value as a number or a date where it is one, so that it is written without quotes."""
    said = answer.value
    if answer.field == "date":
        return dt.date.fromisoformat(str(said))
    if answer.field in NUMBERS and isinstance(said, str):
        number = float(said)
        return int(number) if number.is_integer() else number
    return said


def _set_named(show: Show, at: int) -> SetNamed:
    name = show.sets[at].name
    return SetNamed(name, [one.name for one in show.sets[: at + 1]].count(name))


def _song_node(root: Node, set_at: int, song_at: int) -> Node:
    """Return the node of a song. Counts like the reader: empty entries are skipped."""
    holders: Sequence[Node] = (root,)
    if isinstance(root, Table) and "sets" in root.entries:
        holders = _filled(root.entries["sets"][1])
    holder = holders[set_at]
    return _filled(holder.entries["songs"][1] if isinstance(holder, Table) else holder)[song_at]


def _filled(node: Node) -> list[Node]:
    nodes = node.nodes if isinstance(node, Items) else ()
    return [one for one in nodes if isinstance(one, Items | Table) or not one.is_empty]


def land(
    file: FileText,
    answers: Sequence[LeaderAnswer],
    says: str,
    *,
    ask: Callable[[EditClash], bool] | None = None,
    appends: Sequence[Appended] = (),
) -> bool:
    """Write answers into a show file; return whether another program's change was kept too. Raises CompanionError."""
    path = str(file.path)
    saved = save(
        file,
        edits_of(file, answers),
        says,
        check=lambda text: show_in(SourceFile(path, text)),
        ask=ask,
        appends=appends,
    )
    return saved.kept_other_changes


def reply_in(path: str | os.PathLike[str]) -> str:
    """Return the text of a reply, checked before it is parsed. Raises FaultyFile where it is too long."""
    text = open_source(path).text
    where = os.fspath(path)
    if len(text) > MAX_REPLY:
        raise FaultyFile((Fault(where, 0, 0, f"{len(text):,} characters; a reply has a thousand", "the reply alone"),))
    for number, line in enumerate(text.splitlines(), start=1):
        if len(line) > MAX_LINE:
            problem = f"{len(line):,} characters in one line; at most {MAX_LINE:,} are read"
            raise FaultyFile((Fault(where, number, MAX_LINE + 1, problem, "a line for each answer"),))
    return text


def answer_questions(
    show_path: str | os.PathLike[str],
    answers_path: str | os.PathLike[str],
    *,
    notation: Notation = Notation.LETTERS,
    agree: Callable[[LeaderAnswers], bool] = lambda answers: True,  # noqa: ARG005  always yes
    ask: Callable[[EditClash], bool] | None = None,
) -> AnswersApplied:
    """Read a reply from a file into a show file; ``agree`` is called before anything is written.

    ``ask`` decides where the same value was changed in the file meanwhile; without it nothing is written then.
    """
    file = open_text(show_path)
    show: Show = show_in(SourceFile(str(show_path), file.text or "")).show
    answers = read_answers(reply_in(answers_path), show, notation=notation)
    if not answers.found or not agree(answers):
        return AnswersApplied(answers, is_written=False)
    kept = land(file, answers.found, "answers", ask=ask)
    return AnswersApplied(answers, is_written=True, kept_other_changes=kept)
