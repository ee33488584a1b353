"""The page of a list's next version: its doubts as questions, and what differs, each to be taken or left."""

from collections.abc import Iterator, Sequence
from typing import Final

from companion.how_many import how_many
from companion.pages.desk import mark_of
from companion.pages.list_button import list_button
from companion.pages.list_chooser import named
from companion.pages.markup import Html, fragment, tag
from companion.pages.next_list import NextList, NextListLook
from companion.setlist import Difference, Differs, SetList
from companion.setlist.doubt_answers import how_to_answer
from companion.setlist.list_questions import DoubtQuestion
from companion.setlist.report import in_short, rows
from companion.setlist.revising.differences import DETAILS, GROUPS, difference_text

LINES_SHOWN: Final = 400
HEADINGS: Final = {
    "keys": "Keys",
    "dropped": "No longer in the list",
    "new": "New",
    "moved": "Moved",
    "renamed": "Renamed",
    "sets": "Sets",
    "notes": "Notes",
    DETAILS: "Small things: lengths, tempos, artists, spelling",
}


def next_list_html(one: NextList, look: NextListLook, refused: str = "") -> Html:
    """Return the page of a list that was brought in. ``refused``: the question whose answer was not understood."""
    differences = look.imported.differences
    names = question_names([question for question, _ in look.questions], "doubt")
    questions = [
        question_html(name, question, word, refused)
        for name, (question, word) in zip(names, look.questions, strict=True)
    ]
    return tag(
        "main",
        tag(
            "section",
            tag("h2", f"A newer set list: {named(one.name)}", id="newer-title", tabindex="-1"),
            tag("p", in_short(look.imported.listed)),
            tag("p", f"{how_many(look.imported.answered_before, 'doubt')} settled by what you answered before.")
            if look.imported.answered_before
            else None,
            lines_html(look.imported.listed),
            class_="offer",
        ),
        tag("section", tag("h2", f"In doubt ({len(questions)})"), *questions, class_="offer list")
        if questions
        else None,
        tag(
            "section",
            tag("h2", "What differs"),
            *(_group(name, look) for name in GROUPS if any(each.group == name for each in differences)),
            *(_apart(old, new) for old, new in sorted(look.apart)),
            tag("p", "Nothing: the show is as this list has it.") if not differences else None,
            tag("p", "Songs that are no longer in the list are kept aside with all your work.")
            if any(each.differs is Differs.DROPPED for each in differences)
            else None,
            tag("p", "Your comments in the file cannot stay. A copy of the file as it is now is kept beside it.")
            if look.imported.kept_beside
            else None,
            tag(
                "p",
                list_button(f"Take {_taken(look)}", "write") if look.taken else None,
                list_button("Cancel: change nothing", "put-away"),
                class_="buttons",
            ),
            class_="offer list",
        ),
        id="stack",
        data_column="key",
    )


def _taken(look: NextListLook) -> str:
    """Return how many of the differences are taken: all of 3 changes is '3 changes'."""
    every = sum(one.is_choice for one in look.imported.differences)
    return how_many(every, "change") if look.taken == every else f"{look.taken} of {how_many(every, 'change')}"


def lines_html(listed: SetList) -> Html:
    """Return how each line of the list was understood."""
    found = rows(listed)
    lines = (
        tag("li", tag("span", f"{where}: {took}. ", class_="pencil"), says, f" In doubt: {doubt}." if doubt else "")
        for where, took, says, doubt in found[:LINES_SHOWN]
    )
    return tag("details", tag("summary", "How each line was understood"), tag("ul", *lines), id="list-lines")


def question_names(questions: Sequence[DoubtQuestion], before: str) -> list[str]:
    """Return an id for each question that no other has, in this list or a later one.

    By its place alone, the next question would take over what the browser knows of this one: the answer chosen.
    """
    asked = [one.doubt.question for one in questions]
    return [f"{before}-{mark_of(one)}-{asked[:at].count(one)}" for at, one in enumerate(asked)]


