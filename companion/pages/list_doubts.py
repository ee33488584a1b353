"""What was in doubt about the list that a show was made from: each question stays at its song until it is answered.

An answer changes the show at once, and only what follows from it: what the player changed since stays.
"""

import threading
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Final

import msgspec

from companion.edits.undo_list import read_undo_list
from companion.errors import UNREADABLE, CompanionError
from companion.files.folders import data_path
from companion.pages.desk import ShowDesk, SongOnDesk, Stack
from companion.pages.visitor import closed_folder, doubts_path, keep
from companion.regular import read_regular
from companion.setlist import Doubt, DoubtAnswer, RevisionChoice, SetList, read_list
from companion.setlist.accepting import import_settled
from companion.setlist.correcting import corrected, pointless
from companion.setlist.doubt_answers import WHERE_NEXT, answer_to
from companion.setlist.kept_answers import SettledDoubt
from companion.setlist.known_songs import known_songs, songs_by_title
from companion.setlist.list_questions import DoubtQuestion, questions_of
from companion.setlist.model import ReadAgain
from companion.setlist.near_songs import with_near_songs
from companion.setlist.proposal import proposed
from companion.setlist.settling import SettledList

_SAYS: Final = "your "  # as in: Undo: your yes to
MAX_KEPT_BYTES: Final = 32 * 1024 * 1024  # a list of 8 MiB in base64, and how it was read


class KeptDoubts(msgspec.Struct, frozen=True):
    """A list with its bytes and how it was read, and the answers so far, by their questions.

    ``as_read``: those of them that changed nothing, each with the version of the show at that time.
    """

    name: str
    raw: bytes
    listed: SetList
    answers: dict[str, str] = {}
    as_read: dict[str, str] = {}


class SongDoubt(msgspec.Struct, frozen=True):
    """An open question, and the song that it is about; None if that is not in the show, or it is about the list."""

    question: DoubtQuestion
    song: SongOnDesk | None = None


