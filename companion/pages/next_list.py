"""The next version of the show's list, brought in from a page: what differs, and what the player takes of it.

Nothing is written until the player says so; then the same code writes as for ``companion import``.
"""

import datetime as dt
import threading
from collections.abc import Mapping
from typing import Final

import msgspec

from companion.errors import CompanionError
from companion.how_many import how_many
from companion.pages.desk import ShowDesk, Stack
from companion.pages.kept_list import KeptList, ListDrawer
from companion.pages.list_chooser import named
from companion.pages.wanted import WantedList
from companion.practice_log.logged import renamed_records
from companion.setlist import Differs, DoubtAnswer, Imported, RevisionChoice, import_list
from companion.setlist.doubt_answers import answer_to
from companion.setlist.list_questions import DoubtQuestion
from companion.setlist.proposal import proposed
from companion.setlist.settling import SettledList, settled_list

AS_READ: Final = DoubtAnswer("")
"""The answer until the player decides: the list is taken as read, and the question stays open."""
SAYS: Final = {
    "take": "Ticked; nothing is changed yet",
    "leave": "Not ticked: left as it is",
    "another": "Two songs; nothing is changed yet",
}


class NextListLook(msgspec.Struct, frozen=True):
    """What the player decides about. ``imported``: all that differs, with what is left among it.

    ``questions`` are the doubts with what the player answered so far; ``version`` is the show's.
    """

    version: str
    imported: Imported
    questions: tuple[tuple[DoubtQuestion, str], ...]
    left: frozenset[str]
    apart: frozenset[tuple[str, str]]

    @property
    def taken(self) -> int:
        """How many differences will be taken."""
        return sum(one.is_choice and one.name not in self.left for one in self.imported.differences)


