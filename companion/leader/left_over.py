"""Words of a reply that nothing explains: the facts beside them land with a doubt, so that no mistake lands unseen."""

from collections.abc import Iterator, Sequence
from typing import Final

from companion.leader.courtesies import is_courtesy
from companion.leader.reply_items import KeyFact, ReplyItem, is_filler
from companion.leader.reply_pieces import ReplyPiece
from companion.leader.reply_readings import Claim, DayClaim, Passed, ReplyReading, in_doubt
from companion.leader.reply_words import set_of
from companion.leader.stated_fact import StatedFact
from companion.leader.turns_of_phrase import CORRECT, HEDGE, NOT, TurnOfPhrase

# Words that change all of their sentence: "if Jo sings, 2 is G and 4 is Dm".
REACHING: Final = set_of(
    "if unless when whenever while until till provided providing assuming suppose supposing although though "
    "otherwise wenn falls si quand either"
)
_HOW_LONG: Final = set_of("till until while")
_OF_KEYS: Final = set_of("flat sharp minor major dim")
_REFERRING: Final = set_of("that that's thats it it's its was those these this them")

SentencePart = tuple[ReplyPiece, list[ReplyReading]]


def with_doubts(parts: Sequence[SentencePart], lows: Sequence[str]) -> list[ReplyReading]:
    """Return what a sentence says, in doubt where words beside it are left over. ``lows``: the words of its line.

    Words of no song cast doubt on what comes before them, or else on what follows; words such as "if" and a doubt that
    opens or closes the sentence, on all of it.
    """
    said = [list(readings) for _, readings in parts]
    for at, (piece, readings) in enumerate(parts):
        if why := _denied(parts, at, lows):
            said[at] = [in_doubt(one, why) for one in said[at]]
        if at and _is_turn_of_events(parts[at - 1][0], piece, lows):
            said[at - 1] = [in_doubt(one, piece.said) for one in said[at - 1]]
            said[at] = [in_doubt(one, parts[at - 1][0].said) for one in said[at]]
        if why := _reaching(piece, lows) or _opens_or_closes(parts, at):
            said = [[in_doubt(one, why) for one in some] for some in said]
        elif not _lands(readings) and (why := _remark(parts, at)):
            for place in _beside(parts, at, lows):
                said[place] = [in_doubt(one, why) for one in said[place]]
    return [one for some in said for one in some]


def _is_turn_of_events(before: ReplyPiece, after: ReplyPiece, lows: Sequence[str]) -> bool:
    """Return whether "then" joins weak facts, which may be other parts of the song: "drum fill then button"."""
    facts = [one.what for one in (*before.facts, *after.facts)]
    is_weak = any(isinstance(one, StatedFact) and not one.firm for one in facts)
    return (
        is_weak and bool(after.facts) and not after.songs and "then" in lows[before.items[-1].end : after.items[0].at]
    )


def _denied(parts: Sequence[SentencePart], at: int, lows: Sequence[str]) -> str:
    """Return the words before a chart that a "no" may speak of: "no - chart for 2"; else ""."""
    piece = parts[at][0]
    is_weak = any(
        isinstance(one.what, StatedFact) and one.what.field == "chart" and one.what.value and not one.what.firm
        for one in piece.items
    )
    before = parts[at - 1][0] if at else None
    if (
        not is_weak
        or before is None
        or any(one.what.field != "yes" for one in before.facts if isinstance(one.what, StatedFact))
    ):
        return ""
    said = {lows[place] for item in before.items for place in range(item.at, item.end)}
    return before.said if said & {"no", "not", "without"} else ""


def _lands(readings: Sequence[ReplyReading]) -> bool:
    return any(isinstance(one, Claim | DayClaim | Passed) for one in readings)


def _reaching(piece: ReplyPiece, lows: Sequence[str]) -> str:
    """Return the words of a piece that has a word such as "if", which nothing explains; else ""."""
    unexplained = (item for item in piece.items if item.what is None or _is_not(item))
    songs_at = piece.songs[0].at if piece.songs and len(piece.items) > 1 else len(lows)
    is_reaching = any(
        lows[at] in REACHING and not (lows[at] in _HOW_LONG and songs_at < at)  # 10 goes on until I nod, 12 fades
        for item in unexplained
        for at in range(item.at, item.end)
    )
    return piece.said if is_reaching and not is_courtesy(piece.said) else ""


def _is_not(item: ReplyItem) -> bool:
    return isinstance(item.what, TurnOfPhrase) and item.what.kind in (NOT, HEDGE)


