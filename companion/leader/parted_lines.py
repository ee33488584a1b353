"""Lines of which one sentence is about the times of sets: it is read apart from what is beside it."""

import re
from collections.abc import Sequence
from typing import Final

from companion.leader.clear_times import SHOW_STARTS, clear_times
from companion.leader.event_words import OTHER_EVENTS
from companion.leader.reply_dates import ANY_DAY, day_in
from companion.leader.reply_items import ReplyItem, ScannedLine
from companion.leader.reply_words import CLOCK, COUNTED, NUMBER, WORD, ReplyWord, low, phrase_of, set_of, words_of
from companion.leader.set_names import SetNames
from companion.leader.songs_meant import SongsMeant
from companion.leader.stated_fact import StatedFact
from companion.leader.time_words import CLOCK_WORDS
from companion.leader.turns_of_phrase import CORRECT, HEDGE, NOT, UNKNOWN_TO_LEADER, TurnOfPhrase, turn_at
from companion.setlist.parsing.cells import MONTHS

_CUT: Final = re.compile(r"[.!;,]\s+(?=\S)")
MAX_CUTS: Final = 12
MAX_BEFORE_SET: Final = 4  # words before the first set, as in "and so the first set"
# Words beside the times that may change them: "Set 1 at 8. Check that with Jo."
_CHANGING: Final = set_of("that thats it its or but though unless if wait check no not otherwise both each them these")
_IN: Final = ("no", "na")  # Portuguese, before a place: no largo da igreja
_UNSURE: Final = (HEDGE, CORRECT, NOT, UNKNOWN_TO_LEADER)


def parted_times(text: str, names: SetNames) -> tuple[str, ...] | None:
    """Return the parts of a line if one of them only tells the day or the times of sets; None if it is read whole.

    A comma parts only a date from the times: "Samedi 6 mars, premier set à 20h30".
    """
    words = words_of(text)
    if (sentences := _sentences(text, names)) is not None:
        return _of_first_set(sentences, names)
    is_timed = any(word.kind == CLOCK or word.low in CLOCK_WORDS or word.low == "kl" for word in words)
    if not is_timed and _HAS_TIME.search(text) is None:
        return None
    if clear_times(words, names, _of_day(text, words)) is not None:
        return None
    for cut in list(_CUT.finditer(text))[:MAX_CUTS]:
        head, tail = text[: cut.start() + 1].strip(), text[cut.end() :].strip()
        is_sentence = cut[0][0] != ","
        if _tells_times(tail, names) and _may_stand_beside(head) and (is_sentence or day_in(head, ANY_DAY)):
            return head.rstrip(","), tail
        if is_sentence and _tells_times(head, names) and _may_stand_beside(tail) and not _counts(tail):
            return head, tail
    return None


def times_apart(line: ScannedLine, names: SetNames) -> tuple[str, ...] | None:
    """Return the times that a line begins with apart from the songs behind a comma: on at 8, 40 min, drop Moth.

    Numbers behind a set may count its songs, and words of doubt behind the times may be about them: no part then.
    """
    first = next((item for item in line.items if isinstance(item.what, SongsMeant) and _names_songs(item.what)), None)
    cuts = [item for item in line.items if first and item.end <= first.at and line.said(item.at, item.end) == ","]
    before = [item for item in line.items if cuts and item.end <= cuts[-1].at]
    behind = [item for item in line.items if cuts and item.at >= cuts[-1].end]
    names_set = any(isinstance(item.what, SongsMeant) for item in before)
    is_numbered = any(isinstance(one.what, SongsMeant) and line.words[one.at].kind == NUMBER for one in behind)
    if not any(_is_time(item, "clock") for item in before) or (names_set and is_numbered):
        return None
    head, tail = line.text[: line.words[cuts[-1].at].start].strip(), line.text[line.words[behind[0].at].start :].strip()
    may_change = any(_turns(one, *_UNSURE) for one in before) or any(
        _turns(one, HEDGE, CORRECT) or (_turns(one, UNKNOWN_TO_LEADER) and not _is_behind_songs(one, line))
        for one in behind
    )
    is_stray = any(item.what is None and line.words[item.at].kind in (NUMBER, WORD) for item in before)
    is_stray = is_stray and clear_times(words_of(head), names) is None
    has_times = any(_is_time(item, "clock", "minutes") for item in behind)
    return None if may_change or is_stray or has_times else (head, tail)


