"""The doubts about a list on the page: each at its song, those about no song above the stack."""

from collections.abc import Sequence

from companion.how_many import how_many
from companion.pages.list_doubts import ListDoubts, SongDoubt, at_songs
from companion.pages.markup import Html, tag
from companion.pages.next_list_view import lines_html, question_html, question_names
from companion.setlist.list_questions import DoubtQuestion


def doubts_at_songs(doubts: Sequence[SongDoubt], refused: str = "") -> dict[str, Html]:
    """Return what to show at each song, by its id on the page. ``refused``: the question with no good answer yet."""
    found = at_songs(doubts)
    return {mark: _folds(questions, mark, refused) for mark, questions in found.items() if mark}


def doubts_html(kept: ListDoubts, doubts: Sequence[SongDoubt], refused: str = "") -> Html | None:
    """Return how many lines are in doubt, those of no song with their questions, and the way to leave the rest."""
    if not doubts or kept.listed is None:
        return None
    count, others = len(doubts), at_songs(doubts).get("", [])
    where = " Each question about a song is shown with that song." if len(others) < count else ""
    return tag(
        "section",
        tag("h2", f"{how_many(count, 'question')} about your list", id="doubts-name"),
        tag("p", f"It was read as well as it could be.{where} Undo takes an answer back."),
        _folds(others, "", refused) if others else None,
        lines_html(kept.listed),
        tag(
            "p",
            tag("button", "Leave the rest as read", type="button", data_list="doubts-away", data_then="find"),
            class_="buttons",
        ),
        class_="offer list",
        id="doubts",
        aria_labelledby="doubts-name",
    )


def _folds(questions: Sequence[DoubtQuestion], mark: str, refused: str) -> Html:
    then = f"{mark}-title" if mark else "doubts-name"
    names = question_names(questions, f"doubt-{mark}")
    after = [*(f"{name}-fold" for name in names[1:]), ""]
    return tag(
        "div",
        *(
            tag(
                "details",
                tag("summary", one.doubt.question),
                question_html(name, one, refused=refused, does="doubt", then=then, after=next_one),
                open=one.doubt.question == refused,
                id=f"{name}-fold",
            )
            for one, name, next_one in zip(questions, names, after, strict=True)
        ),
        class_="doubts",
        id=f"{mark}-doubts" if mark else None,
    )
