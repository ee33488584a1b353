"""Read what a message changes in the last list: drop Moth, swap Weeds and Tidal, add Fog (Bb) after Rye, Moth in A."""

import enum
import re
from collections.abc import Iterator, Sequence
from typing import Final

import msgspec

from companion.setlist.notation import Notation
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.patterns import NOTE
from companion.setlist.revising.key_requests import key_requested, with_reason_apart
from companion.setlist.revising.marked_songs import ONE, ONE_HERE, unmarked, with_marks
from companion.setlist.revising.set_time_words import SET_NAME, NewTimes, times_of_set

LONGEST: Final = 600  # characters of one line
MAX_CLAUSES: Final = 200
_LIST: Final = r"(?:\s*(?:,|&|and|und|et|y|e|also|the|both)?\s*\ue000\d+\ue001)+"
_VERBS: Final = (
    r"drop|lose|cut|skip|scrap|omit|remove|ditch|leave|take|without|minus|no|add|plus|include|swap|replace|change|move|put|"
    r"bring|play|start|open|begin|end|finish|close|with|but|except|also|then|please|ohne|plus|dazu|statt|sans|avec"
)
_CLAUSES: Final = re.compile(
    rf"[.;!\n]+(?:\s|$)|(?<!\bout)(?<!\bin)(?<!\bnew)(?<!\badd)(?<!\bdrop)(?<!\bcut):\s+(?=(?:{_VERBS})\b|{ONE_HERE})"
    rf"|:\s+(?=(?:the\s+)?{SET_NAME}\b)|(?:,\s*(?:and\s+)?|\s+and\s+|\s*&\s*)(?=(?:the\s+)?{SET_NAME}\b[^,]{{0,20}}\d)"
    rf"|,\s*(?:and\s+)?(?=(?:{_VERBS})\b)|\s+(?:and|but|und|aber)\s+(?=(?:{_VERBS})\b)"
    rf"|,\s*(?:and\s+)?(?={ONE_HERE}\s*(?:in|to|up|down|is|goes|now|=|out|before|after|first|last|instead)\b)"
    r"|\bexcept(?: that)?\b",
    re.IGNORECASE,
)
_BECAUSE: Final = r"(?:\s*\([^()\ue000\ue001]{0,80}\)|\s+[-–]\s+[^\ue000\ue001]{1,80})?"  # drop Moth (Jo hates it)
_DROP: Final = (
    re.compile(
        r"^(?:please\s+)?(?:drop|lose|cut|skip|scrap|omit|remove|ditch|without|minus|no|leave out|take out|not|ohne|"
        rf"sans|(?:out|drop|dropped|cut|gone)\s?:)({_LIST}){_BECAUSE}$",
        re.IGNORECASE,
    ),
    re.compile(rf"^(?:take|leave)({_LIST})\s+(?:out|off){_BECAUSE}$", re.IGNORECASE),
    re.compile(
        rf"^({_LIST})\s+(?:(?:is|are|goes|comes|go|come)\s+)?(?:out|dropped|off|cut|gone|raus){_BECAUSE}$",
        re.IGNORECASE,
    ),
)
_EXCHANGE: Final = re.compile(
    rf"^(?:only\s+)?swap\s+(?:round\s+)?{ONE}\s+(?:and|with|&)\s+{ONE}(?:\s+round)?$", re.IGNORECASE
)
_REPLACE: Final = (
    (
        re.compile(
            rf"^instead of {ONE},?\s+(?:we(?:['’](?:re|ll)| are)?\s+)?"
            r"(?:(?:doing|playing|do|play|have|with)\s+)?(.+)$",
            re.IGNORECASE,
        ),
        1,
        2,
    ),
    (re.compile(rf"^(?:replace|swap|change)\s+{ONE}\s+(?:with|for|by|to)\s+(.+)$", re.IGNORECASE), 1, 2),
    (
        re.compile(
            rf"^(?:add\s+|play\s+|with\s+)?(\S.{{0,80}}?)\s+(?:instead of|in place of|replaces|statt)\s+{ONE}$",
            re.IGNORECASE,
        ),
        2,
        1,
    ),
)
_SET: Final = (
    r"((?:the\s+)?(?:(?:first|second|third|1st|2nd|3rd|last)\s+(?:set|half)|set\s+(?:one|two|three|[1-6])|encores?))"
)
_PLACE: Final = re.compile(
    rf"^(?:(?P<side>before|after|vor|nach|behind)\s+\ue000(?P<song>\d+)\ue001"
    rf"|(?:(?:to|at|as|in|into|on)\s+)?(?:the\s+)?(?P<edge>start|top|beginning|opener|first|end|bottom|last|closer|back)"
    rf"(?:\s+(?:song\s+)?of\s+{_SET.replace('(', '(?P<of>', 1)})?"
    rf"|(?:to|in|into|for|as)\s+(?:an?\s+)?{_SET.replace('(', '(?P<set>', 1)})$",
    re.IGNORECASE,
)
_MOVE: Final = re.compile(
    rf"^(?:move\s+|put\s+|bring\s+|play\s+)?{ONE}\s+(?:goes\s+|moves\s+|comes\s+|is\s+)?(?:up\s+|down\s+)?(\S.*)$",
    re.IGNORECASE,
)
_FIRST: Final = re.compile(rf"^(?:we\s+)?(?:start|open|begin)(?:ing)?\s+with\s+{ONE}$", re.IGNORECASE)
_LAST: Final = re.compile(rf"^(?:we\s+)?(?:end|finish|close)(?:ing)?\s+(?:with|on)\s+{ONE}$", re.IGNORECASE)
_SINCE: Final = r"(?:,?\s+(?:now|instead|tonight|this time|please|from now on))"
_NO_LONGER: Final = (
    rf"(?:,?\s+(?:and\s+)?(?:not|instead of|no longer|was|rather than)\s+(?:in\s+)?{NOTE}"
    rf"|\s+\((?:was|not)\s+(?:in\s+)?{NOTE}\))"
)
_KEY: Final = re.compile(
    rf"^(?:(?:change|do|take|play)\s+)?(?:the\s+)?(?:key\s+of\s+)?{ONE}\s*"
    rf"(?:[=:–(-]\s*)?(?:(?:which|is|goes|moves|now|down|up|back|tonight|from\s+{NOTE})\s+)*(?:in\b|to\b|=|:|-|–|\(|(?<=now\s))"
    rf"\s*({NOTE})\)?{_SINCE}?{_NO_LONGER}?{_SINCE}?(?:,\s+\w{{1,20}}\s+(?:says|said|asked|wants it))?$",
    re.IGNORECASE,
)
_SHIFT: Final = re.compile(
    rf"^{ONE}\s+(?:is\s+|goes\s+)?(?:(up|down)\s+(?:a\s+)?"
    r"(half[- ](?:step|tone)|semitone|whole[- ](?:step|tone)|step|tone)"
    r"|(?:a\s+)?(half[- ](?:step|tone)|semitone|whole[- ](?:step|tone)|tone)\s+(up|down|higher|lower))$",
    re.IGNORECASE,
)
_ADD: Final = re.compile(
    r"^(?:please\s+)?(?:(?:add(?:ing)?|plus|include|with|also|and|dazu|avec)\s+(?:in\s+)?|(?:add|in|new)\s?:\s*)(\S.+)$",
    re.IGNORECASE,
)
_PLACE_BEHIND: Final = re.compile(
    r" ((?:right )?(?:before|after|vor|nach) \ue000\d+\ue001|(?:at|to|in|into|as|for) (?:the |an? )?"
    r"(?:start|top|beginning|end|opener|closer|encores?|first|second|third|last|set)(?: [\w'’]{1,12}){0,5})$",
    re.IGNORECASE,
)
_REFERENCE: Final = re.compile(  # same as last time but ...
    r"\b(?:same|usual|normal|standard|as (?:last|before|always|usual|in)|wie (?:letztes mal|immer|beim letzten)|"
    r"comme la dernière fois)\b(?P<tail>[^\ue000,.;:!?]{0,60}?)"
    r"(?:\b(?:but|except(?: that)?|only|just|aber|sauf|mais)\b"
    r"|(?=\b(?:plus|minus|without|with|no|drop|add|swap)\b)|(?=[,.;:!?\ue000])|$)",
    re.IGNORECASE,
)
_AROUND_WORDS: Final = (
    "it it's its is the a we we'll we're i i'd i'll do doing play playing let's lets keep just so all exactly "
    "basically much please list set sets setlist songs show gig as like from at in on of for again last previous "
    "before pretty always usual time week month night year weekend one and otherwise else everything rest than today "
    "tonight tomorrow monday tuesday wednesday thursday friday saturday sunday january february march april may june "
    "july august september october november december"
)
_AROUND: Final = frozenset(_AROUND_WORDS.split())  # they stand around a reference and say no more than it does
_WHERE: Final = re.compile(r"^(?:at|in|on|for|from)(?: [^\W\d_][\w'’]{0,20}){1,4}$", re.IGNORECASE)
_GREETING: Final = re.compile(
    r"^(?:[Hh]i|[Hh]ey|[Hh]ello|[Hh]allo|[Dd]ear|[Mm]oin)"
    r"(?: (?:all|there|again|everyone|folks|and|[A-Z][\w'’]{0,20})){0,4}$"
    r"|^[Hh](?:i|ey|ello) \w{1,20}$"
)
_LEADS_IN: Final = re.compile(
    r"^(?:(?:with |but )?(?:these|the following|some|a few) changes?"
    rf"|{SET_NAME}|(?:the )?(?:new|changed) (?:start(?:ing)? )?times)$",
    re.IGNORECASE,
)
_STAYS: Final = re.compile(  # no more than what is not said
    r"^(?:(?:and|but)\s+)?(?:(?:all|everything|the)\s?(?:else|(?:the\s+)?(?:rest|others?)|other (?:songs|keys))|"
    r"rest|others|otherwise)\s+(?:(?:stays?|remains?|is|are|all|as|the same|same|unchanged|put|it is|it was|they are|"
    r"they were|is fine|before|planned)\s*){1,4}$"
    r"|^(?:no (?:other|more|further) changes|nothing else (?:changes|changed|has changed|is different))$",
    re.IGNORECASE,
)
_SENTENCES: Final = re.compile(r"(?<=[.;!?])(?:\s|$)")
_UNSURE: Final = re.compile(  # a clause beside one of these may mean the opposite, or nothing yet
    r"\b(?:\w{2,6}n['’]t|(?:do|does|did|is|are|was|ca|wo|could|should|would)nt|cannot|never|nobody|"
    r"no (?:one|need|reason|way)|neither|nor|not(?!\s*\ue000|\s+(?:at\s+)?\d{1,2}[.:]\d\d|"
    r"\s+(?:in\s+)?(?-i:[A-G][b#♭♯]?m?)(?![\w#]))|"
    r"keep|should|could|"
    r"would|shall|might|may|maybe|perhaps|possibly|if|unless|whether|wonder(?:ing|ed)?|wants?|wanted|wish|thinks?|"
    r"thought|hopes?|or|nie|nicht|kein|niemand|vielleicht)\b",
    re.IGNORECASE,
)
_TALK: Final = re.compile(  # what is added is no song: a longer break, nothing, some lights
    r"^(?:an?|some|more|another|extra|any|no|nothing|something|anything|everything|nobody|everyone|these|those|this|"
    r"that|it|them|him|her|us|me|time|two|three|the (?:following|usual|same|kettle))\b"
)
_APART: Final = re.compile(  # two new songs: after a comma, or after a key or a place
    r",\s+(?:and\s+)?|(?<=[)\ue001])\s+and\s+|(?<=\sin\s[A-G])\s+and\s+|(?<=\sin\s[A-G][b#m])\s+and\s+"
)
_LEAD: Final = re.compile(
    r"^(?:[\s,:–-]|can (?:we|you)\b|we(?:'|’)ll\b|let(?:'|’)?s\b|"
    r"only|just|but|and|then|also|please|with(?= no\b)|that)+(?=\S)|"
    r"^(?:(?:hi|hey|hello|oh|ok|okay|sorry|btw|fyi|ps|hallo|moin|salut|hola|ciao)[\s,!:–-]+)+(?=\ue000)",
    re.IGNORECASE,
)
_POLITE_END: Final = re.compile(  # in small letters: with a capital, they may be of a new title
    r"(?:[\s,]+(?:sorry|pls|plz|please|thanks|thank you|thx|cheers|ok|okay|"
    r"if (?:that|it)['’]?s (?:ok(?:ay)?|all ?right|fine)|"
    r"bitte|danke|merci|gracias|grazie|obrigad[oa]|tack|tak|takk|dzięki|díky|hvala|kiitos|x{1,3}))+$"
)


