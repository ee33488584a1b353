"""Tell a line of talk about a song of the list from a song of its own: oh and do Moth in D."""

import re
from collections.abc import Sequence
from typing import Final

from companion.setlist.model import LineKind
from companion.setlist.notation import Notation
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.list_style import Style
from companion.setlist.parsing.list_talk import heads_changes, with_titles_for_places
from companion.setlist.parsing.song_draft import Draft
from companion.setlist.parsing.song_line import read_song
from companion.setlist.parsing.talk_changes import TalkKind, changes_said, new_song
from companion.setlist.parsing.titles_named import ARTICLES, MARK, songs_named
from companion.show.titles import folded

MOST_FALLEN: Final = 0.3  # share of the titles that may begin with a small letter
FEWEST: Final = 3  # words of talk
LONG_WORD: Final = 4  # letters; shorter words begin with capitals less often
_MARK: Final = "\ue001"
_SPACED: Final = f" {_MARK} "
_NEW: Final = "\ue0000\ue001"  # in the place of a title that the list has not yet
_MARKED: Final = re.compile(MARK)
_IN_BRACKETS: Final = re.compile(r"\([^()]*\)")
_WANTS: Final = re.compile(
    r"\s(?:wants?(?: us)?(?: to (?:do|play|hear|add|sing))?|asked for|möchte|will noch|wünscht sich|veut|voudrait|"
    r"quiere|"
    r"vuole|quer|wil graag|vill ha|vil gerne?)\s$",
    re.IGNORECASE,
)
NEAR: Final = 3  # messages
_SMALL_SENTENCE: Final = re.compile(r"^[^\W\dA-ZÀ-Þ][^.!?]{0,60}[.!?]+\s")
_STOPS: Final = re.compile(r"[.!?]+(?:\s|$)")
_BEFORE_KEY: Final = ("in", "en", "em")
_SIGNS: Final = ",:.!?'’"
_REASON: Final = re.compile(r",\s|\s[-–—]\s|\s?[(.!?;]")
_OPENERS: Final = (
    "oh ah and actually also sorry ok okay please pls can could we i i'm ps edit btw make do let's lets drop "
    "swap move put "
    "change lose cut skip no not just one but so yes yeah fine ach ah und achso also noch bitte können wir ich machen "
    "spielt spielen tauschen streichen finalement et ah désolé on peut oui pardon au fait y ah al final perdón podemos "
    "vamos e scusate alla possiamo facciamo allora e desculpa vamos oh en nog sorry kunnen we toch och förlåt "
    "kan vi så og "
    "undskyld beklager kan vi forresten a jeszcze možná ještě a i još"
)
_OPENS: Final = frozenset(_OPENERS.split())


def take_corrections(found: Sequence[Classified], style: Style, notation: Notation) -> None:
    """Take lines that were read as songs for talk about songs above them: an order, or a title again in another key."""
    above: list[str] = []
    songs: list[Draft] = []
    is_below_changes = False
    keys: dict[str, object] = {}
    dropped_at: int | None = None
    for at, one in enumerate(found):
        if one.took in (LineKind.NOTE, LineKind.LEFT) and one.line.message.sender:
            if one.took is LineKind.NOTE and dropped_at is not None and _comes_instead(one, at - dropped_at, notation):
                one.took, one.doubts, one.facts = LineKind.LEFT, (), ""
            dropped_at = at if _drops(one, above, notation) else dropped_at
        if (
            one.took is LineKind.NOTE
            and above
            and (_is_about(one, above[:-1]) or _orders(one, songs, notation, is_sure=is_below_changes))
        ):
            one.took, one.doubts, one.facts = LineKind.LEFT, (), ""
        if one.took is LineKind.NOTE and at and _answers(one, found[at - 1]):
            one.took, one.doubts, one.facts = LineKind.LEFT, (), ""
        is_below_changes = is_below_changes or (bool(above) and heads_changes(one.line.whole))
        if one.took is not LineKind.SONG:
            continue
        if one.inline is not None:
            songs += [read_song(line, style) for line in one.inline.lines(one.line.row)]
            above = [draft.title for draft in songs]
        elif one.draft is not None and (
            _is_again(one, keys)
            or _is_part_again(one, above, notation)
            or (_is_order(one, songs, style, notation) and not _stands_among(found, at, above, notation))
            or _is_about(one, above)
        ):
            one.took, one.draft, one.doubts = LineKind.LEFT, None, ()
            dropped_at = at if _drops(one, above, notation) else dropped_at
        elif one.draft is not None:
            songs.append(one.draft)
            above.append(one.draft.title)
            keys.setdefault(folded(one.draft.title), one.draft.key)