def _opens_or_closes(parts: Sequence[SentencePart], at: int) -> str:
    """Return the words of a doubt that opens a sentence, before any song, or closes it alone; else ""."""
    piece = parts[at][0]
    hedges = [item.at for item in piece.items if _is_not(item)]
    if not hedges or len(parts) == 1:
        return ""
    stated = [item.at for item in (*piece.songs, *piece.facts)]
    is_first = at == 0 and (not stated or hedges[0] < min(stated)) and bool(piece.turns(HEDGE))
    is_last = at == len(parts) - 1 and not stated and not piece.unknown
    return piece.said if is_first or is_last else ""


def _remark(parts: Sequence[SentencePart], at: int) -> str:
    """Return the words of a piece that states no fact, where they may be about the facts beside it; else ""."""
    piece = parts[at][0]
    if piece.songs:
        follows = parts[at + 1][0].is_attached if at + 1 < len(parts) else False
        is_cut = not piece.is_explained and not piece.facts  # 1 zorp and 2 in G
        return piece.said if piece.is_attached or follows or is_cut else ""
    if is_unknown_name(piece):
        return ""
    is_place = piece.said[:1].isupper() and any(isinstance(one, DayClaim) for _, said in parts for one in said)
    return "" if piece.is_explained or is_place or is_courtesy(piece.said) else piece.said


def is_unknown_name(piece: ReplyPiece) -> bool:
    """Return whether a piece is a name and no more, which the show does not have: Lantern Street."""
    names = [word for word in piece.said.split() if word[:1].isupper() and len(word) > 1]
    is_all = len(piece.unknown) == len(piece.items) > 1
    return is_all and len(names) == len(piece.said.split())


def names_another(piece: ReplyPiece) -> bool:
    """Return whether a sentence begins with a name that the show does not have and its key: "The waltz G"."""
    if not piece.begins_sentence or piece.songs:
        return False
    items = [one for one in piece.items if one.end > one.at]
    names = 1 if items and piece.said.split()[0].casefold() in _ARTICLES else 0
    if names >= len(items) or items[names].what is not None:
        return False
    after = names
    while after < len(items) and items[after].what is None:
        after += 1
    while after < len(items) and is_filler(items[after]):
        after += 1
    said = piece.said.split()[names] if len(piece.said.split()) > names else ""
    is_name = len(said) >= MIN_NAME and not said.endswith(("ed", "ing")) and (names or said[:1].isupper())
    return bool(is_name) and after < len(items) and isinstance(items[after].what, KeyFact)


MIN_NAME: Final = 4  # letters
_ARTICLES: Final = set_of("the a an der die das le la les l' el los las il lo gli i o os as de het den det")


def _beside(parts: Sequence[SentencePart], at: int, lows: Sequence[str]) -> Iterator[int]:
    """Yield the places of the facts that words left over may be about."""
    piece = parts[at][0]
    if piece.songs:
        if piece.is_attached:
            yield at - 1
        if at + 1 < len(parts) and not _is_of_its_own(piece, parts[at + 1][0], lows):
            yield at + 1
        return
    before = next((place for place in range(at - 1, -1, -1) if _lands(parts[place][1])), None)
    if before is not None:
        yield before
    if before is None or (at + 1 < len(parts) and not parts[at + 1][0].songs):
        yield from range(at + 1, len(parts))


def _is_of_its_own(before: ReplyPiece, after: ReplyPiece, lows: Sequence[str]) -> bool:
    """Return whether a comma separates two songs, each with words of its own: "10 watch me, 12 big rit"."""
    between = lows[before.items[-1].end : after.items[0].at]
    is_parted = any(one in (",", ";") for one in between) and "and" not in between and "or" not in between
    names_first = bool(after.songs) and after.items[0].at == after.songs[0].at and after.is_explained
    return is_parted and names_first and bool(after.facts) and len(before.unknown) > 1


MAX_RETRACTED: Final = 4  # words of a line that takes the one above it back: "no, not that one"


def takes_back(pieces: Sequence[ReplyPiece], lows: Sequence[str], *, is_same_line: bool) -> bool:
    """Return whether a sentence that states nothing speaks of what was said before it: "Wrong.", "no sorry A"."""
    if any(piece.songs for piece in pieces):
        return False
    said = [lows[at] for piece in pieces for item in piece.items for at in range(item.at, item.end)]
    if not said or is_courtesy(" ".join(piece.said for piece in pieces)):
        return False
    if any(piece.turns(CORRECT) for piece in pieces):
        return True
    if set(said) & _OF_KEYS and len(said) <= MAX_RETRACTED:
        return True  # 1 B! flat
    denies = any(piece.turns(NOT) for piece in pieces) or said[0] in ("no", "nope", "nein", "nah")
    if is_same_line:
        return denies or (bool(set(said) & _REFERRING) and not all(piece.is_explained for piece in pieces))
    return denies and len(said) <= MAX_RETRACTED