class NextList:
    """One list and the player's decisions about it, each kept at once. Any thread may call it.

    ``name`` is shown, and never a path.
    """

    def __init__(self, begun: KeptList, desk: ShowDesk, drawer: ListDrawer) -> None:
        self.name = begun.name
        self._raw = begun.raw
        self._desk = desk
        self._drawer = drawer
        self._alone = threading.RLock()
        self._answers = dict(begun.answers)  # by the question
        self._left = set(begun.left)
        self._taken = set(begun.taken)
        self._apart = set(begun.apart)
        self._read: tuple[tuple[str, dict[str, str]], SettledList, list[DoubtQuestion]] | None = None
        self._look: NextListLook | None = None

    def look(self) -> NextListLook:
        """Return what differs from the show as it is now. Raises FaultyFile or CompanionError."""
        with self._alone:
            stack = self._desk.look()
            if self._look is None or self._look.version != stack.version:
                self._look = self._looked_at(stack)
            return self._look

    def _looked_at(self, stack: Stack) -> NextListLook:
        settled, asked = self._settled(stack.version)
        choice = RevisionChoice(apart=frozenset(self._apart))
        imported = proposed(settled, self._desk.path, choice, self._desk.folder).imported
        self._left |= {one.name for one in imported.differences if one.is_left_at_first} - self._taken
        questions = tuple((one, self._answers.get(one.doubt.question, "")) for one in asked)
        return NextListLook(stack.version, imported, questions, frozenset(self._left), frozenset(self._apart))

    def _settled(self, version: str) -> tuple[SettledList, list[DoubtQuestion]]:
        """Return the list as answered so far, and what there is to ask.

        It is read anew only after another answer, or for another version of the show: a message that says what
        changes means the show as it is.
        """
        if self._read is None or self._read[0] != (version, self._answers):
            questions: list[DoubtQuestion] = []

            def ask(question: DoubtQuestion) -> DoubtAnswer:
                if question.doubt.question not in [one.doubt.question for one in questions]:
                    questions.append(question)
                return _answer(self._answers, question) or AS_READ

            settled = settled_list(self.name, self._desk.path, raw=self._raw, ask=ask)
            self._read = ((version, dict(self._answers)), settled, questions)
        return self._read[1:]

    def keep(self) -> None:
        """Keep the list with what was decided so far. Raises CompanionError or OSError."""
        with self._alone:
            apart = tuple(sorted(self._apart))
            left, taken = tuple(sorted(self._left)), tuple(sorted(self._taken))
            self._drawer.keep(KeptList(self.name, self._raw, self._answers, left, taken, apart))

    def forget(self) -> None:
        """Keep it no longer: it is decided about."""
        self._drawer.forget()

    def answer(self, question: str, word: str) -> bool:
        """Note an answer; return whether the question can be answered so. An empty word takes the answer back."""
        with self._alone:
            found = next((one for one, _ in self.look().questions if one.doubt.question == question), None)
            if found is None or (word.strip() and answer_to(found.doubt, word.strip(), found.listed) is None):
                return False
            self._answers.pop(question, None)
            if word.strip():
                self._answers[question] = word.strip()
            self._look = None
            self.keep()
            return True

    def decide(self, does: str, name: str) -> None:
        """Take or leave a difference or a whole group of them, or count a renamed song as another song."""
        with self._alone:
            found = [one for one in self.look().imported.differences if one.is_choice and name in (one.name, one.group)]
            names = {one.name for one in found}
            self._left = self._left | names if does == "leave" else self._left - names
            self._taken = self._taken - names if does == "leave" else self._taken | names
            if does == "another":
                self._apart |= {(one.old_title, one.title) for one in found if one.differs is Differs.RENAMED}
            self._look = None
            self.keep()

    def together(self, old: str, new: str) -> None:
        """Count two songs as one again."""
        with self._alone:
            self._apart.discard((old, new))
            self._look = None
            self.keep()

    def write(self) -> Imported | None:
        """Write what is taken; None, and nothing written, if the show has changed since it was last looked at.

        Raises FaultyFile or CompanionError.
        """
        with self._alone:
            seen = self._look
            now = dt.datetime.now().astimezone()
            choice = RevisionChoice(frozenset(self._left), frozenset(self._apart))
            names = {one.name for one in seen.imported.differences} if seen else set()

            refused: list[bool] = []

            def agree(imported: Imported) -> bool:
                is_same = seen is not None and self._desk.look().version == seen.version
                agrees = is_same and all(one.name in names for one in imported.differences if one.is_choice)
                refused.extend([] if agrees else [True])
                return agrees

            self._look = None
            made = import_list(
                self.name,
                self._desk.path,
                raw=self._raw,
                folder=self._desk.folder,
                ask=lambda question: _answer(self._answers, question) or AS_READ,
                choose=lambda _imported, _choice: choice,
                agree=agree,
                also=lambda imported: renamed_records(imported, now),
            )
            return None if refused else made


def decided(newer: NextList, wanted: WantedList) -> tuple[str, bool, str]:
    """Carry a decision out; return a notice, whether the list is done with, and a question left unanswered.

    Raises FaultyFile or CompanionError.
    """
    match wanted.does:
        case "answer":
            is_answer = newer.answer(wanted.name, wanted.word)
            return "" if is_answer else "this does not answer the question", False, "" if is_answer else wanted.name
        case "together":
            newer.together(wanted.name, wanted.word)
            return "one song again", False, ""
        case "write":
            return _written(newer)
        case "put-away":
            return "Cancelled: the show is unchanged", True, ""
        case _:
            newer.decide(wanted.does, wanted.name)
            return SAYS[wanted.does], False, ""


def _written(newer: NextList) -> tuple[str, bool, str]:
    taken: Imported | None = newer.write()
    if taken is None:
        return "The show has changed meanwhile: look at the differences again", False, ""
    if not taken.is_written:
        raise CompanionError("nothing is taken: cancel the list, or take a change")
    count = sum(one.is_choice for one in taken.differences)
    changes = how_many(count, "change")
    return f"Taken: {changes} from {named(newer.name)}. Undo takes all of it back", True, ""


def _answer(answers: Mapping[str, str], question: DoubtQuestion) -> DoubtAnswer | None:
    word = answers.get(question.doubt.question)
    return answer_to(question.doubt, word, question.listed) if word else None
