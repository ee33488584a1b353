"""Write answers and offers into the show file: only the lines that they are about change."""

import datetime as dt
import os
from collections.abc import Callable, Container, Sequence
from pathlib import Path
from typing import Final

import msgspec

from companion.edits import (
    Appended,
    ArrangedSet,
    CannotArrange,
    Edit,
    EditClash,
    FileText,
    NewText,
    Remove,
    SetNamed,
    SetValue,
    applied,
    arranged,
    commit,
    names_in,
    no_file,
    open_text,
    save,
)
from companion.edits.key_edits import edits_beside_key
from companion.edits.song_values import song_lines
from companion.errors import CompanionError, Fault, FaultyFile
from companion.files import Items, Node, SourceFile, Table, parse
from companion.files.text_file import open_source
from companion.leader.answers import LeaderAnswer, LeaderAnswers, OpenPiece, read_answers
from companion.leader.asked_words import is_asked, is_noted
from companion.leader.claimed import ASKED_FIRST
from companion.leader.reply_records import (
    OpenQuestion,
    Replied,
    ReplyRecord,
    now_said,
    read_replies,
    replies_path,
    reply_lines,
)
from companion.leader.show_says import note_of
from companion.leader.turns_of_phrase import question_named
from companion.music import read_key
from companion.setlist import Notation
from companion.setlist.revising.dropped_songs import shelf_path, songs_on, with_songs
from companion.show import Show
from companion.show.show_file import show_in

MAX_REPLY: Final = 32 * 1024  # characters; seventy songs with a sentence each need 5,000
MAX_LINE: Final = 1_000
NUMBERS: Final = ("tempo", "minutes", "known")
DROPPED: Final = "dropped"


class AnswersApplied(msgspec.Struct, frozen=True):
    """The result of reading a reply. ``open``: the questions that stay open, those of earlier replies too."""

    answers: LeaderAnswers
    is_written: bool
    kept_other_changes: bool = False  # changes that another program saved meanwhile
    open: tuple[OpenQuestion, ...] = ()
    dropped_to: str | None = None  # the songbook that holds the songs that are not played
    held: tuple[LeaderAnswer, ...] = ()  # in doubt, and not written: open until the player decides


def edits_of(file: FileText, answers: Sequence[LeaderAnswer]) -> tuple[Edit, ...]:
    """Return the edits that write answers into a show file."""
    source = SourceFile(str(file.path), file.text or "")
    show, root, names = show_in(source).show, parse(source, []), names_in(source.text, source.path)
    edits: list[Edit] = []
    noted: dict[tuple[int, int], list[str]] = {}
    for one in answers:
        if one.field == DROPPED:
            continue
        if one.set_at is None:
            edits.append(SetValue((one.field,), _typed(one)))
        elif one.song_at is None:
            edits.append(SetValue((_set_named(show, one.set_at), one.field), _typed(one)))
        elif (line := _note(one)) is not None:
            noted.setdefault((one.set_at, one.song_at), []).append(line)
        else:
            name = names[one.set_at][one.song_at]
            edits.append(SetValue((name, one.field), _typed(one)))
            if one.field == "key":
                song = show.sets[one.set_at].songs[one.song_at]
                node = _song_node(root, one.set_at, one.song_at)
                edits += edits_beside_key(name, song, msgspec.structs.replace(song, key=read_key(str(one.value))), node)
    for (set_at, song_at), lines in noted.items():
        where = (names[set_at][song_at], "notes")
        beside_key = next((one for one in edits if isinstance(one, SetValue) and one.where == where), None)
        old = beside_key.value if beside_key else show.sets[set_at].songs[song_at].notes
        edits = [one for one in edits if one is not beside_key]
        edits.append(SetValue(where, "\n".join([*([str(old)] if old else []), *lines])))
    return tuple(edits)


def _note(answer: LeaderAnswer) -> str | None:
    """Return the line for the song's notes if an answer has no key of its own."""
    if answer.field == "notes":
        return str(answer.value)
    return note_of(answer.field, str(answer.value))


