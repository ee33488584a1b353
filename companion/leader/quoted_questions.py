"""Questions about one song that the leader quotes, and short answers below: "yes please" below "do I start?"."""

import re
from collections.abc import Sequence
from typing import Final

from companion.leader.corrected_items import TEMPOS
from companion.leader.hour_words import folded_words
from companion.leader.phrase_lists import AS, RECORDS
from companion.leader.reply_lines import ReplyLine
from companion.leader.reply_words import phrase_of, words_of

_I_START: Final = re.compile(
    r"\b(?:(?:do|shall|should|can|will|must) i (?:still )?(?:start|begin|count|open|play the intro)|am i starting|"
    r"(?:fange?|beginne?|starte|zähle?) ich|ich fange? an|soll ich (?:anfangen|beginnen|starten|einzählen)|"
    r"je (?:commence|démarre|lance)|c['’]est moi qui (?:commence|démarre|lance)|"
    r"(?:empiezo|comienzo|arranco|comincio|inizio|parto|attacco|começo) (?:yo|io|eu)|(?:yo|io|eu) "
    r"(?:empiezo|comienzo|arranco|comincio|inizio|parto|attacco|começo)|"
    r"(?:begin|start) ik|(?:börjar|startar|starter|begynner|begynder) (?:jag|jeg)|zaczynam|začínám)\b"
)
_WHO_STARTS: Final = re.compile(
    r"\b(?:who (?:starts|begins|counts|opens|kicks)|wer (?:beginnt|fängt|startet|zählt)|qui commence|quién empieza|"
    r"chi (?:comincia|inizia|attacca)|wie begint|vem börjar|hvem (?:starter|begynder|begynner))\b"
)
_DOES: Final = re.compile(
    r"(?:^|(?<=[.,;] ))(?P<who>you|we|i|drums|bass|guitar|horns|keys) (?P<do>do)(?=\W?$|[.,;] )", re.IGNORECASE
)
# Behind a key, these ask whether it is right, and alone they say so.
_RIGHT: Final = (
    "(?:right|correct|exactly|indeed|still|ok|okay|noch|immer noch|stimmt['’]?s?|richtig|genau|exact|"
    "c['’]est (?:bien )?ça|correcto|exacto|giusto|esatto|corretto|certo|correto|exato|isso|klopt|juist|"
    "klopt dat|stämmer|rätt|precis|stemmer|riktig|"
    "rigtigt|riktigt|zgadza się|správně|přesně)"
)
_ASKING: Final = f"(?:{_RIGHT}|no|non|oder|nicht|yes|ja|vero|verdad|n['’]est-ce pas|toch|va|ikke|eller)"
_STILL: Final = (
    "(?:still|always|in|noch|immer|toujours|encore|en|siempre|todavía|sempre|ancora|em|ainda|nog|altijd|steeds|"
    "fortfarande|i|stadig|fortsatt|dalej|pořád|[-–—:(])"
)
_SOLFEGE: Final = (
    r"(?:do|re|ré|mi|fa|sol|la|si)(?:[ -]?(?:diesis|bemolle|dièse|bémol|sostenido|bemol|sustenido))?"
    r"(?: (?:mineur|majeur|minore|maggiore|menor|mayor|maior))?"
)
_KEY: Final = re.compile(
    rf"(?:(?:^|[\s(:,;–—-])(?P<key>[A-H](?:[b#♭♯]|is|es|s)?m?)|(?<!\w){_STILL}\s?(?P<name>(?i:{_SOLFEGE})))"
    rf"\)?(?:,? (?i:{_ASKING}))?\s?\??\)?\s?\??$"
)
_KEY_TOLD: Final = re.compile(r" \((?:[a-zé]{1,12}:? )?[A-H](?:[b#♭♯]|is|es|s)?m?\)$")
_LONG: Final = re.compile(
    r"\b(?:how long|lengths?|minutes|wie lang\w?|dauern|durées?|cuánto duran|duración|quanto durano|durata|hoe lang|"
    r"hur långa?|hvor lange?)\b"
)
_OF_SETS: Final = re.compile(r"\b(?:sets?|sätze|manches|pases|tempi|halves|hälften|blöcke|blokken)\b")
_NUMBERS_IN_TURN: Final = re.compile(r"\d{2,3}(?:\s?(?:,|/|\+|and|und|et|y|e|en|och|og)\s?\d{2,3}){1,5}$")
_DIGITS: Final = re.compile(r"\d{2,3}")
_TEMPO: Final = re.compile(
    r"\b(?:tempo|bpm|speed|how fast|wie schnell|quelle vitesse|hoe snel|hur snabb\w?|velocità)\b"
)
_IN_OR_OUT: Final = re.compile(
    r"\b(?:in or out|do we (?:really |still |actually )?(?:do|play|need)|are we (?:still |really )?(?:doing|playing)|"
    r"still (?:in|on|playing|doing)|drin oder raus|noch dabei|spielen wir|on (?:la |le |l['’])?(?:garde|joue)|"
    r"la (?:hacemos|tocamos)|(?:lo|la) (?:facciamo|suoniamo)|spelen we|doen we|spelar vi|spiller vi)\b"
)
YES: Final = "(?:yes|yep|yeah|yup|ja|jo|jep|oui|ouais|si|sì|sí|sim|tak|ano|joo|kyllä|igen|da)"
_PLEASE: Final = (
    "(?:please|pls|thanks|bitte|gerne|merci|s['’]il te plaît|por favor|per favore|graag|tack|takk|proszę|prosím|"
    "of course|natürlich|klar|bien sûr|claro|certo|certamente|natuurlijk|såklart|oczywiście|jasně)"
)
_YES: Final = f"(?:{YES}|{_RIGHT})(?:,? {_PLEASE})?"
_YES_ALONE: Final = re.compile(rf"{_YES}(?P<rest>\s?(?:[,.!;–—-].{{0,200}})?)$", re.IGNORECASE)
_YES_AND_KEY: Final = re.compile(
    rf"{_YES}[,.!]?\s(?:(?:still|in|noch|toujours|siempre|ancora|nog)\s){{0,2}}(?P<key>[A-H](?:[b#♭♯]|is|es|s)?m?)[.!]?$",
    re.IGNORECASE,
)
_NO_AND_MORE: Final = re.compile(
    r"(?:no|nope|nah|nein|nee|non|nej|não|nie|ne)[,.!]?\s(?P<rest>\S.{0,200})$", re.IGNORECASE
)
_OUT: Final = re.compile(
    r"(?:it['’]?s |is )?(?:out|raus|weg|fuori|fuera|eruit|ut|ude)(?P<rest>[\s,.!].{0,200})?$", re.IGNORECASE
)
_NUMBER: Final = re.compile(r"(?:^|(?<=[,;/] )|(?<=[,;/]))(?P<number>\d{2,3})(?=\s?[,;/.!]|\s?$)(?![.]\d)")


