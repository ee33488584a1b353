"""Songs of a reply that the show does not have: the player sees them, and their facts land for no other song."""

import re
from collections.abc import Iterator, Sequence
from typing import Final

from companion.leader.reply_items import ReplyItem, ScannedLine
from companion.leader.reply_readings import NOWHERE, Claim, ReplyReading, Unread
from companion.leader.reply_words import phrase_of, phrases
from companion.leader.songs_meant import SongsMeant
from companion.leader.stated_fact import StatedFact
from companion.show.titles import folded

_NEW: Final = re.compile(
    r"(?:^|(?<=[.,;!?–—-]\s))(?:(?:and|also|oh|plus|ps|but|there['’]?s|we['’]?ve got|we have|we['’]ve|got)[:,]?\s){0,3}"
    r"(?:(?:a|one|the|another|two|some)\s)?(?:brand[ -])?"
    r"(?:new (?:one|song|tune|number)s?\b|(?:added|adding|add(?= ['\"“‘«„]?[A-Z])|extra song|additional song)\b)|"
    r"(?:^|(?<=[.,;!?–—-]\s))(?:we (?:also )?|i )?(?:need|want|['’]d like) "
    r"(?:\d|one|two|three|four|a couple|some|another)(?: (?:more|extra|another|new|songs?|tunes?))?\b(?=[^.!?]{0,40}:)",
    re.IGNORECASE,
)
_SENTENCE_END: Final = re.compile(r"(?<=[^\d\s])[.!]\s")
_INSTEAD: Final = phrases(
    "instead of | in place of | rather than | byt ut | byt | ersatt | ersetz | ersetze | ersetzt | ersetzen wir | "
    "wir ersetzen | remplace | remplacez | on remplace | au lieu de | statt | anstatt | stattdessen | sostituisci | "
    "sostituite | invece di | al posto di | sustituye | sustituimos | en lugar de | en vez de | vervang | "
    "in plaats van | skift | i stedet for | i stallet for | zamiast | zamien | em vez de | troca"
)


def without_new_song(text: str, titles: Sequence[str] = ()) -> tuple[str, str]:
    """Split off what a line says of a new song: the words before it, and the words from there to its end.

    ``titles``: the songs of the show, folded; they are not new.
    """
    found = _NEW.search(text)
    if found and folded(text[found.end() :]).startswith(tuple(filter(None, titles))):
        found = None
    if not found:
        return text, ""
    ends = _SENTENCE_END.search(text, found.end())
    end = ends.end() if ends else len(text)
    before, after = text[: found.start()].rstrip(" ,;–—-"), text[end:].strip()
    if not after:
        before = before.rstrip(" .")
    return f"{before} {after}".strip(), text[found.start() : end].strip()


def swapped(line: ScannedLine) -> Iterator[ReplyReading] | None:
    """Read "instead of Moth we'll play Sugar Lump in A": the first may be dropped, all else is kept; else None."""
    for item in line.items:
        gone = _song_after(line, item)
        if gone is not None:
            fact = StatedFact("dropped", True, gone.end)
            return iter((Claim(gone, fact, line.text, line.text), Unread(NOWHERE, line.text)))
    return None


def _song_after(line: ScannedLine, item: ReplyItem) -> SongsMeant | None:
    many = phrase_of(line.words, item.at, _INSTEAD)
    after = next((one.what for one in line.items if one.at == item.at + many), None) if many else None
    return after if isinstance(after, SongsMeant) and len(after.songs) == 1 and not after.is_word else None