def question_html(
    name: str,
    question: DoubtQuestion,
    word: str = "",
    refused: str = "",
    does: str = "answer",
    then: str = "",
    after: str = "",
) -> Html:
    """Return a question with its answers.

    ``name``: its id; ``word``: the answer so far; ``after``: the next question; ``then``: where to go on without one.
    """
    doubt = question.doubt
    words = [answer.word for answer in doubt.answers]
    field = doubt.asks_for.replace("_", " ")
    own = word if word.casefold() not in [one.casefold() for one in words] else ""
    choices = (
        tag(
            "label",
            tag(
                "input",
                type="radio",
                name=name,
                value=each,
                checked=each.casefold() == word.casefold() if word else False,
                id=f"{name}-{at}",
                data_list=does,
                data_name=doubt.question,
                data_then=then or None,
                data_after=after or None,
            ),
            tag("span", f"{each} (as read)" if at == 0 else each),
        )
        for at, each in enumerate(words)
    )
    other = tag(
        "label",
        tag("span", f"or the {field}", class_="or"),
        " ",
        tag(
            "input",
            id=f"{name}-own",
            value=own,
            autocomplete="off",
            spellcheck="false",
            maxlength=200,
            data_list=does,
            data_name=doubt.question,
            data_then=then or None,
            data_after=after or None,
            aria_describedby=f"{name}-slip",
        ),
        class_="own",
    )
    return tag(
        "fieldset",
        tag("legend", doubt.question),
        tag("p", f"{question.where}: {question.text}", class_="pencil") if question.text else None,
        tag("p", doubt.quotes, class_="pencil") if doubt.quotes else None,
        *choices,
        other if field else None,
        tag("p", f"{how_to_answer(doubt)}." if refused == doubt.question else None, id=f"{name}-slip", class_="slip"),
        class_="doubt",
    )


def _group(name: str, look: NextListLook) -> Html:
    found = [one for one in look.imported.differences if one.group == name]
    choices = [one for one in found if one.is_choice]
    times = "Your show's own times stay, unless you tick the list's." if any(map(_is_own_time, found)) else None
    inside = fragment(
        tag("p", times) if times else None,
        tag("ul", *(_row(one, look) for one in found)),
        tag("p", *_all_of(name, choices, look), class_="buttons") if len(choices) > 1 else None,
    )
    words = f"{HEADINGS[name]} ({len(found)})"
    if name == DETAILS:
        return tag("details", tag("summary", words), inside, id="list-details")
    return tag("div", tag("h3", words), inside, class_="group")


def _all_of(name: str, choices: list[Difference], look: NextListLook) -> Iterator[Html]:
    words = HEADINGS[name].partition(":")[0].lower()
    if any(one.name in look.left for one in choices):
        yield list_button("Tick all", "take", name, about=words)
    if any(one.name not in look.left for one in choices):
        yield list_button("Untick all", "leave", name, about=words)


def _row(one: Difference, look: NextListLook) -> Html:
    if not one.is_choice:
        return tag("li", difference_text(one))
    is_taken = one.name not in look.left
    ticked = tag(
        "input", type="checkbox", checked=is_taken, id=f"take-{_slug(one.name)}", data_list="take", data_name=one.name
    )
    other = list_button("Two different songs", "another", one.name, about=f"{one.old_title} and {one.title}")
    return tag(
        "li",
        tag("label", ticked, " ", tag("span", difference_text(one))),
        other if one.differs is Differs.RENAMED else None,
        class_=None if is_taken or _is_own_time(one) else "left",
    )


def _is_own_time(one: Difference) -> bool:
    """Return whether the show's own time stays unless the player ticks the list's: that takes nothing away."""
    return one.is_left_at_first


def _apart(old: str, new: str) -> Html:
    together = list_button("One song after all", "together", old, word=new)
    return tag("p", f"{old} and {new} are two songs. ", together)


def _slug(name: str) -> str:
    return "".join(one if one.isalnum() else "-" for one in name)
