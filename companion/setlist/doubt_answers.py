"""Read what the player answers to a doubt about a list."""

from typing import Final

from companion.music import NotMusic, read_meter, read_tempo
from companion.setlist.model import Doubt, DoubtAnswer, FieldCorrection, SetList, SetsCorrection
from companion.setlist.notation import Notation
from companion.setlist.parsing.cells import length_cell
from companion.setlist.parsing.key_cells import key_cell
from companion.setlist.set_starts import LATER_SETS, NEXT_SET, starts_said
from companion.setlist.tidy import one_line
from companion.show.titles import folded

AFFIRMING = ("y", "yes", "yep", "yeah", "j", "ja", "oui", "si", "sí", "ok", "right", "correct")
DENYING = ("n", "no", "nope", "nein", "non", "wrong")
WHERE_NEXT: Final = {
    NEXT_SET: "Where does the next set begin?",
    LATER_SETS: "Where does each later set begin?",
}
"""What to ask after a "no", by what the doubt asks for."""


def answer_to(doubt: Doubt, said: str, listed: SetList | None = None) -> DoubtAnswer | None:
    """Return the answer that a player's word means; None if it answers nothing, so that the question is asked again.

    Besides the doubt's own words, any word counts that its field can hold: "Bb" if it asks for a key. ``listed``: the
    list that the doubt is about. Where a doubt asks how the list is parted into sets, "no" alone does not say it.
    """
    word = folded(said)
    asks_sets = doubt.asks_for in WHERE_NEXT
    for answer in doubt.answers:
        same = {"yes": AFFIRMING, "no": DENYING}.get(answer.word, (answer.word,))
        if word in map(folded, same):
            return None if asks_sets and answer.word == "no" else answer
    if asks_sets:
        starts = starts_said(listed, said) if listed else None
        return None if starts is None else DoubtAnswer(said, (SetsCorrection(starts),))
    value = _value(doubt.asks_for, said.strip(), listed.notation if listed else Notation.LETTERS)
    if value and doubt.asks_for == "title" and (known := _with_title(doubt, value)):
        return DoubtAnswer(said, known.corrections)
    return DoubtAnswer(said, (FieldCorrection(doubt.asks_for, value),)) if value else None


def how_to_answer(doubt: Doubt) -> str:
    """Return what to write, for a player whose words were no answer."""
    field = doubt.asks_for.replace("_", " ")
    if where := WHERE_NEXT.get(doubt.asks_for):
        several = "" if doubt.asks_for == NEXT_SET else ', or "one set"'
        return f"{where} Write the number or the title of its first song, or the words of its heading{several}"
    return f"Write {' or '.join(answer.word for answer in doubt.answers)}{f', or the {field}' if field else ''}"


def _with_title(doubt: Doubt, title: str) -> DoubtAnswer | None:
    """Return the doubt's own answer that gives the song this title, and sets its other fields to fit."""
    for answer in doubt.answers:
        for one in answer.corrections:
            if isinstance(one, FieldCorrection) and one.field == "title" and folded(one.value or "") == folded(title):
                return answer
    return None


def _value(field: str, said: str, notation: Notation) -> str | None:
    """Return what a show file would hold in this field; None if the word is no such value."""
    try:
        match field:
            case "key" | "record_key":
                found = key_cell(said, notation=notation)
                return str(found.key) if found and found.key else None
            case "length":
                return str(length_cell(said, named=True) or "") or None
            case "tempo":
                return f"{read_tempo(said):g}"
            case "meter":
                return str(read_meter(said))
            case "title" | "artist" | "notes":
                return one_line(said)[:200] or None
    except NotMusic:
        pass
    return None
