"""The number before a click at the beginning of a line is that of a song: 11 click, then everybody."""

from collections.abc import Sequence
from typing import Final

from companion.leader.reply_words import NUMBER, ReplyWord, low, set_of
from companion.leader.songs_meant import SongNames, SongsMeant

_ONE: Final = set_of("click klick klik klikk clic metronome")
_MANY: Final = set_of("clicks klicks count")


def song_of_click(words: Sequence[ReplyWord], at: int, names: SongNames, within: int | None) -> SongsMeant | None:
    """Read the number that begins a line as a song before "click"; in doubt before "clicks", which it may count."""
    said = low(words, at + 1)
    if at or words[at].kind != NUMBER or said not in _ONE | _MANY:
        return None
    meant = names.numbered(words[: at + 1], at, within)
    if meant is None or len(meant.songs) != 1 or meant.no_song:
        return None
    counts = said in _MANY or words[at].text == "1"
    doubt = f"{words[at].text} {said}, or song {words[at].text}?" if counts else ""
    return meant._replace(doubt=meant.doubt or doubt)