def _drops(one: Classified, above: Sequence[str], notation: Notation) -> bool:
    return any(change.kind is TalkKind.DROP for change in changes_said(one.line.text, above, notation))


def _comes_instead(one: Classified, lines: int, notation: Notation) -> bool:
    """Return whether a message few lines below the one that takes a song out names another one and its key."""
    new = new_song(one.line.text, notation) if lines <= NEAR else None
    return new is not None and new.key is not None


def _answers(one: Classified, above: Classified) -> bool:
    """Return whether a message answers the question of another right above it."""
    who, asks = one.line.message.sender, above.line.message.sender
    return bool(who and asks) and who != asks and above.took is LineKind.LEFT and above.line.text.endswith("?")


def _is_again(one: Classified, keys: dict[str, object]) -> bool:
    """Return whether a message names a song of the list again, with another key: Moth is D now."""
    if one.draft is None or not (one.line.message.sender or one.line.talk):
        return False
    title = folded(one.draft.title)
    known = next((other for other in keys if title in (other, f"{other} is", f"{other} now")), None)
    return known is not None and keys[known] != one.draft.key


def _is_part_again(one: Classified, above: Sequence[str], notation: Notation) -> bool:
    """Return whether a message names a song above by a part of its title, and its key: ok, Moth in D.

    Words of talk are beside it, or a question is.
    """
    line = one.line
    talks = line.talk or "?" in line.text or _SMALL_SENTENCE.match(line.text)
    if not line.message.sender or line.is_marked or not talks:
        return False
    named = songs_named(line.text, above)
    if named.whole or len(named.part) != 1:
        return False
    sentences = (said.strip(" .!") for said in _STOPS.split(named.text))
    return any(
        (mark := _MARKED.match(said))
        and (end := key_at_end(f"x {said[mark.end() :].strip()}", notation))
        and end.before == "x"
        for said in sentences
    )


def _is_order(one: Classified, songs: Sequence[Draft], style: Style, notation: Notation) -> bool:
    """Return whether a line says what to change in a song above it, in the words of talk."""
    line, above = one.line, [draft.title for draft in songs]
    if (style.is_shaped and style.marks(line)) or len(line.text.split()) < FEWEST:
        return False
    others = [title for title in above if one.draft is None or folded(title) != folded(one.draft.title)]
    rises = sum(title[:1].islower() for title in above) <= MOST_FALLEN * len(above)
    changes = [change for change in changes_said(line.text, others, notation) if change.kind is not TalkKind.NOTE]
    said = line.text
    if not changes and (said := with_titles_for_places(line.text, songs)) != line.text:
        changes = [change for change in changes_said(said, others, notation) if change.kind is TalkKind.ADD]
    if changes:
        if any(change.kind is TalkKind.ADD and change.beside is not None and change.is_whole for change in changes):
            return True  # After Moth we do Weeds in D
        text = songs_named(said, others).text
        for change in changes:
            text = text.replace(change.words, _NEW) if change.kind is TalkKind.ADD else text
        return _is_talk(text, rises=rises)
    if not above or one.draft is None:
        return False
    new = new_song(line.text, notation)
    is_longer = new is not None and len(new.words) < len(one.draft.title)
    if new is None or not is_longer:
        return False
    wants = _WANTS.search(line.text[: line.text.find(new.words)])
    if wants and (wants[0].islower() or line.text.isupper()):
        return True  # Pete wants to do Moth as well; not the title I Want To Do Moth
    return bool(new.side) and _is_talk(line.text.replace(new.words, _NEW), rises=rises)