def _names_songs(meant: SongsMeant) -> bool:
    return bool(meant.songs) or meant.is_rest


def _turns(item: ReplyItem, *kinds: str) -> bool:
    return isinstance(item.what, TurnOfPhrase) and item.what.kind in kinds


def _is_behind_songs(item: ReplyItem, line: ScannedLine) -> bool:
    """Return whether words pass on a question about the songs right before them: rest ask Kito."""
    return any(one.end == item.at and isinstance(one.what, SongsMeant) for one in line.items)


def _is_time(item: ReplyItem, *fields: str) -> bool:
    return isinstance(item.what, StatedFact) and item.what.field in fields


def _of_first_set(parts: tuple[str, ...], names: SetNames) -> tuple[str, ...]:
    """Return sentences with the set that the first one is headed by before the times behind it.

    "Set two: 1 Eb, 2 Ab. Starts at 22:15" has no time of the first set.
    """
    words = words_of(parts[0])
    named = names.meant(words, 0) if words else None
    if named is None or len(named.places) != 1 or low(words, named.end) != ":" or _HAS_TIME.search(parts[0]):
        return parts
    heading = parts[0][: words[named.end].end]
    return parts[0], *(f"{heading} {one}" if _tells_own_time(one, names) else one for one in parts[1:])


def _tells_own_time(text: str, names: SetNames) -> bool:
    """Return whether a sentence tells a time, and names neither a set nor what else the time is of."""
    words = words_of(text)
    if _HAS_TIME.search(text) is None or day_in(text, ANY_DAY) is not None:
        return False
    is_of_other = any(phrase_of(words, at, OTHER_EVENTS) or words[at].low in _SHOWS for at in range(len(words)))
    return not (is_of_other or any(names.meant(words, at) for at in range(len(words))))


_SHOWS: Final = set_of("show gig concert konzert concierto concerto spectacle party event evening night we")


def _is_of_set(text: str, names: SetNames) -> bool:
    """Return whether a sentence begins with a set, about which alone it speaks: "Encore if the captain likes it"."""
    words = words_of(text)
    return bool(words) and names.meant(words, 0) is not None


def _sentences(text: str, names: SetNames) -> tuple[str, ...] | None:
    """Return the sentences of a line of which one tells a day or a time, where no other may change it; else None."""
    cuts = [one for one in _SENTENCE.finditer(text) if not _is_short(text[: one.start()], text[one.end() :])]
    if not 0 < len(cuts) <= MAX_CUTS:
        return None
    starts, ends = [0, *(one.end() for one in cuts)], [*(one.start() + 1 for one in cuts), len(text)]
    parts = tuple(text[start:end].strip() for start, end in zip(starts, ends, strict=True))
    if asked_and_denied(parts)[0]:
        return parts
    tells = [day_in(one, ANY_DAY) is not None or _HAS_TIME.search(one) is not None for one in parts]
    if not any(tells):
        return None
    first = tells.index(True)
    others = [one for at, one in enumerate(parts) if not tells[at] and at > first and not _is_of_set(one, names)]
    if any(_counts(one) or not _may_stand_beside(one) for one in others) or any(map(_is_unsure, parts[:first])):
        return None
    return parts


def asked_and_denied(parts: tuple[str, ...]) -> tuple[str, tuple[str, ...]]:
    """Split off a day that is asked and denied before another: "Sunday 4th? No, that's a Monday. Sunday 3rd"."""
    is_denied = len(parts) > 2 and parts[0].endswith("?") and day_in(parts[0], ANY_DAY) is not None
    is_denied = is_denied and _NO.match(parts[1]) is not None and any(day_in(one, ANY_DAY) for one in parts[2:])
    return (f"{parts[0]} {parts[1]}", parts[2:]) if is_denied else ("", parts)


def _is_unsure(text: str) -> bool:
    """Return whether words before the times doubt them: "Not sure yet. Set 1 at 8"."""
    words = words_of(text)
    turns = (turn_at(words, at) for at in range(len(words)))
    return any(turn is not None and turn.kind in (HEDGE, UNKNOWN_TO_LEADER) for turn in turns)