class ChangeKind(enum.Enum):
    """What a clause of the message does to the last list."""

    DROP = "dropped"
    ADD = "added"
    MOVE = "moved"
    EXCHANGE = "change places"
    KEY = "key"
    START = "start"


class ListChange(msgspec.Struct, frozen=True):
    """One change. Songs are numbers from 0 through all sets of the show; ``text`` is a new song's line.

    ``times`` are a set's new ones.
    ``side`` is before, after, first or last: of ``beside``, of the set that ``set_words`` names, or of the whole list.
    """

    kind: ChangeKind
    songs: tuple[int, ...] = ()
    text: str = ""
    side: str = ""
    beside: int | None = None
    set_words: str = ""
    key: str = ""
    semitones: int = 0
    times: NewTimes | None = None
    is_asked: bool = False  # a key that somebody asks for

    @property
    def is_order(self) -> bool:
        """Whether it says what to do; a song and its key say no more than a list does."""
        return self.kind is not ChangeKind.KEY or self.semitones != 0


def clauses_of(text: str, titles: Sequence[str]) -> Iterator[tuple[str, tuple[ListChange, ...]]]:
    """Return each clause of a line unchanged, with the changes that it says; none where it says no change.

    Words that only refer to the earlier list are left out. Text after ``LONGEST`` characters is one clause.
    """
    plain = " ".join(re.sub("[\ue000\ue001]", " ", text).split())
    end = len(plain) if len(plain) <= LONGEST else max(plain.rfind(" ", 0, LONGEST), 0)
    for sentence in _SENTENCES.split(with_marks(plain[:end], titles)):
        is_unsure = _is_unsure(sentence)
        for clause in (part for one in _clauses(sentence) for part in with_reason_apart(one, _is_key)):
            said = _POLITE_END.sub("", _LEAD.sub("", clause.strip()).rstrip(" ,:!.;?"))
            changes = () if is_unsure else _changes(said, titles)
            if is_unsure and (asked := key_requested(sentence, clause)):
                changes = _asked_for(_changes(asked, titles))
            yield unmarked(clause.strip(" ,:.;!()–-"), titles), changes
    if plain[end:]:
        yield plain[end:].strip(), ()