class ListDoubts:
    """The open doubts of one show's list. Any thread may call it."""

    def __init__(self, folder: Path, desk: ShowDesk) -> None:
        self._folder = folder
        self._desk = desk
        self._path = doubts_path(folder, desk.path)
        self._alone = threading.RLock()
        self._kept = self._read()
        self._seen = ""  # the version of the show that was looked at last

    def _read(self) -> KeptDoubts | None:
        try:
            return msgspec.json.decode(read_regular(self._path, MAX_KEPT_BYTES), type=KeptDoubts)
        except (OSError, *UNREADABLE, msgspec.MsgspecError):
            return None

    def begin(self, name: str, raw: bytes, listed: SetList) -> int:
        """Keep the doubts about the list that the show was just made from; return how many there are.

        Raises CompanionError or OSError.
        """
        with self._alone:
            self._keep(KeptDoubts(name, raw, listed))
            return len(self._open())

    def forget(self) -> None:
        """Keep no doubts any more: the rest stays as read."""
        with self._alone:
            self._kept = None
            self._path.unlink(missing_ok=True)

    @property
    def listed(self) -> SetList | None:
        """The list as it was read; None without doubts."""
        return self._kept.listed if self._kept else None

    def of(self, stack: Stack) -> tuple[SongDoubt, ...]:
        """Return the open questions, in the list's order, each with its song as it is in the show now."""
        with self._alone:
            self.heed_undo(stack)
            return tuple(SongDoubt(one, self._song(one.doubt, stack)) for one in self._open())

    def heed_undo(self, stack: Stack) -> bool:
        """Ask the questions again whose answers were undone elsewhere, as by ``companion undo``; return whether any."""
        with self._alone:
            given = self._kept.answers if self._kept and stack.version != self._seen else {}
            self._seen = stack.version
            if not given:
                return False
            known = read_undo_list(self._desk.path, self._desk.folder or data_path())
            undone = [
                one for one in (_says(word, question) for question, word in given.items()) if known.is_undone(one)
            ]
            for says in undone:
                self.ask_again(says)
            return bool(undone)

    def _song(self, doubt: Doubt, stack: Stack) -> SongOnDesk | None:
        """Return the song of a doubt: the same one of those with its title."""
        if self._kept is None or doubt.song is None:
            return None
        titles = [song.title for one in self._kept.listed.show.sets for song in one.songs][: doubt.song]
        if len(titles) < doubt.song:
            return None
        same = [one for one in stack.songs if one.song.title == titles[-1]]
        before = titles.count(titles[-1])
        return same[before - 1] if before <= len(same) else None

    def _open(self) -> list[DoubtQuestion]:
        kept = self._kept
        if kept is None:
            return []
        settled = pointless(kept.listed, _answered(kept.listed, kept.answers))
        asked = [one for one in questions_of(kept.listed) if one.doubt not in settled]
        return [one for one in asked if one.doubt.question not in kept.answers]

    def _keep(self, kept: KeptDoubts) -> None:
        """Keep the doubts, settled ones too: undo brings their questions back."""
        self._kept = kept
        if not questions_of(kept.listed) and not kept.answers:
            self.forget()
            return
        closed_folder(self._folder)
        keep(self._path, kept)

    def answer(self, question: str, word: str) -> str | None:
        """Answer a question, and change the show so; return a notice, or None if this is no answer to it.

        Raises CompanionError or FaultyFile.
        """
        with self._alone:
            kept, found = self._kept, next((one for one in self._open() if one.doubt.question == question), None)
            if kept is None or found is None:
                raise CompanionError("this is no longer in doubt")
            answer = answer_to(found.doubt, word.strip(), kept.listed)
            if answer is None:
                return None
            before = _settled(kept.listed, kept.answers)
            kept = self._read_again(kept, answer)
            kept = msgspec.structs.replace(kept, answers={**kept.answers, question: answer.word})
            is_changed = self._write(before, kept, SettledDoubt(question, answer.word))
            if not is_changed:
                version = self._desk.look().version
                kept = msgspec.structs.replace(kept, as_read={**kept.as_read, question: version})
            self._keep(kept)
            left = len(self._open())
            rest = f"{left} more in doubt" if left else "nothing is in doubt any more"
            return f"{'Changed' if is_changed else 'Left as read'}; {rest}"

    def why_refused(self, question: str) -> str:
        """Return what to say where a word was no answer to this question."""
        with self._alone:
            found = next((one.doubt for one in self._open() if one.doubt.question == question), None)
            return WHERE_NEXT.get(found.asks_for if found else "", "this does not answer the question")

    def left_as_read(self, stack: Stack) -> str | None:
        """Return the name of the newest answer, if it changed nothing and nothing was changed since."""
        with self._alone:
            kept = self._kept
            question, version = next(reversed(kept.as_read.items()), ("", "")) if kept else ("", "")
            is_newest = kept is not None and version == stack.version
            return _says(kept.answers[question], question) if kept and is_newest else None

    def ask_again(self, says: str) -> bool:
        """Ask the question again whose answer was undone; return whether this step was an answer."""
        with self._alone:
            kept = self._kept
            given = kept.answers if kept else {}
            question = next((one for one, word in given.items() if says == _says(word, one)), None)
            if kept is None or question is None:
                return False
            self._keep(self._with_answers(kept, {one: word for one, word in given.items() if one != question}))
            return True

    def settle_again(self, says: str) -> bool:
        """Take the answer again that was redone; return whether this step was an answer."""
        with self._alone:
            kept = self._kept
            asked = [one.doubt.question for one in self._open()]
            question = next((one for one in asked if says.startswith(_SAYS) and says.endswith(_to(one))), None)
            if kept is None or question is None:
                return False
            word = says.removeprefix(_SAYS).removesuffix(_to(question))
            self._keep(self._with_answers(kept, {**kept.answers, question: word}))
            return True

    def _with_answers(self, kept: KeptDoubts, answers: Mapping[str, str]) -> KeptDoubts:
        """Return the list with just these answers applied; an answer may change how the list is read."""
        first = KeptDoubts(kept.name, kept.raw, self._listed(read_list(kept.name, raw=kept.raw)))
        for question, word in answers.items():
            doubt = next((one.doubt for one in questions_of(first.listed) if one.doubt.question == question), None)
            answer = answer_to(doubt, word, first.listed) if doubt else None
            if answer is not None:
                first = self._read_again(first, answer)
        as_read = {question: version for question, version in kept.as_read.items() if question in answers}
        return msgspec.structs.replace(first, answers=dict(answers), as_read=as_read)

    def _read_again(self, kept: KeptDoubts, answer: DoubtAnswer) -> KeptDoubts:
        """Read the list again, if an answer changes how it is read."""
        again = next((one for one in answer.corrections if isinstance(one, ReadAgain)), None)
        if again is None:
            return kept
        chosen = again.chosen or kept.listed.chosen
        listed = read_list(kept.name, raw=kept.raw, notation=again.notation, chosen=chosen)
        return msgspec.structs.replace(kept, listed=self._listed(listed))

    def _listed(self, listed: SetList) -> SetList:
        return with_near_songs(listed, songs_by_title(self._desk.path, listed.show.band))

    def _write(self, before: SetList, kept: KeptDoubts, answer: SettledDoubt) -> bool:
        """Take into the show what is different because of an answer; return whether anything is."""
        now = SettledList(_settled(kept.listed, kept.answers), (answer,))
        apart = self._from_songbook(before, now.listed)
        path, folder = self._desk.path, self._desk.folder
        there = {one.name: one for one in proposed(SettledList(before), path, folder=folder).imported.differences}
        differ = proposed(now, path, RevisionChoice(apart=apart), folder).imported.differences
        left = frozenset(one.name for one in differ if there.get(one.name) == one)
        says = _says(answer.word, answer.question)
        choice = RevisionChoice(left, apart)
        return import_settled(now, path, says, folder=folder, choose=lambda _imported, _choice: choice).is_written

    def _from_songbook(self, before: SetList, now: SetList) -> frozenset[tuple[str, str]]:
        """Return the titles, before and now, that an answer corrects: the song comes from its songbook instead.

        A song that the player has worked on since keeps that work, and only its title changes.
        """
        was, now_is = ([song for one in listed.show.sets for song in one.songs] for listed in (before, now))
        untouched = [one.song for one in self._desk.look().songs]
        pairs = zip(was, now_is, strict=True) if len(was) == len(now_is) else ()
        renamed = [(old, new.title) for old, new in pairs if old.title != new.title]
        known = known_songs(self._desk.path, [title for _, title in renamed], now.show.band)
        return frozenset((old.title, title) for old, title in renamed if title in known and old in untouched)


def _says(word: str, question: str) -> str:
    """Return the name of an answer's step in the undo list."""
    return f"{_SAYS}{word}{_to(question)}"


def _to(question: str) -> str:
    return f" to “{question}”"


def _settled(listed: SetList, answers: Mapping[str, str]) -> SetList:
    """Return the list with these answers applied; the others are taken as read."""
    return corrected(listed, _answered(listed, answers))


def _answered(listed: SetList, answers: Mapping[str, str]) -> list[tuple[Doubt, DoubtAnswer]]:
    """Return the doubts that these words answer, with their answers."""
    pairs: list[tuple[Doubt, DoubtAnswer]] = []
    for one in questions_of(listed):
        word = answers.get(one.doubt.question)
        answer = answer_to(one.doubt, word, listed) if word is not None else None
        if answer is not None:
            pairs.append((one.doubt, answer))
    return pairs


def at_songs(doubts: Sequence[SongDoubt]) -> dict[str, list[DoubtQuestion]]:
    """Return the questions about each song, by its id on the page; those about none of them under ""."""
    found: dict[str, list[DoubtQuestion]] = {}
    for one in doubts:
        found.setdefault(one.song.mark if one.song else "", []).append(one.question)
    return found
