"""Words that only announce what follows a colon: "Only two from me:", "zwei Sachen von mir:", "A few changes:"."""

from collections.abc import Sequence
from typing import Final

from companion.leader.hour_words import HOURS, folded_phrases, folded_words
from companion.leader.reply_items import ReplyItem, Separator
from companion.leader.reply_words import COUNTED, WORD, ReplyWord, low, phrase_of
from companion.leader.turns_of_phrase import CORRECT, FILLER, TurnOfPhrase

_SMALL: Final = folded_words(
    "only just and but so also a an the few couple of some more quick small little short last final one for i have "
    "here are is there's theres nur noch ein eine paar kurze kleine letzte ich habe es gibt seulement juste encore un "
    "une quelques petites petits derniere j'ai il y solo sólo un par unas unos pequeños tengo hay ultimo ultima ho c'è "
    "un paio di qualche apenas só uns umas alleen maar nog een paar kleine heb bara ett en några små har bare et noen "
    "nogle par tylko kilka jen několik"
)
_THINGS: Final = folded_words(
    "thing things change changes note notes point points remark remarks correction corrections update updates bits "
    "sache sachen dinge ding änderung änderungen punkte punkt anmerkung anmerkungen chose choses changement "
    "changements remarque remarques cosa cosas cambio cambios cose cambi cambiamenti nota notas coisa coisas mudança "
    "mudanças dingen wijziging wijzigingen punten sak saker ändring ändringar ting ændring ændringer endring endringer "
    "rzecz rzeczy zmiana zmiany věc věci změna změny"
)
_FROM_ME: Final = folded_phrases(
    "from me | from my side | from my end | on my side | on my end | von mir | von meiner seite | de ma part | "
    "de moi | de mi parte | por mi parte | da parte mia | da me | da minha parte | van mij | van mijn kant | "
    "från mig | från min sida | fra mig | fra meg | fra min side | ode mnie | ode mě | only from me | for me"
)
_MAX: Final = 9  # words


def with_lead_ins(words: Sequence[ReplyWord], items: Sequence[ReplyItem]) -> list[ReplyItem]:
    """Return the items with such words, at the beginning of a sentence, as ones that mean nothing."""
    kept: list[ReplyItem] = []
    end, begins = 0, True
    for item in items:
        if begins and item.at >= end:
            end = lead_in(words, item.at) or end
        corrects = isinstance(item.what, TurnOfPhrase) and item.what.kind == CORRECT  # only change: 4 in G
        is_empty = item.end <= end and not corrects
        kept.append(item._replace(what=TurnOfPhrase(FILLER, item.end)) if is_empty else item)
        begins = isinstance(item.what, Separator) and item.what.is_strong
    return kept


def lead_in(words: Sequence[ReplyWord], at: int) -> int:
    """Return the end of an announcement before its colon; 0 if none is here."""
    is_told = False
    for place in range(at, min(at + _MAX, len(words))):
        if words[place].text == ":":
            return place if is_told else 0
        is_told = is_told or words[place].low in _THINGS
        if many := phrase_of(words, place, _FROM_ME):
            rest = place + many + (low(words, place + many) in ("only", "nur"))
            return rest if low(words, rest) == ":" else 0
        is_small = words[place].kind == WORD and words[place].low in _SMALL | _THINGS | COUNTED.keys() | HOURS.keys()
        if not is_small:
            return 0
    return 0