def _clauses(sentence: str) -> list[str]:
    """Return the clauses of a sentence without its reference to the earlier list; a greeting is none."""
    parts = [
        clause for part in _without_reference(sentence) for clause in _CLAUSES.split(part) if clause.strip(" ,:-–.;!?")
    ]
    kept = [*parts[: MAX_CLAUSES - 1], " ".join(parts[MAX_CLAUSES - 1 :])]
    return [one for one in kept if one and not _says_nothing(one.strip(" ,:!."))]


def _is_key(clause: str) -> bool:
    return _KEY.match(_LEAD.sub("", clause)) is not None


def _asked_for(changes: Sequence[ListChange]) -> tuple[ListChange, ...]:
    return tuple(msgspec.structs.replace(one, is_asked=True) for one in changes if one.kind is ChangeKind.KEY)


def _says_nothing(clause: str) -> bool:
    return bool(_GREETING.match(clause) or _LEADS_IN.match(clause) or says_rest_stays(clause))


def says_rest_stays(clause: str) -> bool:
    """Return whether a clause only says that the rest of the earlier list stays: Rest the same."""
    return bool(_STAYS.match(clause))


def _without_reference(sentence: str) -> tuple[str, ...]:
    """Take the words that refer to the earlier list out of a sentence, but none that say more."""
    found = _REFERENCE.search(sentence)
    if not found:
        return (sentence,)
    before, _, near = sentence[: found.start()].rpartition(",")
    if not (_only_refers(near) or _GREETING.match(near.strip())):
        return (sentence,)
    tail, behind = found["tail"].strip(), sentence[found.end() :]
    if _only_refers(tail) or (_says_where(tail) and not behind.startswith("\ue000")):
        return before, behind
    return (sentence,) if behind.startswith("\ue000") else (before, found[0], behind)


