"""Remarks that have a number or a bullet as the songs have, or stand apart below them: - remember spare fuses."""

from collections import Counter
from collections.abc import Sequence
from typing import Final

from companion.setlist.laughter import laughs
from companion.setlist.model import LineKind
from companion.setlist.parsing.doubts import song_or_not
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.line_kinds import is_farewell, is_sentence
from companion.setlist.parsing.list_style import Style
from companion.setlist.parsing.patterns import BARE_NUMBER
from companion.setlist.parsing.prose_lines import in_brackets

FEWEST: Final = 4  # songs that tell what is usual
MOST_KEYED: Final = 0.8  # share of the songs with a key
MOST_FALLEN: Final = 0.2  # share of the titles that may begin with a small letter
FEW: Final = 0.3  # share of the lines that may have another bullet
LONG: Final = 7  # words of a line that is longer than any title
MORE: Final = 2  # words more than the longest title


def take_remarks(found: Sequence[Classified], style: Style) -> None:
    """Take such lines for no songs, each with the question whether it is one."""
    songs = [one for one in found if one.took is LineKind.SONG and one.draft]
    keyed = [one for one in songs if one.has_key]
    if len(songs) < FEWEST:
        return
    is_keyed = len(keyed) >= MOST_KEYED * len(songs)
    fallen = sum(one.line.text[:1].islower() for one in keyed)
    rises = bool(keyed) and fallen <= MOST_FALLEN * len(keyed)
    usual = Counter(_bullet(one) for one in songs).most_common(1)[0][0]
    others = [one for one in songs if _bullet(one) != usual]
    _take_notes_by_number(songs, rises=rises)
    songs = [one for one in songs if one.took is LineKind.SONG]
    for at, one in enumerate(songs):
        if one.has_key or one.draft is None or one.draft.length_s:
            continue
        text = one.line.text
        bare = BARE_NUMBER.sub("", text)
        is_small = rises and text[:1].islower()
        is_bracketed = rises and in_brackets(bare) and bare[1:2].islower()  # 3 (countdown, then balloons)
        is_other = style.is_shaped and _bullet(one) != usual and len(others) <= FEW * len(songs)
        is_talk = is_sentence(text) or is_farewell(text)
        below = (
            is_keyed and one.line.is_marked and (is_small or is_other) and (is_other or is_talk or _breaks(songs, at))
        )
        below = below or (is_keyed and is_bracketed)
        if below or (is_keyed and at == len(songs) - 1 and is_farewell(text)) or _is_longer(one, songs, at, found):
            one.took, one.draft, one.doubts = LineKind.LEFT, None, (song_or_not(text),)


def _take_notes_by_number(songs: Sequence[Classified], *, rises: bool) -> None:
    """Take a message in small letters that begins with the number of a song above for a note on it: 7 has an intro."""
    above: dict[int, Classified] = {}
    for one in songs:
        number, text = (one.draft.number, one.draft.title) if one.draft else (None, "")
        song = above.get(number) if number is not None else None
        is_note = rises and song is not None and one.line.message.sender and text[:1].islower() and not one.has_key
        if is_note and song and song.draft and one.draft and song.line.message.sender != one.line.message.sender:
            is_joke = laughs(one.line.message.text)
            if not is_joke:
                song.draft.take_each(text)
            one.took, one.draft, one.doubts = LineKind.LEFT, None, () if is_joke else (song_or_not(text),)
        elif number is not None:
            above.setdefault(number, one)


def _bullet(one: Classified) -> str:
    """Return the sign before a line without words or numbers: -, [ ]."""
    whole = one.line.whole.lstrip()
    sign = whole[: len(whole) - len(one.line.text)].strip() if whole.endswith(one.line.text) else ""
    return "1" if any(letter.isalnum() for letter in sign) else sign


def _breaks(songs: Sequence[Classified], at: int) -> bool:
    """Return whether a line's number is out of the order that goes on around it: 8, 6 (at six), 9."""
    before = next((one.line.number for one in reversed(songs[:at]) if one.line.number is not None), None)
    number = songs[at].line.number
    return number is not None and before is not None and number <= before


def _is_longer(one: Classified, songs: Sequence[Classified], at: int, found: Sequence[Classified]) -> bool:
    """Return whether the last line, apart from the songs, is longer than any title: no encore, we are not that band."""
    if at < len(songs) - 1 or one.line.is_marked or not one.line.row.blank_before or found[-1] is not one:
        return False
    longest = max(len(other.draft.title.split()) for other in songs[:-1] if other.draft)
    words = len(one.line.text.split())
    return words >= max(LONG, longest + MORE) and not one.line.text.istitle()
