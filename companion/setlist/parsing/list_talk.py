"""What the talk around a list says about it: a correction of a song's key, or that it is the list of last time."""

import re
from collections import Counter
from collections.abc import Iterable, Sequence

from companion.music import Key
from companion.setlist.model import Doubt, DoubtAnswer, FieldCorrection, SaidLine
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.set_headings import read_set
from companion.setlist.parsing.song_draft import Draft
from companion.setlist.parsing.talk_words import AFTER, BEFORE, DROPPING
from companion.setlist.parsing.text_lines import TextLine

_KEY = re.compile(r"\b(?:in|is|to|now|→|->|:)\s+(?:in\s+)?([A-H](?:[b#♭♯]|is|es)?m?(?: minor| major)?)(?![\w#♭♯])")
_NUMBER_AND_KEY = re.compile(  # ok, 3 in Em; može, 3 u Em
    r"(?:^|[\s,#])(\d{1,2})\s(?:[^\W\d]{1,4}\s){1,2}[A-H](?:[b#♭♯]|is|es)?m?$"
)
_BY_NUMBER = re.compile(
    r"(?<!\w)(?:number|no\.|"
    r"(?<!as )no(?=\s\d{1,2}(?:[,.;:!?)]|$|\s(?:is|in|has|goes|out|now|starts|ends|and|for|please|pls)(?!\w)))|"
    r"nummer|nr\.?|numéro|número|numero|n°|nº|#)\s?(\d{1,2})(?![\w.:]\w)(?!\w)",
    re.IGNORECASE,
)
_DROPPED_NUMBER = re.compile(  # quita la 6, que no la tenemos ensayada; drop 6
    rf"((?<![\w'’])(?:{DROPPING})\s)(?:(?:the|die|den|das|de|het|la|le|el|il|o|a)\s)?(\d{{1,2}})(?=\s*(?:$|[,;!?]|\.(?!\d)))",
    re.IGNORECASE,
)
_NUMBERED_PLACE = re.compile(  # between 4 and 5 put Moth (G); Moth goes after 4
    r"(?<!\w)(between|zwischen|entre|tra|fra|tussen|mellan|mellem|mellom|między|mezi|između)\s#?(\d{1,2})\s"
    r"(and|und|et|y|e|en|och|og|a|i|&|\+)\s#?(\d{1,2})(?![\w.:])|"
    rf"(?<!\w)((?:right |straight |directly |just |direkt |gleich )?(?:{BEFORE}|{AFTER}))\s#?(\d{{1,2}})(?![\w.:])",
    re.IGNORECASE,
)
_HEADS_CHANGES = re.compile(  # Added later:
    r"^\W{0,3}(?:(?:last[- ]minute|late|latest|a few|some|more|small|letzte|kurzfristige|kleine|quelques|últimos|"
    r"ultime|laatste|sista|sidste|siste)\s){0,2}"
    r"(?:changes?|updates?|edits?|amendments?|corrections?|additions?|added(?: later| since| today)?|"
    r"later(?: on)? added|änderung(?:en)?|nachtrag|nachträge|korrektur(?:en)?|später dazu|changements?|modifications?|"
    r"ajouts?|ajouté(?: après)?|cambios?|añadido|modific(?:he|a)|aggiunte?|alteraç(?:ão|ões)|mudanças|wijziging(?:en)?|"
    r"toegevoegd|ändring(?:ar)?|tillägg|ændring(?:er)?|tilføjet|endring(?:er)?|tillegg|zmiany|dodane|změny|přidáno|"
    r"promjene|spremembe|muutokset|lisätty)\s?:\W*$",
    re.IGNORECASE,
)
_MONTHS = "january|february|march|april|may|june|july|august|september|october|november|december"
_SAME = re.compile(
    r"\b(?:same (?:set ?list|list|sets?|songs) as\b|"
    r"(?<!keys )(?<!keys are )"
    r"same (?:list|set ?list|sets?|songs|as|again)\b.{0,30}\b(?:last|before|previous|in|on|usual|time)|"
    r"(?:all )?same keys as (?:always|usual|ever|before|last)|"
    r"(?:usual|normal|standard) (?:list|set ?list|sets?|songs)\b|"
    r"(?:list|sets?|songs) (?:is |are )?as (?:usual|always|before)|"
    r"same as (?:last|before|usual)|(?<!keys )(?<!keys are )same as (?:in|on)|"
    rf"as (?:last time|in (?:{_MONTHS})|before|usual)\b.{{0,20}}(?:plus|but|except|with|and|minus|without)|"
    r"wie (?:letztes mal|immer|beim letzten)|comme la dernière fois)",
    re.IGNORECASE,
)
_THIS = re.compile(r"\b(?:this|that|it|this one|that one|den|das|celle-ci|esta|questa)\b", re.IGNORECASE)
_TIME = re.compile(r"\d[:.h]\d\d\b")
_CLAUSES = re.compile(r"[,;.!\n]\s*|\s(?:and|then|but)\s(?=[a-z])")
_CHANGE = re.compile(
    r"(?:(?:please|pls|can we|can you|we'll|let's|also|and|then|but|so)\s)*"
    r"(?:(?:drop|add|swap|cut|lose|move|replace|remove|insert|put in|take out|leave out|bring back)\s\S|"
    r"(?:out|in|dropped|added|new)\s?:\s*\S|(?:everything|all the|the) (?:else|rest|others) (?:stay|remain|is|are)|"
    r"\S.{0,60}\s(?:back in(?:to)?|now in|up to|down to)\s[A-G][b#♭♯]?m?(?:,? not [A-G][b#♭♯]?m?)?$)",
    re.IGNORECASE,
)
LOOKS_LIKE_CHANGES = "it looks like changes to an earlier list: only the songs named here"
MIN_CHANGES = 2
MAX_CHANGES = 40  # lines of a message; a longer text has a list of its own
FEW = 4  # songs; a longer text that says "same as last time" still has the list itself


