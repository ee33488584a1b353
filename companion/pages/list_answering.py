"""What the addresses about set lists and messages answer: what is brought in, decided, answered, and undone again."""

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response

from companion.errors import CompanionError, FaultyFile
from companion.pages.desk_answers import DeskAnswers
from companion.pages.wanted import WantedList, WantedReply, WantedShow
from companion.shown import harmless


class ListPages:
    """The answers about lists, with the workplace where they lie."""

    def __init__(self, answers: DeskAnswers) -> None:
        self._answers = answers
        self._workplace = answers.workplace

    def next_list(self, wanted: WantedList) -> Response:
        """Note what the player decides about the list's next version; write what is taken, at the end.

        Or answer a doubt about the list that the show was made from, or take a lesson of the night.
        """
        if wanted.does in ("doubt", "doubts-away"):
            return self._doubt(wanted)
        if wanted.does in ("reply-take", "reply-out", "reply-take-all", "reply-out-all"):
            return self._reply_doubt(wanted)
        if wanted.does in ("reply-done", "reply-done-all"):
            from companion.pages.leader_reply import close_question

            of_all = wanted.does == "reply-done-all"
            return self._answers.whole(close_question(self._answers.desk.path, wanted.name, of_all=of_all), wanted)
        if wanted.does == "asked":
            from companion.pages.leader_questions import copied

            return self._answers.notice(copied(self._answers.desk.path), wanted)
        if wanted.does in ("lesson-take", "lesson-not-yet", "night-is"):
            from companion.pages.night_lessons import carried_out

            return self._answers.whole(carried_out(self._answers.desk, wanted), wanted)
        from companion.pages.next_list import decided

        there = self._workplace.next_list
        if there is None:
            raise CompanionError("this list is closed; choose it again")
        words, is_done, unanswered = decided(there, wanted)
        if is_done:
            self._workplace.put_list_away(is_taken=wanted.does == "write")
        return self._answers.whole(words, wanted, unanswered)

    def _doubt(self, wanted: WantedList) -> Response:
        doubts = self._workplace.doubts
        if doubts is None:
            raise CompanionError("nothing is in doubt")
        words: str | None = "The rest stays as read"
        if wanted.does == "doubts-away":
            doubts.forget()
        else:
            words = doubts.answer(wanted.name, wanted.word)
        unanswered = wanted.name if words is None else ""
        return self._answers.whole(words or doubts.why_refused(wanted.name), wanted, unanswered)

    def _reply_doubt(self, wanted: WantedList) -> Response:
        from companion.pages.leader_reply import decide_answer

        words, refused = decide_answer(self._answers.desk, wanted)
        return self._answers.whole(words, wanted, refused)

    def undo(self, wanted: WantedShow) -> Response:
        """Undo the newest change. If that was an answer about the list, its question is asked again."""
        desk, begun = self._answers.desk, self._workplace.just_begun
        doubts = self._workplace.doubts
        as_read = doubts.left_as_read(desk.look()) if doubts else None
        if doubts is not None and as_read is not None:
            doubts.ask_again(as_read)
            return self._answers.whole(f"Undone: {as_read}", wanted)
        if begun is not None and desk.undoable is None:
            self._workplace.take_begun_back(begun)
            words = f"Undone: {begun.title} is gone again. The songs stay in the songbook"
            return self._answers.whole(words, wanted)
        says, _ = desk.undo()
        is_asked_again = doubts is not None and doubts.ask_again(says)
        return self._taken_back(f"Undone: {says}", wanted, is_whole=is_asked_again)

    def redo(self, wanted: WantedShow) -> Response:
        """Redo what was undone last; an answer is given again."""
        says, _ = self._answers.desk.redo()
        doubts = self._workplace.doubts
        is_settled = doubts is not None and doubts.settle_again(says)
        return self._taken_back(f"Done again: {says}", wanted, is_whole=is_settled)

    def _taken_back(self, words: str, wanted: WantedShow, *, is_whole: bool) -> Response:
        return self._answers.whole(words, wanted) if is_whole else self._answers.notice(words, wanted)

    def reply(self, wanted: WantedReply) -> Response:
        """Take the leader's answers from a message."""
        from companion.pages.leader_reply import take_reply

        notice, report = take_reply(self._answers.desk, self._workplace.folder, wanted.text)
        return self._answers.whole(notice, wanted, report=report)

    async def bring(self, request: Request) -> Response:
        """Make a show of a set list that was brought in; for the show on the desk, it is the list's next version."""
        raw, name = await request.body(), request.query_params.get("name", "")
        try:
            words = await run_in_threadpool(self._workplace.bring, raw, name)
        except FaultyFile as faulty:
            return PlainTextResponse(harmless("; ".join(one.problem for one in faulty.faults)), 422)
        except CompanionError as error:
            return PlainTextResponse(harmless(str(error)), 422)
        return self._answers.notice(words)