def _typed(answer: LeaderAnswer) -> object:
    """Return the value as a number or a date if it is one, so that it is written without quotes."""
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
    folder: Path | None = None,
) -> bool:
    """Write answers into a show file; return whether another program's change was kept too. Raises CompanionError.

    A dropped song moves to the songbook of dropped songs. ``folder`` holds the undo lists; default: the user's.
    """
    path = str(file.path)
    edits = edits_of(file, answers)
    if any(one.field == DROPPED for one in answers):
        _land_with_drops(file, edits, answers, says, appends, folder)
        return False
    saved = save(
        file,
        edits,
        says,
        check=lambda text: show_in(SourceFile(path, text)),
        ask=ask,
        folder=folder,
        appends=appends,
    )
    return saved.kept_other_changes


def _land_with_drops(
    file: FileText,
    edits: Sequence[Edit],
    answers: Sequence[LeaderAnswer],
    says: str,
    appends: Sequence[Appended],
    folder: Path | None,
) -> None:
    """Write answers, and move dropped songs with their work to the songbook beside the show, in one step."""
    path = str(file.path)
    text = applied(file.text or "", edits, path)
    show, names = show_in(SourceFile(path, text)).show, names_in(text, path)
    gone = {(one.set_at, one.song_at) for one in answers if one.field == DROPPED}
    named = {names[at][index]: show.sets[at].songs[index] for at, index in gone if at is not None and index is not None}
    kept = tuple(
        ArrangedSet(_set_named(show, at), tuple(name for name in songs if name not in named), show.sets[at].name)
        for at, songs in enumerate(names)
    )
    try:
        moved = arranged(text, kept, path)
        after = moved.text
        blocks = [(named[name].title, list(lines)) for name, lines in moved.dropped]
    except CannotArrange:  # songs in braces have no lines of their own
        after = applied(text, [Remove((name,)) for name in named], path)
        blocks = [(song.title, song_lines(song)) for song in named.values()]
    show_in(SourceFile(path, after))
    shelf = shelf_path(file.path)
    held = open_text(shelf) if shelf.exists() else no_file(shelf)
    shelved = with_songs(held.text or "", str(shelf), blocks)
    missing = {song.title for song in named.values()} - {song.title for song in songs_on(shelved, file.path)}
    if missing:
        raise CompanionError(f"{shelf} cannot hold {', '.join(sorted(missing))}; nothing was changed")
    commit([NewText(held, shelved, file.path), NewText(file, after)], says, folder=folder, appends=appends)


def reply_in(path: str | os.PathLike[str]) -> str:
    """Return the text of a reply, checked before it is parsed. Raises FaultyFile if it is too long."""
    text = open_source(path).text
    where = os.fspath(path)
    if len(text) > MAX_REPLY:
        raise FaultyFile((Fault(where, 0, 0, f"{len(text):,} characters; a reply has a thousand", "the reply alone"),))
    for number, line in enumerate(text.splitlines(), start=1):
        if len(line) > MAX_LINE:
            problem = f"{len(line):,} characters in one line; at most {MAX_LINE:,} are read"
            raise FaultyFile((Fault(where, number, MAX_LINE + 1, problem, "a line for each answer"),))
    return text


