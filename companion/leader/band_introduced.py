"""The players of the band are introduced during a song, which says nothing of who starts it: with the band intros."""

from collections.abc import Sequence
from typing import Final

from companion.leader.hour_words import folded_phrases
from companion.leader.reply_words import ReplyWord, low, phrase_of
from companion.leader.stated_fact import StatedFact

_INTRODUCED: Final = folded_phrases(
    "band intros | band introductions | band introduction | member intros | intros of the band | "
    "introductions of the band | introduction of the band | introducing the band | bandvorstellung | "
    "vorstellung der band | vorstellung der musiker | présentation des musiciens | présentation du groupe | "
    "présentations | presentación de la banda | presentación del grupo | presentación de los músicos | "
    "presentaciones | presentazione della band | presentazione dei musicisti | apresentação da banda | "
    "apresentação dos músicos | bandpresentation | bandpresentationen | presentation av bandet | "
    "præsentation af bandet | presentasjon av bandet | voorstellen van de band | bandvoorstelling | "
    "przedstawienie zespołu | představení kapely"
)
_LEADING: Final = folded_phrases(
    "with | with the | including | including the | incl | incl the | incl . | plus | plus the | and | for the | "
    "during the | then | then the | the | mit | mit der | inklusive | avec | avec la | avec les | con | con la | "
    "con las | com | com a | met | met het | med | inklusive | z | s"
)


def band_introduced(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read that the band is introduced in a song, as a note."""
    end = _end(words, at)
    first = at + (low(words, at) in ("and", "then"))
    return StatedFact("notes", " ".join(word.text for word in words[first:end]), end) if end else None


def introduces_band(words: Sequence[ReplyWord]) -> bool:
    """Return whether words say so anywhere."""
    return any(_end(words, at) for at in range(len(words)))


def _end(words: Sequence[ReplyWord], at: int) -> int:
    begins = at + phrase_of(words, at, _LEADING)
    many = phrase_of(words, begins, _INTRODUCED) if begins < len(words) else 0
    return begins + many if many else 0
