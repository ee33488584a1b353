"""Read what the player answers to a doubt about a list."""

from companion.music import NotMusic, read_meter, read_tempo
from companion.setlist.model import Doubt, DoubtAnswer, FieldCorrection
from companion.setlist.notation import Notation
from companion.setlist.parsing.cells import length_cell
from companion.setlist.parsing.key_cells import key_cell
from companion.setlist.tidy import one_line
from companion.show.titles import folded

AFFIRMING = ("y", "yes", "yep", "yeah", "j", "ja", "oui", "si", "sí", "ok", "right", "correct")
DENYING = ("n", "no", "nope", "nein", "non", "wrong")


def answer_to(doubt: Doubt, said: str, notation: Notation = Notation.LETTERS) -> DoubtAnswer | None:
    """Return the answer that a player's word means; None if it answers nothing, so that the question is asked again.

    Besides the doubt's own words, any word counts that its field can hold: "Bb" if it asks for a key.
    """
    word = folded(said)
    for answer in doubt.answers:
        same = {"yes": AFFIRMING, "no": DENYING}.get(answer.word, (answer.word,))
        if word in map(folded, same):
            return answer
    value = _value(doubt.asks_for, said.strip(), notation)
    return DoubtAnswer(said, (FieldCorrection(doubt.asks_for, value),)) if value else None


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