def says_same_as_before(text: str) -> bool:
    """Return whether the line refers to a list that is not here: same as last time, but ...; as in March, plus ..."""
    return bool(_SAME.search(text))


def heads_changes(text: str) -> bool:
    """Return whether the line announces changes to the list above it, so that it names no set, as Added later does."""
    return _HEADS_CHANGES.match(text) is not None


def key_by_number(text: str, drafts: Sequence[Draft]) -> tuple[Draft, Key] | None:
    """Return the song and the key that a line of talk gives it by its number: ok, 3 in Em."""
    numbered = _NUMBER_AND_KEY.search(text)
    draft = next((one for one in drafts if numbered and one.number == int(numbered[1])), None)
    key = plain_key(text.rsplit(maxsplit=1)[-1], notation=draft.notation) if draft else None
    return (draft, key) if draft and key else None


def is_of_number(text: str) -> bool:
    """Return whether a line names a song by its number where a title would begin: number 5 is out."""
    return _BY_NUMBER.match(text) is not None


def with_titles_for_numbers(text: str, drafts: Sequence[Draft]) -> str:
    """Return a line of talk with titles in the place of the numbers that name songs: number 5 is out."""
    titles = _titles_by_number(drafts)
    text = _BY_NUMBER.sub(lambda found: titles.get(int(found[1]), found[0]), text)
    return _DROPPED_NUMBER.sub(
        lambda found: f"{found[1]}{titles[int(found[2])]}" if int(found[2]) in titles else found[0], text
    )


def with_titles_for_places(text: str, drafts: Sequence[Draft]) -> str:
    """Return a line with titles for the numbers that say where a song goes: between 4 and 5 put Moth."""
    titles = _titles_by_number(drafts)

    def place(found: re.Match[str]) -> str:
        if found[5]:
            return f"{found[5]} {titles.get(int(found[6]), found[6])}"
        first, second = titles.get(int(found[2])), titles.get(int(found[4]))
        return f"{found[1]} {first} {found[3]} {second}" if first and second else found[0]

    return _NUMBERED_PLACE.sub(place, text)


def _titles_by_number(drafts: Sequence[Draft]) -> dict[int, str]:
    """Return the titles by their numbers; sets that each begin with 1 leave it open which is meant."""
    numbers = Counter(one.number for one in drafts)
    return {one.number: one.title for one in drafts if one.number is not None and numbers[one.number] == 1}


def asks_for_key(text: str, drafts: Sequence[Draft]) -> bool:
    """Doubt the key of the song above a question that names another: Could we do this in E? Return whether it did."""
    found = _KEY.search(text) if text.rstrip().endswith("?") and _THIS.search(text) else None
    key = plain_key(found[1], notation=drafts[-1].notation) if found and drafts else None
    if key is None or key == drafts[-1].key:
        return False
    drafts[-1].doubts.append(
        Doubt(
            f"the line below asks for {key}: used {drafts[-1].key or 'no key'}",
            f"Is {drafts[-1].title!r} in {key}?",
            (DoubtAnswer("no"), DoubtAnswer("yes", (FieldCorrection("key", str(key)),))),
            asks_for="key",
        )
    )
    return True


def lines_of_changes(lines: Sequence[TextLine]) -> tuple[SaidLine, ...]:
    """Return the lines of a message that may say what changes in a list; empty for a long text."""
    said = [line for line in lines if line.text and not line.message.is_envelope]
    if len(said) > MAX_CHANGES:
        return ()
    return tuple(
        SaidLine(
            line.row.place,
            _whole(line),
            line.number is not None,
            bool(read_set(line.text)) and not _TIME.search(line.text),  # set 2 now 20:15 is none
        )
        for line in said
    )


def _whole(line: TextLine) -> str:
    """Return a line's words with those that its reader took for cells of a table."""
    cells = [cell.strip() for cell in line.row.cells if cell.strip()]
    return "; ".join(cells) if len(cells) > 1 else line.text


def looks_like_changes(texts: Iterable[str], songs: int) -> bool:
    """Return whether a text says what to change in a list: Drop Moth and Weeds, add Tram Home after Slow Ferry.

    ``songs``: how many were read in it. A list of more songs than changes is a list.
    """
    clauses = [part for text in texts for part in _CLAUSES.split(text) if part.strip()]
    changes = sum(bool(_CHANGE.match(part.strip(" \t-–•*"))) for part in clauses)
    return changes >= max(MIN_CHANGES, songs if songs >= FEW else 0)
