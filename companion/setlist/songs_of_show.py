"""Doubts about a list's next version that the show settles: a line that holds the title of one of its songs."""

from collections.abc import Iterable

from companion.setlist.kept_answers import SettledDoubt
from companion.setlist.model import Correction, Doubt, FieldCorrection, LineCorrection, LineKind, SetList
from companion.show.titles import folded


def settled_by_show(listed: SetList, there: Iterable[str]) -> tuple[SettledDoubt, ...]:
    """Return the answers that give a line the title of a song of the show, which the list has nowhere else.

    ``there``: the show's titles. Answers that the player gave before come first.
    """
    missing = {folded(title) for title in there} - {folded(title) for title in listed.titles}
    return tuple(
        SettledDoubt(doubt.question, answer.word)
        for line in listed.lines
        if line.took in (LineKind.SONG, LineKind.NOTE, LineKind.LEFT)  # not one that says it is not played
        for doubt in line.doubts
        for answer in doubt.answers
        if any(_titled(one, doubt) in missing for one in answer.corrections)
    )


def _titled(correction: Correction, doubt: Doubt) -> str:
    """Return the folded title that a correction gives a song; "" for others."""
    if isinstance(correction, LineCorrection) and correction.took is LineKind.SONG:
        return folded(correction.title)
    is_title = isinstance(correction, FieldCorrection) and correction.field == "title" and doubt.song
    return folded(correction.value or "") if is_title and isinstance(correction, FieldCorrection) else ""
