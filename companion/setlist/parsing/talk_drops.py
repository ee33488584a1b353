"""Whether talk really takes a song out: "don't forget Moth" keeps it, and "if we run late drop Moth" is not certain."""

import enum
import re
from typing import Final

from companion.setlist.parsing.talk_words import DROPPING, OUT


class DropSense(enum.Enum):
    """What words that may take a song out mean."""

    DROPS = "drops"
    KEEPS = "keeps"  # they are denied
    UNCLEAR = "unclear"


_NO: Final = (  # words that deny the verb behind them
    r"(?:do|does|did|ca|wo|should|would|could|must|need|may|might|is|are)n['’]?t|cannot|never|not|nobody|no[- ]?one|"
    r"no (?:need|reason|way)|neither|nor|nicht|nie|niemals|niemand|kein(?:e[nrms]?)?|keinesfalls|ne|jamais|pas|"
    r"nunca|jamás|jamas|"
    r"non|mai|não|nao|niet|nooit|geen|inte|aldrig|ikke|ikkje|aldri|nigdy|nikdy|nikad[a]?|nemoj(?:te|mo)?|nikar|"
    r"nikoli|ei|emme|älä|älkää"
)
_LINKS: Final = (  # words that may stand between: don't let anyone drop
    r"you|we|us|i|me|ever|even|to|want|wanna|going|gonna|like|think|about|let|anyone|have|need|dare|can|please|pls|"
    r"just|be|should|under|any|circumstances|all|guys|also|again|see|bitte|doch|aber|einfach|mal|jetzt|wir|ihr|bloß|"
    r"nous|on|il|faut|tu|vous|veux|voudrais|quiero|queremos|hay|que|vamos|a|me|nos|la|lo|le|se|vorrei|vogliamo|"
    r"dobbiamo|bisogna|quero|queremos|vamos|moeten|mogen|willen|gaan|we|ska|skal|vi|må|vil|vill|får|du|chcemy|"
    r"musimy|smíme|leave|take|kick|throw|cut|get|lassen|lasst|laat|laten|ta|tag|lämna|weg|uit"
)
_DENIED: Final = re.compile(rf"(?:^|[\s(,])(?:{_NO})(?:\s(?:{_LINKS}))*\s*$", re.IGNORECASE)
_SPANISH_NO: Final = re.compile(r"(?:^|[\s(,])no(?:\s(?:la|lo|me|nos|se|te|os|hay que|vamos a))?\s?$", re.IGNORECASE)
_SPANISH_DROP: Final = re.compile(r"^\W*(?:quit|sac|elimin|salt|tir|cort)", re.IGNORECASE)
_DENIES: Final = re.compile(rf"(?<![\w'’])(?:{_NO})(?![\w'’])", re.IGNORECASE)
_DENIED_BEHIND: Final = re.compile(  # vergiss Moth bitte nicht; streich Moth nicht
    r"^(?:\s[^\W\d]{1,12}){0,2}\s(?:nicht|niet|inte|ikke|ikkje)(?=\s*(?:$|[,.;:!?()–—-]|weg|raus|aus|weglassen|"
    r"vergessen|streichen|vergeten|schrappen|over|uit))",
    re.IGNORECASE,
)
_DENIED_PLAY: Final = re.compile(  # the drop words deny themselves: not doing Moth
    r"^\W*(?:not|don['’]?t|won['’]?t|will not|do not|(?:wir )?spielen|joue|fait|no|non|não|kein\w*|pas|plus|niente|"
    r"geen|ingen|inget|nada|žádn\w)\b",
    re.IGNORECASE,
)
_IF: Final = (
    r"if|unless|in case|falls|wenn|notfalls|si|sinon|au cas où|se|caso|als|om|hvis|dersom|jeśli|jeżeli|jestli|pokud|"
    r"ako|če|jos"
)
_MAYBE: Final = (
    r"maybe|perhaps|possibly|might|could|vielleicht|eventuell|evtl\.?|könnten|könnte|peut-être|pourrait|quizás?|"
    r"tal vez|a lo mejor|podríamos|forse|magari|potremmo|talvez|podíamos|misschien|eventueel|kanske|eventuellt|"
    r"måske|kanskje|może|możliwe|možná|možda|morda|ehkä|ehkäpä"
)
_BEGINS_WITH_IF: Final = re.compile(
    rf"^\W*(?:(?:and|but|also|oh|und|aber|et|y|e|en|och|og)\s)?(?:{_IF})\s", re.IGNORECASE
)
_IF_BEHIND: Final = re.compile(  # drop Moth if we run late; drop Moth in set 2 if we run late
    r"^(?:\s(?:in|from|out of|for|at|on|im|aus|vom|dans|du|en|de|del|nel|dal|uit|in de|i|från|fra)\s"
    r"(?:\w{1,12}\s){0,2}\w{1,12})?"
    rf"\s*,?\s*(?:only\s)?(?:{_IF})\s",
    re.IGNORECASE,
)
_OTHERWISE: Final = re.compile(  # ..., otherwise it stays
    r"(?<![\w'’])(?:otherwise|or else|sonst bleibt|ansonsten|sinon|si no|altrimenti|senão|anders|annars|"
    r"ellers)(?![\w'’])",
    re.IGNORECASE,
)
_SUPPOSES: Final = re.compile(rf"(?<![\w'’])(?:{_MAYBE})(?![\w'’])", re.IGNORECASE)
_FORGETS: Final = re.compile(r"\bforget(?: about)?\s*(?:the\s)?$", re.IGNORECASE)
_ORDERS: Final = re.compile(  # what may stand in front of an order: we can forget Moth
    r"^\W*(?:(?:and|but|also|oh|ok|okay|so|then|just|please|pls|sorry|actually|we|we['’]?ll|you|can|let['’]?s|lets|"
    r"now|better|tonight)[\s,:]{1,2})*$",
    re.IGNORECASE,
)
_SAYS_THAT: Final = re.compile(r"^\s(?:has|is|needs?|starts?|ends?|goes|was|had|comes)\b", re.IGNORECASE)
_FORGETS_NOT: Final = re.compile(  # a reminder, in words that would take no song out: n'oubliez pas Moth
    r"(?<![\w'’])(?:n['’]oubli\w{1,4} (?:pas|jamais)|(?:no|nunca) (?:te |os |se |nos )?olvid\w{1,5}|"
    r"non (?:vi |ti |ci )?(?:dimentic|scord)\w{1,6}|não (?:se |te )?esque[çc]\w{1,5}|"
    r"(?:vergiss|vergesst|vergessen)\b.{0,80}?\bnicht|vergeet\b.{0,80}?\bniet|glöm\w*\b.{0,80}?\b(?:inte|ej)|"
    r"inte glömma|glem\b.{0,80}?\bikke|ikke glemme?|"
    r"nie zapomni\w{1,6}|nezapom\w{1,8}|(?:ne|nemoj\w{0,2}) zaborav\w{1,5}|ne pozab\w{1,5}|"
    r"(?:älä|älkää) unohda\w{0,3})(?![\w'’])",
    re.IGNORECASE,
)