def asks(text: str) -> bool:
    """Return whether a line is a question, also one in brackets: Moth (key?)."""
    return text.rstrip(" )]").endswith("?")


def worded_by_questions(lines: Sequence[ReplyLine]) -> list[ReplyLine]:
    """Word each short answer right below a quoted question as it would stand alone: 96 below "tempo?" as 96 bpm."""
    kept: list[ReplyLine] = []
    asked = ""
    for line in lines:
        is_answer = bool(asked) and not (line.is_quoted or line.field or line.ends_block)
        kept.append(line._replace(text=_worded(line.text, asked)) if is_answer else line)
        if not line.ends_block:
            is_own = line.is_quoted and not line.field
            asked = line.text if is_own and (asks(line.text) or _KEY_TOLD.search(line.text)) else ""
            if line.is_quoted and (line.field == "starts_with" or _WHO_STARTS.search(line.text.casefold())):
                asked = asked or "who starts?"
    return kept


def _worded(said: str, asked: str) -> str:
    """Return an answer as words that say the same without their question; as it is where that is not sure."""
    low, key = asked.casefold(), _KEY.search(asked)
    yes, number = _YES_ALONE.match(said), _NUMBER.search(said)
    if yes and _I_START.search(low):
        return f"you start{yes['rest']}"
    if _WHO_STARTS.search(low) and (does := _DOES.search(said)):
        return f"{said[: does.start('do')]}start{said[does.end('do') :]}"
    if yes and key:
        return f"{key['key'] or key['name']}{yes['rest']}"
    if yes and _asks_like_record(asked):
        return f"as on the record{yes['rest']}"
    if key and (again := _YES_AND_KEY.match(said)):
        return again["key"]
    if number and _TEMPO.search(low) and int(number["number"]) in TEMPOS:
        return f"{said[: number.end()]} bpm{said[number.end() :]}"
    if _NUMBERS_IN_TURN.match(said.rstrip(".! ")) and _LONG.search(low) and _OF_SETS.search(low):
        return f"set lengths {' / '.join(_DIGITS.findall(said))} min"
    if _IN_OR_OUT.search(low):
        if out := _OUT.match(said):
            return f"dropped{out['rest'] or ''}"
        if more := _NO_AND_MORE.match(said):
            return more["rest"]
    return said


def _asks_like_record(asked: str) -> bool:
    """Return whether a question is if a song is as on its record: "like the album?", "the record's key?"."""
    words = words_of(asked)
    places = [at for at in range(len(words)) if phrase_of(words, at, RECORDS)]
    likens = any(at + phrase_of(words, at, AS) in places for at in range(len(words)) if phrase_of(words, at, AS))
    return bool(places) and (likens or any(word.low in KEY_NAMED for word in words))


KEY_NAMED: Final = folded_words("key tonart tonalité tonalidad tonalità tonalidade toonsoort toneart tonacja tónina")
