"""Headings that say beside which part of the evening a set is played: before tea, after the speeches, zum Essen."""

import re
from typing import Final

from companion.setlist.parsing.event_vocabulary import BESIDE, MAY_BE, SURE

# Words in front of what happens, in each language (dictionaries; no single source).
_FRONTS: Final = (
    "before|after|(?:in )?between|during|over|following|pre|post|vor|nach|zwischen|während|zum|zur|beim|avant|"
    "après|pendant|entre|antes de|después de|despues de|antes do|antes da|antes del|después del|depois de|"
    "depois do|depois da|durante|prima di|prima del|prima della|prima dell|dopo|tra|fra|voor|na|tussen|tijdens|"
    "før|efter|etter|mellem|mellom|mellan|under|innan|före|przed|po|między|podczas|před|mezi|během|pred|ennen"
)
_ARTICLES: Final = (
    "the|our|their|his|her|a|dem|der|den|des|das|die|le|la|les|l|el|los|las|il|lo|gli|i|o|os|as|de|het|"
    "first|second|last|main|quiz|evening|and|&"
)
# What is no event on a line of its own, or has another ending after such a word.
_OTHER_WORDS: Final = """
round rounds game games course courses starter starters mains pudding puddings service mass film match fight
bout bouts act acts band bands support headliner main event ceremony vows midnight kick-off kickoff half-time
halftime countdown fireworks doors shop lights opening closing bells show play panto nativity procession parade
runde runden gang gängen gänge spiel trauung gottesdienst mitternacht ehrung auftritt ansprache feuerwerk film
plat plats messe cérémonie minuit match apéritif vin     ceremonia misa medianoche partido cerimonia messa
mezzanotte partita cerimónia missa meia-noite jogo     ronde rondes dienst middernacht wedstrijd voorgerecht
hoofdgerecht nagerecht eten     maten maden pausen talen talene talerne tale middagen kagen kaken tårtan kaffet
kaffen vigseln vielsen lotteriet     obiadem obiedzie kolacją kolacji przerwą przerwie obědem obědě večeří
večeři přestávkou přestávce     ruokaa kahvia taukoa puheita
"""
_OTHERS: Final = frozenset(_OTHER_WORDS.split())
_FORM: Final = re.compile(
    rf"^((?:{_FRONTS})(?:[\s-]|['’])(?:(?:{_ARTICLES})(?:\s|['’])){{0,2}}([^\W\d_][\w'’-]{{1,20}})(?:\s\d(?![\d:.h]|\s?[ap]m|\suhr))?)(?![\w'’-])(.*)$",
    re.IGNORECASE,
)


def around_event(text: str) -> tuple[str, str] | None:
    """Return how a line names a set by an event beside which it is played, and the rest of the line; else None.

    >>> around_event("before the quiz (7 til 7.30)"), around_event("After Hours"), around_event("nach dem Essen")
    (('Before the quiz', ' (7 til 7.30)'), None, ('Nach dem Essen', ''))
    """
    found = _FORM.match(text)
    word = found[2].casefold() if found else ""
    if found and word not in BESIDE and (word in SURE or word in MAY_BE or word in _OTHERS):
        said = found[1].lower() if found[1].isupper() else found[1]
        return said[:1].upper() + said[1:], found[3]
    return None