_ANOTHER_CLAUSE: Final = re.compile(  # what stands before these words denies nothing behind them
    r"^.*(?<![\w'’])(?:never mind|no worries|no problem|don['’]?t worry|(?:don['’]?t|do not) forget(?: to\b|:)|"
    r"remember to|so|then|therefore|deshalb|darum|donc|alors|así que|entonces|quindi|allora|então|dus|så|"
    r"derfor|więc|takže|zato)(?![\w'’])",
    re.IGNORECASE,
)
_DROPS_NOT: Final = re.compile(  # stryk inte Moth; ne supprimez pas Moth; Moth is not out
    rf"(?<![\w'’])(?:{DROPPING})\s(?:(?:bitte|doch|aber|nu|please)\s)?(?:nicht|niet|inte|ikke|ikkje|pas|jamais)(?![\w'’])|"
    rf"(?<![\w'’])(?:not|(?:is|are)n['’]t|nicht|niet|inte|ikke|non|não|nie|ne)\s{OUT}(?![\w'’])|"
    r"laiss\w{1,4} pas tomber",
    re.IGNORECASE,
)


def drop_sense(sentence: str, ahead: str, words: str, behind: str) -> DropSense:
    """Return what words beside a song's title mean that may take it out.

    ``ahead``: its clause up to these words, which stand in front of the title or, in the clause ``behind``, after it.

    >>> [drop_sense(f"{ahead}drop Moth", ahead, "drop ", "").value for ahead in ("", "please don't ", "maybe ")]
    ['drops', 'keeps', 'unclear']
    """
    if _DENIED_BEHIND.match(behind):
        return DropSense.KEEPS
    ahead = _ANOTHER_CLAUSE.sub("", ahead)
    if not _DENIED_PLAY.match(words):
        if _DENIED.search(ahead) or (_SPANISH_NO.search(ahead) and _SPANISH_DROP.match(words)):
            return DropSense.KEEPS
        if _DENIES.search(ahead):
            return DropSense.UNCLEAR
    if _BEGINS_WITH_IF.match(sentence) or _IF_BEHIND.match(behind) or _SUPPOSES.search(f"{ahead} {behind}"):
        return DropSense.UNCLEAR
    if _OTHERWISE.search(behind):
        return DropSense.UNCLEAR
    if _FORGETS.search(words) and (not _ORDERS.match(f"{ahead} ") or _SAYS_THAT.match(behind)):
        return DropSense.UNCLEAR
    return DropSense.DROPS


def keeps_for_sure(text: str) -> bool:
    """Return whether a sentence says that a song stays, in words that take none out: vergesst Moth nicht."""
    return bool(_FORGETS_NOT.search(text) or _DROPS_NOT.search(text))