def _only_refers(words: str) -> bool:
    return all(word.strip(" -–'’").replace("’", "'") in _AROUND | {""} for word in words.lower().split())


def _says_where(words: str) -> bool:
    """Return whether the words name an earlier show: as last time at the Lantern."""
    known = words.split()
    first = next((at for at, word in enumerate(known) if not _only_refers(word)), 0)
    while first and known[first].lower() not in ("at", "in", "on", "for", "from"):
        first -= 1
    return bool(_WHERE.match(" ".join(known[first:])))


def _is_unsure(sentence: str) -> bool:
    """Return whether a sentence asks, denies or supposes. A word in capitals after a small one is of a new title."""
    if sentence.rstrip(" )\"'").endswith("?"):
        return True
    for found in _UNSURE.finditer(sentence):
        is_title = (
            found[0][:1].isupper()
            and found[0][1:].islower()
            and re.search(r"[a-z]\s$", sentence[max(found.start() - 2, 0) : found.start()])
        )
        if not (is_title and re.match(r"\s+[A-Z]", sentence[found.end() : found.end() + 2])):
            return True
    return False


def _changes(text: str, titles: Sequence[str]) -> tuple[ListChange, ...]:
    if found := _EXCHANGE.match(text):
        return (ListChange(ChangeKind.EXCHANGE, (int(found[1]), int(found[2]))),)
    if dropped := next((found for pattern in _DROP if (found := pattern.match(text))), None):
        return (ListChange(ChangeKind.DROP, tuple(int(at) for at in re.findall(ONE, dropped[1]))),)
    if times := times_of_set(text):
        return (ListChange(ChangeKind.START, set_words=times.set_words, times=times),)
    if found := _SHIFT.match(text):
        return (_shifted(found),)
    if (found := _KEY.match(text)) and plain_key(found[2], notation=Notation.LETTERS):
        return (ListChange(ChangeKind.KEY, (int(found[1]),), key=found[2]),)
    for pattern, old, new in _REPLACE:
        if found := pattern.match(text):
            return _replaced(int(found[old]), found[new], titles)
    return _placed(text, titles)