def _orders(one: Classified, songs: Sequence[Draft], notation: Notation, *, is_sure: bool) -> bool:
    """Return whether a line that was read as a note says what to change in a song that it names: drop Weeds.

    ``is_sure``: the line stands below words that announce changes.
    """
    if one.facts:
        return False
    above = [draft.title for draft in songs]
    changes = changes_said(one.line.text, above, notation)
    if is_sure and changes:
        return True
    kinds = {change.kind for change in changes if change.song >= 0}
    placed = with_titles_for_places(one.line.text, songs)
    if placed != one.line.text and any(one.kind is TalkKind.ADD for one in changes_said(placed, above, notation)):
        return True
    if one.line.row.indent > 0:  # it may be about the song that it stands under
        kinds = {
            change.kind
            for change in changes_said(one.line.text, above[:-1], notation)
            if change.song >= 0 and change.is_whole
        } - {TalkKind.PLACE, TalkKind.KEY}
    return bool(kinds & {TalkKind.DROP, TalkKind.SWAP, TalkKind.PLACE, TalkKind.KEY})


def _stands_among(found: Sequence[Classified], at: int, above: Sequence[str], notation: Notation) -> bool:
    """Return whether a line with its key, which shares but a word with another title, has a song above and below it."""
    one, beside = found[at], (*found[max(at - 1, 0) : at], *found[at + 1 : at + 2])
    is_among = len(beside) > 1 and all(
        other.took is LineKind.SONG and other.line.message.message == one.line.message.message for other in beside
    )
    return one.has_key and is_among and not any(one.is_whole for one in changes_said(one.line.text, above, notation))


def _is_about(one: Classified, above: Sequence[str]) -> bool:
    """Return whether a line begins with another song's title and goes on in small words; with a key only in a chat."""
    if (one.has_key and not one.line.message.sender) or one.line.is_marked or len(one.line.text.split()) < FEWEST:
        return False
    others = [title for title in above if " " in title]
    named = songs_named(one.line.text, others) if others else None
    if named is None or len(named.whole) != 1 or one.line.text.islower():
        return False
    words = [word for at, word in enumerate(named.text.split()) if not (at and plain_key(word.strip(_SIGNS)))]
    words = words[1:] if len(words) > 1 and words[0].lower() in ARTICLES else words
    small = [word for word in words[1:] if word.strip(_SIGNS).islower()]
    return bool(_MARKED.match(words[0].rstrip(_SIGNS))) and len(small) >= FEWEST and len(small) >= len(words) - 2


def _is_talk(text: str, *, rises: bool) -> bool:
    """Return whether the words around marks of titles are small, or talk begins so."""
    text = _MARKED.sub(_SPACED, _IN_BRACKETS.sub("", text))
    parts = _REASON.split(text)
    said = parts[0] if _MARK in parts[0] else text
    words = [word.strip(_SIGNS) for word in said.split()]
    if all(word in ("", _MARK) for word in words):
        return False
    first = words[0].lower()
    if not rises and first != _MARK:
        return first in _OPENS
    ahead = words[: words.index(_MARK)] if _MARK in words else words
    behind = [word for word in words[len(ahead) :] if len(word) >= LONG_WORD]
    if first == _MARK and not any(word.islower() and word not in _BEFORE_KEY for word in words[1:] if len(word) > 1):
        return False  # Gravel Hour 2 in A
    small = not any(word[:1].isupper() and len(word) > 1 and word.lower() not in _OPENS for word in ahead[1:] + behind)
    return small and (first == _MARK or words[0][:1].islower() or first in _OPENS)
