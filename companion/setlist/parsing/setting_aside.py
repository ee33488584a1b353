"""Set lines aside that say themselves that they are not played: CUT, not tonight, a cross in front."""

from collections.abc import Sequence

import msgspec

from companion.setlist.model import LineKind
from companion.setlist.notation import Notation
from companion.setlist.parsing.doubts import played_or_not
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.labels import label_of
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.list_style import Style
from companion.setlist.parsing.list_talk import is_of_number
from companion.setlist.parsing.not_played import (
    is_crossed,
    replaced,
    says_not_played,
    taken_out,
    without_cross,
)
from companion.setlist.parsing.patterns import TAIL
from companion.setlist.parsing.song_line import read_song

_VERBS = frozenset(("is", "are", "goes", "ist", "est", "es", "è", "é", "er", "är", "jest"))  # Moth is OUT
SHORTEST = 3  # letters of a title that a sentence names
FEWEST_LABELS = 2
FEWEST_OWN = 4  # songs of a message that has a list of its own
LONG_WORD = 4  # letters of a word that has a capital in a title
QUOTED = "quoted from an earlier message"
MAX_CROSSED = 0.5  # share of the lines; where more are crossed, the cross means something else


def set_aside(found: Sequence[Classified], style: Style) -> None:
    """Set such lines aside, each with the question whether it is played after all."""
    open_lines = [one for one in found if one.took is None]
    crossed = {id(one) for one in open_lines if is_crossed(one.line.text, one.line.emoji)}
    if len(crossed) == 1 and any(_may_be_word(one.line.text) for one in open_lines if id(one) in crossed):
        crossed = set()
    if len(crossed) > MAX_CROSSED * len(open_lines):
        crossed = set()
    for one in open_lines:
        if swapped := replaced(one.line.text):
            one.line = msgspec.structs.replace(one.line, text=swapped[1], struck=swapped[0])
            one.draft = read_song(one.line, style)
        elif one.draft and says_not_played(one.draft.title) and style.marks(one.line):
            one.took, one.aside = LineKind.ASIDE, "nothing else on the line"  # 3. CUT
        elif is_of_number(one.line.text) and taken_out(one.line.text.split(",")[0]):
            one.took = LineKind.LEFT  # number 5 is OUT: talk about a song above
        elif out := taken_out(one.line.text):
            if _names_another(out[0], one, open_lines):
                one.took = LineKind.LEFT  # ok, Moth is OUT: talk about a song above
                continue
            _take_out(one, out[0], out[1], style)
        elif id(one) in crossed:
            _take_out(one, without_cross(one.line.text), "a cross in front", style)


def _names_another(said: str, one: Classified, open_lines: Sequence[Classified]) -> bool:
    """Return whether a sentence names a song that stands on a line of its own."""
    is_sentence = said.rpartition(" ")[2].lower() in _VERBS and not one.line.is_marked
    titles = [other.draft.title.casefold() for other in open_lines if other is not one and other.draft]
    return is_sentence and any(len(title) > SHORTEST and title in said.casefold() for title in titles)


def set_quotes_aside(found: Sequence[Classified]) -> None:
    """Set songs aside that an earlier message has, quoted below a list of its own: > 17 Moth under the signature."""
    songs = [(at, one) for at, one in enumerate(found) if one.took is LineKind.SONG and one.draft is not None]
    own = [(at, one) for at, one in songs if not one.line.row.quoted]
    quoted = [(at, one) for at, one in songs if one.line.row.quoted]
    if not quoted or not FEWEST_OWN <= len(own) > len(quoted) or own[-1][0] > quoted[0][0]:
        return
    for _, one in quoted:
        if one.draft is not None and one.line.message.message > own[-1][1].line.message.message:
            key = str(one.draft.key) if one.draft.key else None
            asked = (
                (played_or_not(QUOTED, one.draft.title, key),) if _reads_as_song(one, [each for _, each in own]) else ()
            )
            one.took, one.aside, one.doubts = LineKind.ASIDE, QUOTED, asked


def _reads_as_song(one: Classified, own: Sequence[Classified]) -> bool:
    """Return whether a quoted line has a song's mark or key, or capitals as most titles of the list have."""
    if one.draft is None or one.draft.has_fact or one.line.is_marked:
        return True
    rising = sum(_rises(each.draft.title) for each in own if each.draft)
    return _rises(one.draft.title) or 2 * rising < len(own)


def _rises(title: str) -> bool:
    return all(word[:1].isupper() or not word[:1].isalpha() for word in title.split() if len(word) >= LONG_WORD)


def take_back_labels(found: Sequence[Classified], notation: Notation) -> None:
    """Take Out: Moth (C) for the music to walk out to, where other lines say in the same way what songs are for.

    OUT: Moth, shouted among labels in small letters, is not played.
    """
    labelled = [one for one in found if _is_labelled(one, notation)]
    if len(labelled) < FEWEST_LABELS:
        return
    are_shouted = all(one.line.text.partition(":")[0].isupper() for one in labelled)
    for one in labelled:
        is_label = one.line.text.startswith(("Out:", "out:")) or (are_shouted and one.line.text.startswith("OUT:"))
        if one.took is LineKind.ASIDE and is_label and not one.line.is_struck:
            one.took, one.aside = None, ""


def _is_labelled(one: Classified, notation: Notation) -> bool:
    found = label_of(one.line.text) if one.took in (None, LineKind.ASIDE) else None
    bracket = TAIL.match(found[1]) if found else None
    in_bracket = bracket is not None and plain_key(bracket[2], notation=notation) is not None
    return in_bracket or bool(found and key_at_end(found[1], notation))


def _may_be_word(text: str) -> bool:
    """Return whether a large X begins the line; a title may begin so where no other line has a cross."""
    return text[:2] == "X "


def _take_out(one: Classified, rest: str, why: str, style: Style) -> None:
    draft = read_song(msgspec.structs.replace(one.line, text=rest), style)
    if draft.title:
        one.took, one.aside = LineKind.ASIDE, f"not played ({why})"
        one.doubts = (played_or_not(why, draft.title, str(draft.key) if draft.key else None),)