_NO: Final = re.compile(r"(?:no|nope|nein|non|nej|nee)\b", re.IGNORECASE)


def _is_short(before: str, after: str) -> bool:
    """Return whether a dot ends a shortened word or a day's number: Sat. 5 Dec, 12. December."""
    word = re.match(r"\w{1,12}", after)
    is_month = word is not None and word[0].lower() in MONTHS
    is_number = _NUMBER_ALONE.search(before) is not None  # 1. Set 20:00
    return before.endswith(_SHORT) or is_number or (before[-1:].isdecimal() and is_month)


_SENTENCE: Final = re.compile(r"[.!?]\s+(?=[A-ZÀ-Þ])")
_NUMBERED: Final = re.compile(
    r"\b(?:deck|floor|room|hall|gate|dock|pier|stage|table|size|page|bus|line|platform|unit|channel|aged?|junction|"
    r"zimmer|seite|größe|gleis|linie|chambre|taille|page|talla|página|taglia|pagina|maat|kamer|storlek|rum) \d{1,3}\b",
    re.IGNORECASE,
)
_NUMBER_ALONE: Final = re.compile(r"(?:^|[,;.!:] )\d{1,2}$")
_SHORT: Final = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun", "no", "No", "St", "approx", "Mr", "Mrs", "Dr")
_LENGTH_LATER: Final = re.compile(r"(?:i )?(?:don['’]?t know|not sure|no idea)(?: yet)? how long\b", re.IGNORECASE)
_HAS_TIME: Final = re.compile(
    r"\b(?:on|start|begin|play) at \d{1,2}\b|\b(?:um|kl|klokken|om) \d{1,2}\b|"
    r"\b(?:halb|halv|half) (?!min|hour|time|bar|step|tone|note)[a-zà-ÿ]{2,8}\b|"
    r"\b(?:om|alle|ore|a las|las|vanaf) \d{1,2}\b|\buur\b|\d[hu]\b|\d[hu]\d\d\b|"
    r"\b(?:a las|alle|um) [a-zà-ÿ]{3,8}\b|\d{1,2}[:.]\d\d(?!\d)|\d\s?(?:am|pm)\b",
    re.IGNORECASE,
)


def _of_day(text: str, words: Sequence[ReplyWord]) -> frozenset[int]:
    day = day_in(text, ANY_DAY)
    return frozenset(at for at, one in enumerate(words) if day and day.start <= one.start < day.end)


def _tells_times(text: str, names: SetNames) -> bool:
    """Return whether words name a set, or the start of the show, and are explained as its times."""
    words = words_of(text)
    starts = range(min(len(words), MAX_BEFORE_SET))
    names_set = any(names.meant(words, at) is not None or phrase_of(words, at, SHOW_STARTS) for at in starts)
    return names_set and clear_times(words, names) is not None


def _counts(text: str) -> bool:
    """Return whether words have a number, which may be another time: "Nine would suit the bar"; not deck 5."""
    text = _NUMBERED.sub(" ", text)
    words = words_of(text)
    return any(
        (word.kind == NUMBER and _may_be_time(word.text)) or (word.low in COUNTED and not _is_article(words, at))
        for at, word in enumerate(words)
    )


def _is_article(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether "one" stands before a noun: has found one left glove."""
    return words[at].low == "one" and at > 0 and low(words, at - 1) not in _BEFORE_HOUR and at + 1 < len(words)


_BEFORE_HOUR: Final = set_of("at from to till until by around about or , for is")


def _may_be_time(number: str) -> bool:
    """Return whether a number may be an hour, a time or a length: 8, 45, 830; not 214."""
    return len(number) != len("830") or (int(number) % 5 == 0 and int(number) % 100 < 60)


def _may_stand_beside(text: str) -> bool:
    """Return whether words tell no time, and do not change or doubt one."""
    if _LENGTH_LATER.match(text):
        return True
    words = words_of(text)
    words = words[1:] if day_in(text, ANY_DAY) and words[0].low in ("its", "it's") else words
    if any(word.kind == CLOCK or word.low in CLOCK_WORDS or word.low in _CHANGING for word in words):
        return False
    turns = (turn_at(words, at) for at, word in enumerate(words) if word.text not in _IN)
    return not any(turn is not None and turn.kind in _UNSURE for turn in turns)
