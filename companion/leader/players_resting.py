"""A player who does not play, in all of a song or in a part of it: "no click", "first verse without keys"."""

from collections.abc import Sequence
from typing import Final

from companion.leader.hour_words import folded_words
from companion.leader.players import PLAYERS, THE_LEADER
from companion.leader.reply_words import COUNTED, NUMBER, ORDINALS, SIGN, ReplyWord, low, set_of
from companion.leader.stated_fact import StatedFact

_NO: Final = folded_words(
    "no without ohne kein keine keinen sans sin senza sem zonder geen utan inget ingen inga uden intet uten bez nessun "
    "nessuna ningún ninguna nenhum nenhuma"
)
_THE: Final = set_of("the any die den das les la le il i gli el los as os de het")
_KEYS: Final = set_of("keys piano organ synth")
_CLICK: Final = set_of("click clicks klick klik clic click-track metronome metronom")
# Parts of a song, and the words before them.
_PARTS: Final = folded_words(
    "intro verse verses chorus choruses bridge solo solos outro coda head tag refrain strophe strophen vers pont "
    "couplet couplets estrofa estrofas estribillo puente strofa strofe ritornello ponte refrein coupletten versen "
    "refrängen sticket omkvæd refreng zwrotka zwrotki refren sloka sloky refrén beginning start end anfang ende"
)
_BEFORE_PARTS: Final = folded_words(
    "the a first second third last middle 1st 2nd 3rd all der die das den dem erste ersten erster zweite zweiten "
    "dritte dritten letzte letzten le la les l el los las il lo i gli première premier deuxième deux dernier dernière "
    "primera primer primero segunda segundo última último prima primo seconda secondo ultima ultimo de het eerste "
    "tweede laatste första andra sista første anden sidste andre siste pierwsza pierwszej w v první druhé"
)
_TURNS: Final = set_of("time round mal durchgang fois vez volta keer gang gangen")  # first time round
_IN: Final = folded_words(
    "in on at during for until till til before through to im bis beim während zum zur dans pendant jusqu jusquau "
    "jusqua au à en hasta durante al a nel nella fino alla in tot tijdens i under till til indtil før w do v až no até"
)
_PLAIN_ENDS: Final = set_of("please pls bitte svp thanks and but then there at all here")


def player_rests(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read that a player rests in a part of a song, or one other than the keys in all of it."""
    begin = at
    part = _part_end(words, at)
    at = part or at
    many = 2 if low(words, at) == "pas" and low(words, at + 1) == "de" else int(low(words, at) in _NO)
    many += bool(many) and low(words, at + many) in _THE
    player = PLAYERS.get(low(words, at + many), "click" if low(words, at + many) in _CLICK else "")
    if not many or player in ("", THE_LEADER, "all", "nobody"):
        return None
    end = at + many + 1
    when = 0 if part else _when_end(words, end)
    if not (part or when) and (player in _KEYS or not _ends(words, end)):
        return None
    end = when or end
    return StatedFact("notes", " ".join(word.text for word in words[begin:end]), end)


def _part_end(words: Sequence[ReplyWord], at: int) -> int:
    """Return where the name of a part of a song ends: the first verse, verse 2, bridge; 0 if none is here."""
    end = at
    while low(words, end) in _BEFORE_PARTS or low(words, end) in ORDINALS:
        end += 1
    if low(words, end) in _TURNS and end > at:
        return end + 1 + (low(words, end + 1) in ("round", "through", "around"))
    if low(words, end) not in _PARTS:
        return 0
    end += 1
    is_counted = end < len(words) and (words[end].kind == NUMBER or low(words, end) in COUNTED)
    return end + is_counted if not is_counted or _ends(words, end + 1) or low(words, end + 1) in _NO else end


def _when_end(words: Sequence[ReplyWord], at: int) -> int:
    """Return where "in the first verse", "until the bridge" ends; 0 if nothing of that kind is here."""
    return _part_end(words, at + 1) if low(words, at) in _IN else 0


def _ends(words: Sequence[ReplyWord], at: int) -> bool:
    is_before_song = low(words, at) in ("in", "on", "for") and at + 1 < len(words) and words[at + 1].kind == NUMBER
    return at >= len(words) or words[at].kind == SIGN or words[at].low in _PLAIN_ENDS or is_before_song
