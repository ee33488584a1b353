"""The leader's answers in doubt on the page: each with its value, to be taken, taken with another one, or left out."""

import itertools
from collections.abc import Sequence
from typing import Final

from companion.leader.alike import (
    alike,
    asked_together,
    in_one_line,
    open_alike,
    open_lines,
    songs_named,
    why_open,
)
from companion.leader.answer_words import FIELD_NAMES, answer_words, difference_words
from companion.leader.reply_records import OpenQuestion, Replied
from companion.pages.list_button import list_button
from companion.pages.markup import Html, fragment, tag
from companion.show.set_words import set_words

MAX_SHOWN: Final = 100
WITHOUT_VALUE: Final = ("dropped", "chart", "tacet")  # yes or no


def reply_doubts_html(questions: Sequence[OpenQuestion], not_clear: Sequence[OpenQuestion], refused: str = "") -> Html:
    """Return what the leader's answers leave to the player: those in doubt, and what is not clear; hidden if nothing.

    ``refused``: whose value was not taken.
    """
    count = len(questions)
    if not count and not not_clear:
        return tag("section", id="reply-doubts", hidden=True)
    words = "1 answer of the leader is in doubt" if count == 1 else f"{count} answers of the leader are in doubt"
    groups = asked_together(questions, open_alike, why_open)
    asked = "What you do not decide here is asked again in your next message. Undo takes back what you took."
    return tag(
        "section",
        tag("h2", words if count else "From the leader's answers", id="reply-doubts-name", tabindex="-1"),
        tag("p", asked) if count else None,
        *(_group_html(group, refused) for group in itertools.islice(groups, MAX_SHOWN)),
        _not_clear_html(not_clear) if not_clear else None,
        class_="offer list",
        id="reply-doubts",
        aria_labelledby="reply-doubts-name",
    )


def _group_html(group: Sequence[OpenQuestion], refused: str) -> Html:
    """Return one question about several answers, with each of them behind it."""
    first, many = group[0], len(group)
    one = first.record
    if many == 1 or one.replied is Replied.CONTRADICTS:
        return fragment(*(_question_html(each, refused) for each in group))
    titles = songs_named(list(dict.fromkeys(each.record.title or each.record.of_set for each in group)))
    is_alike = len({open_alike(each) for each in group}) == 1
    said = f"{many} songs: {titles}: {answer_words(one.field, one.value)}" if is_alike else _said_of(group)
    takes = f"Take {_shown(one.field, one.value)} for all {many}" if is_alike else f"Take all {many}"
    return tag(
        "fieldset",
        tag("legend", f"{said}?"),
        tag("p", f"The leader wrote: {one.line or one.words}", class_="pencil"),
        _button(first, takes, "reply-take-all", one.value, titles),
        " ",
        _button(first, "Leave all out", "reply-out-all", about=titles),
        tag(
            "details",
            tag("summary", "One by one"),
            *(_question_html(each, refused) for each in group[:MAX_SHOWN]),
            open=any(refused.startswith(f"reply-{each.number} ") for each in group),
        ),
        class_="doubt",
        id=f"reply-all-{first.number}",
    )


def _said_of(group: Sequence[OpenQuestion]) -> str:
    records = [each.record for each in group]
    return in_one_line([(one.title or one.of_set, answer_words(one.field, one.value)) for one in records])


def _question_html(question: OpenQuestion, refused: str) -> Html:
    one, name = question.record, f"reply-{question.number}"
    about = one.title or (set_words(one.of_set) if one.of_set else "")
    is_other = one.replied is Replied.CONTRADICTS
    says = difference_words(one.field, one.now, one.value) if is_other else answer_words(one.field, one.value)
    field = FIELD_NAMES.get(one.field, one.field)
    about_refused, _, why = refused.partition(" ")
    own = tag(
        "label",
        tag("span", f"or the {field}", class_="or") if field == one.field else tag("span", f"or {field}", class_="or"),
        " ",
        tag(
            "input",
            id=f"{name}-own",
            autocomplete="off",
            spellcheck="false",
            maxlength=200,
            data_list="reply-take",
            data_name=f"{question.number}",
            data_then="reply-doubts-name",
            aria_describedby=f"{name}-slip",
        ),
        class_="own",
    )
    return tag(
        "fieldset",
        tag("legend", f"{about}: {says}?" if about else f"{says}?"),
        tag("p", f"The leader wrote: {one.line or one.words}", class_="pencil"),
        _button(question, f"Take {_shown(one.field, one.value)}", "reply-take", one.value),
        " ",
        _button(question, f"Keep {_shown(one.field, one.now)}" if is_other else "Leave it out", "reply-out"),
        None if one.field in WITHOUT_VALUE else own,
        tag("p", why if about_refused == name else None, id=f"{name}-slip", class_="slip"),
        class_="doubt",
        id=name,
    )


def _not_clear_html(questions: Sequence[OpenQuestion]) -> Html:
    """Return what the player types at its song, or asks somebody else; each line goes once it is done with."""
    groups = list(itertools.islice(alike(questions, open_alike), MAX_SHOWN))
    lines = [(group, next(open_lines(group)).partition(". ")[2]) for group in groups]
    return tag(
        "div",
        tag("p", "What was not understood, or is for somebody else: type it at its song."),
        tag(
            "ul",
            *(tag("li", words, " ", _done_button(group, words)) for group, words in lines),
        ),
        id="reply-open",
    )


def _done_button(group: Sequence[OpenQuestion], words: str) -> Html:
    return _button(group[0], "Done with it", "reply-done" if len(group) == 1 else "reply-done-all", about=words)


def _shown(field: str, value: str) -> str:
    """Return a value in few words, for a button: Bb, drums, not played."""
    if field in ("starts_with", "starts"):
        return value
    return answer_words(field, value).removeprefix(f"{field} ").removeprefix(f"{field}: ")


def _button(question: OpenQuestion, words: str, does: str, value: str = "", about: str = "") -> Html:
    about = about or question.record.title or question.record.of_set
    return list_button(words, does, f"{question.number}", about=about, word=value, then="reply-doubts-name")