def answer_questions(  # noqa: PLR0913 - what the player decides, named
    show_path: str | os.PathLike[str],
    answers_path: str | os.PathLike[str],
    at: dt.datetime,
    *,
    notation: Notation = Notation.LETTERS,
    agree: Callable[[LeaderAnswers], bool] = lambda answers: True,  # noqa: ARG005  always yes
    settle: Callable[[LeaderAnswer], bool | None] = lambda answer: None,  # noqa: ARG005  nobody is there to decide
    ask: Callable[[EditClash], bool] | None = None,
    read: Callable[..., LeaderAnswers] = read_answers,
) -> AnswersApplied:
    """Read a reply from a file into a show file; ``agree`` is called before anything is written.

    ``settle`` decides about each answer that contradicts the show: True writes the leader's, False keeps the show's,
    and with None the question stays open, and the next message asks it. It decides about each answer in doubt, too:
    True writes it, False leaves its words open, None keeps it with its value until the player decides, or the leader
    says yes. ``ask`` decides where the same value was changed in the file meanwhile; without it nothing is written
    then. ``at``: the player's local time. ``read`` reads the reply's text, as ``read_answers`` does.
    """
    file = open_text(show_path)
    show: Show = show_in(SourceFile(str(show_path), file.text or "")).show
    records = read_replies(show_path)
    was_open = records.open_questions(show)
    answers = read(
        reply_in(answers_path),
        show,
        notation=notation,
        today=at.date(),
        numbers=records.numbers(show),
        asked=asked_places(show, was_open),
        at_once=records.at_once,
    )
    answers = _with_confirmed(answers, show, was_open, at)
    if answers.says_nothing or not agree(answers):
        return AnswersApplied(answers, is_written=False, open=was_open)
    answers, held = _decided(answers, settle)
    decisions = [(one, settle(one)) for one in answers.contradicts]
    settled = [one for one, is_leaders in decisions if is_leaders]
    found = sorted([*answers.found, *settled], key=lambda one: (one.set_at is None, one.set_at or 0, one.song_at or 0))
    answers = msgspec.structs.replace(
        answers, found=tuple(found), contradicts=tuple(one for one, right in decisions if right is None)
    )
    refused = [one for one, is_leaders in decisions if is_leaders is False]
    new = records_of(answers, show, was_open, at, held, refused)
    appends = [Appended(str(replies_path(show_path)), reply_lines(new))] if new else []
    kept = land(file, answers.found, "answers", ask=ask, appends=appends)
    after = show_in(open_source(show_path)).show
    dropped = any(one.field == DROPPED for one in answers.found)
    return AnswersApplied(
        answers,
        is_written=bool(answers.found),
        kept_other_changes=kept,
        open=read_replies(show_path).open_questions(after),
        dropped_to=str(shelf_path(show_path)) if dropped else None,
        held=held,
    )


def _held_apart(answers: LeaderAnswers, held: Sequence[LeaderAnswer]) -> LeaderAnswers:
    """Return the answers without those held, and without the words that these ask about, or that a note has now."""
    found = tuple(one for one in answers.found if one not in held)
    left = tuple(one for one in answers.left if not (is_asked(one, held) or is_noted(one, found)))
    return msgspec.structs.replace(answers, found=found, left=left)


def _decided(
    answers: LeaderAnswers, settle: Callable[[LeaderAnswer], bool | None]
) -> tuple[LeaderAnswers, tuple[LeaderAnswer, ...]]:
    """Return the answers as the player decides about those in doubt, and those that stay in doubt."""
    found: list[LeaderAnswer] = []
    held: list[LeaderAnswer] = []
    left = list(answers.left)
    for one in answers.found:
        right = settle(one) if one.doubt else True
        if right is None:
            held.append(one)
        elif right:
            found.append(msgspec.structs.replace(one, doubt=""))
        else:
            title = one.title if one.song_at is not None else ""
            left.append(OpenPiece(one.words or one.doubt, title, one.field, "", one.set_at, one.song_at))
    answers = msgspec.structs.replace(answers, found=(*found, *held), left=tuple(dict.fromkeys(left)))
    return _held_apart(answers, held), tuple(held)


def _with_confirmed(
    answers: LeaderAnswers, show: Show, was_open: Sequence[OpenQuestion], at: dt.datetime
) -> LeaderAnswers:
    """Return the answers with each value that was in doubt and is not in the show, and to which the leader says yes."""
    doubts = {_subject(one.record): one.record for one in was_open if one.record.replied is Replied.DOUBT}
    found, confirms = list(answers.found), list(answers.confirms)
    for one in answers.confirms:
        about = _record(show, one, ReplyRecord(at, Replied.READ))
        doubt = doubts.get(_subject(about))
        if doubt is not None and doubt.value != about.now:
            value: str | bool = {"True": True, "False": False}.get(doubt.value, doubt.value)
            found.append(LeaderAnswer(one.field, value, one.set_at, one.song_at, about.title or about.of_set))
            confirms.remove(one)
    return msgspec.structs.replace(answers, found=tuple(found), confirms=tuple(confirms))


