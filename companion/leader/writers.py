"""Who writes a reply, where it is a player who says so: "Drummer here!", "hier ist der Schlagzeuger"."""

import re
from typing import Final

from companion.leader.guess_words import player_of
from companion.leader.hour_words import folded_words
from companion.leader.players import THE_LEADER
from companion.leader.reply_words import words_of

# Who plays; the instrument alone may as well be there: "drums here are provided".
_WHO_PLAYS: Final = folded_words(
    "drummer guitarist bassist pianist singer violinist accordeonist accordionist trommler schlagzeuger gitarrist "
    "sänger sängerin bassistin geiger batteur guitariste bassiste chanteur chanteuse accordéoniste violoniste "
    "batterista chitarrista bassista cantante baterista guitarrista bajista baixista cantor cantora trummis "
    "trummisen trommeslager trommis gitarristen basisten sångare sångaren sångerskan trommeslageren slagwerker "
    "gitarzysta gitarzystka perkusista basista wokalista wokalistka bubeník kytarista basák zpěvák zpěvačka"
)
_MORE: Final = {
    "trommler": "drums", "batteur": "drums", "trummis": "drums", "trummisen": "drums", "trommis": "drums",
    "slagwerker": "drums", "bubenik": "drums", "trommeslageren": "drums", "guitariste": "guitar",
    "kytarista": "guitar", "gitarzystka": "guitar", "bassiste": "bass", "bassista": "bass", "bajista": "bass",
    "baixista": "bass", "basak": "bass", "bassistin": "bass", "basisten": "bass", "violoniste": "violin",
    "geiger": "violin", "zpevak": "singer", "zpevacka": "singer", "sangare": "singer", "sangerskan": "singer",
    "accordionist": "accordion", "accordeoniste": "accordion",
}  # fmt: skip
_HERE: Final = folded_words("here hier ici qui aquí aqui här her tu tutaj tady soy am i'm im bin suis sono sou jestem")
_FIRST_WORDS: Final = 12


def player_who_writes(text: str) -> str:
    """Return the player who writes, who is the "I" of the reply; "" if the reply does not say."""
    words = words_of(re.sub(r"\s+", " ", text[:400]))[:_FIRST_WORDS]
    for at, word in enumerate(words):
        beside = {one.low for one in (*words[max(at - 3, 0) : at], *words[at + 1 : at + 2])}
        if word.low in _WHO_PLAYS and beside & _HERE:
            player = _MORE.get(word.low) or player_of(word.low)
            return "" if player == THE_LEADER else player
    return ""