def _placed(text: str, titles: Sequence[str]) -> tuple[ListChange, ...]:
    """Read a clause that puts a song somewhere: an old one moves, a new one is added."""
    for pattern, side in ((_FIRST, "first"), (_LAST, "last")):
        if found := pattern.match(text):
            return (ListChange(ChangeKind.MOVE, (int(found[1]),), side=side),)
    if (found := _MOVE.match(text)) and (place := _place(found[2])) and place.beside != int(found[1]):
        return (msgspec.structs.replace(place, kind=ChangeKind.MOVE, songs=(int(found[1]),)),)
    if not (found := _ADD.match(text)):
        return ()
    if _TALK.match(found[1].lower()) or (
        found[0].lower().startswith(("with ", "also ", "and ")) and not is_name(found[1])
    ):
        return ()
    added = [_added(part, titles) for part in _APART.split(found[1]) if part.strip()]
    return tuple(one for one in added if one) if all(added) else ()


def _added(said: str, titles: Sequence[str]) -> ListChange | None:
    """Read one new song with its place; None where it names a song of the show."""
    behind = _PLACE_BEHIND.search(said)
    place = _place(behind[1].removeprefix("right ")) if behind else None
    said = said[: behind.start()] if behind and place else said
    if re.search(ONE, said) or _TALK.match(said.lower()) or not any(letter.isalpha() for letter in said):
        return None
    empty = ListChange(ChangeKind.ADD)
    return msgspec.structs.replace(place or empty, kind=ChangeKind.ADD, text=unmarked(said, titles))


def is_name(text: str) -> bool:
    """Return whether the words look like a title: in quotes, or each longer word with a capital or a digit."""
    if text.lstrip()[:1] in ("'", '"', "“", "‘"):
        return True
    words = re.findall(
        r"[^\W_][\w'’]*", re.split(r"\s(?:in|at|as|to|after|before|for)\s|[(\ue000]", text, maxsplit=1)[0]
    )
    return (
        bool(words)
        and words[0][0].upper() == words[0][0]
        and all(len(word) <= 3 or not word[0].islower() for word in words)
    )


def _replaced(old: int, new: str, titles: Sequence[str]) -> tuple[ListChange, ...]:
    """Return the changes that put another song in the place of one: a new song, or one from elsewhere in the list."""
    other = re.fullmatch(ONE, new.strip())
    if other and int(other[1]) == old:
        return ()
    if other:
        move = ListChange(ChangeKind.MOVE, (int(other[1]),), side="before", beside=old)
    elif re.search(ONE, new) or not is_name(new):
        return ()
    else:
        move = ListChange(ChangeKind.ADD, text=unmarked(new, titles), side="before", beside=old)
    return move, ListChange(ChangeKind.DROP, (old,))


def _shifted(found: re.Match[str]) -> ListChange:
    is_up = (found[2] or found[5]).lower() in ("up", "higher")
    size = 1 if re.match(r"half|semi", found[3] or found[4], re.IGNORECASE) else 2
    return ListChange(ChangeKind.KEY, (int(found[1]),), semitones=size if is_up else -size)


def _place(text: str) -> ListChange | None:
    """Read a place: before Moth, to the end of set 2, as an encore. Its kind is set by the caller."""
    found = _PLACE.match(text.strip())
    if not found:
        return None
    said = found.groupdict()
    if said["song"] is not None:
        side = "before" if said["side"].lower() in ("before", "vor") else "after"
        return ListChange(ChangeKind.MOVE, side=side, beside=int(said["song"]))
    if said["edge"]:
        is_first = said["edge"].lower() in ("start", "top", "beginning", "opener", "first")
        return ListChange(ChangeKind.MOVE, side="first" if is_first else "last", set_words=said["of"] or "")
    return ListChange(ChangeKind.MOVE, side="last", set_words=said["set"])