def records_of(
    answers: LeaderAnswers,
    show: Show,
    was_open: Sequence[OpenQuestion],
    at: dt.datetime,
    held: Sequence[LeaderAnswer] = (),
    refused: Sequence[LeaderAnswer] = (),
) -> tuple[ReplyRecord, ...]:
    """Return the records of what a reply leaves open, and of the open questions that it settles.

    ``held``: answers in doubt that are not written. ``refused``: those that contradict the show, which stays as it is.
    """
    landed = {(one.set_at, one.song_at, one.field) for one in answers.found}
    kept = [
        _record(show, one, ReplyRecord(at, replied, words=one.words, to=one.to))
        for replied, those in (
            (Replied.LEFT, [_of_its_question(one, landed) for one in answers.left]),
            (Replied.PASSED, answers.passed),
        )
        for one in those
    ]
    for one in held:
        doubted = ReplyRecord(at, Replied.DOUBT, words=one.doubt, value=str(one.value), line=one.quoted)
        kept.append(_record(show, one, doubted))
    for one in answers.contradicts:
        other = ReplyRecord(
            at, Replied.CONTRADICTS, words=one.doubt or one.words, value=str(one.value), line=one.quoted
        )
        kept.append(msgspec.structs.replace(_record(show, one, other), now=one.before))
    now = (*answers.found, *held, *refused)
    said_again: tuple[LeaderAnswer | OpenPiece, ...] = (*now, *answers.passed, *answers.confirms)
    again = {_subject(_record(show, one, ReplyRecord(at, Replied.READ))) for one in said_again}
    again -= {("", "", one.field) for one in answers.passed}  # no song: nothing that was open before
    done = [one for one in was_open if _subject(one.record) in again]
    known = {_without_time(one.record) for one in was_open if one not in done}
    return (
        ReplyRecord(at, Replied.READ),
        *(ReplyRecord(at, Replied.DONE, number=one.number) for one in done),
        *(one for one in kept if _without_time(one) not in known),
    )


def _of_its_question(left: OpenPiece, landed: Container[tuple[int | None, int | None, str]]) -> OpenPiece:
    """Return words about a song with the question that they name, so that its answer settles them too."""
    field = question_named(left.words) if left.song_at is not None and not left.field else ""
    is_open = field in ASKED_FIRST and (left.set_at, left.song_at, field) not in landed
    return msgspec.structs.replace(left, field=field) if is_open else left


def _record(show: Show, one: LeaderAnswer | OpenPiece, record: ReplyRecord) -> ReplyRecord:
    """Return a record with what it is about, and with what the show says now."""
    title = one.title if one.song_at is not None else ""
    of_set = show.sets[one.set_at].name if one.set_at is not None and one.song_at is None else ""
    now = now_said(show, title, one.field, of_set)
    return msgspec.structs.replace(record, title=title, of_set=of_set, field=one.field, now=now)


def _subject(record: ReplyRecord) -> tuple[str, str, str]:
    return record.title, record.of_set, record.field


def _without_time(record: ReplyRecord) -> tuple[object, ...]:
    return record.replied, *_subject(record), record.words, record.value


def asked_places(show: Show, questions: Sequence[OpenQuestion]) -> frozenset[tuple[int, str]]:
    """Return the songs (places in the show, from 0) and fields that the message asks about again."""
    titles = [song.title for one in show.sets for song in one.songs]
    return frozenset(
        (titles.index(one.record.title), one.record.field)
        for one in questions
        if one.record.replied in (Replied.DOUBT, Replied.CONTRADICTS) and one.record.title in titles
    )
