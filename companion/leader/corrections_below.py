"""Corrections below a line that counts in a set: "Set 2: 1 D, 5 Cm" and below it "sorry, 5 is Bm"."""

from companion.leader.reply_items import ScannedLine
from companion.leader.songs_meant import SongsMeant
from companion.leader.turns_of_phrase import CORRECT, TurnOfPhrase


def corrects_above(line: ScannedLine) -> bool:
    """Return whether a line begins with a correction, before the songs that it names."""
    first = next((one.at for one in line.items if isinstance(one.what, SongsMeant)), -1)
    return any(isinstance(one.what, TurnOfPhrase) and one.what.kind == CORRECT and one.at < first for one in line.items)


def numbered_as_above(within: ScannedLine, overall: ScannedLine) -> ScannedLine:
    """Return a line whose numbers count in the set of the line above, in doubt where they may count in the show."""
    kept = []
    others = {one.what.songs for one in overall.items if isinstance(one.what, SongsMeant)}
    for one in within.items:
        meant = one.what
        if isinstance(meant, SongsMeant) and meant.songs and meant.songs not in others and not meant.doubt:
            said = within.said(one.at, one.end)
            kept.append(one._replace(what=meant._replace(doubt=f"which song is {said}?")))
        else:
            kept.append(one)
    return within._replace(items=tuple(kept))
