"""Greetings, thanks and farewells: words of a reply that say nothing about the show."""

import re
from collections.abc import Callable
from typing import Final

from companion.leader.hour_words import folded_phrases
from companion.leader.reply_words import SIGN, phrase_of, set_of, words_of
from companion.show.titles import folded

MAX_WORDS: Final = 16
GREETED: Final = set_of(
    "hi hiya hey hello hallo moin dear yo morning mornin evening evenin howdy afternoon ciao bonjour salut hola servus "
    "alright "
    "coucou hej hei hoi hallå goddag buenas yo ahoj cau dobry czesc szia sziasztok helo heisann heia dag goeiedag "
    "goedemorgen goedenavond buongiorno buonasera buenos ola shwmae awright servas gruezi tach aye"
)
THANKED: Final = set_of(
    "thanks thank thx ta cheers danke merci grazie gracias tak tack bedankt knus bises saludos ciao"
)
_NAMED_AFTER: Final = GREETED | THANKED | set_of("regards love best it's its from wishes")
# One of these makes a sentence a courtesy, where all its other words are of COURTEOUS.
_CORE: Final = (
    GREETED
    | THANKED
    | set_of(
        "hope hoping welcome regards love best see looking speak talk catch great good lovely brilliant awesome "
        "perfect fantastic cool ok okay okey worry hesitate sure glad happy pleased sorry apologies lol haha "
        "x xx xxx lg vg viele soon shout "
        "bye luck fun questions help worries problem answers reply messages busy excited exciting psyched "
        "buzzing star legend lifesaver safe travels enjoy weekend pleasure chat call ring bell gruss gruesse bis"
    )
)
COURTEOUS: Final = _CORE | set_of(
    "a about absolute absolutely advance again all an and any anything are as asking at back be being been board "
    "by coming covering day days dann doing else everyone everybody everything fill filling folks for forward friday "
    "from fab getting give glad go going got has have helping helped hopes "
    "guys gents ladies hear hearing here here's how i if i'll i'm in is it "
    "it's its jumping just keep kind know late later latest learning let lot loads many mate me meet meeting "
    "message mind monday much my nice night need note notice of on one onboard our out playing please "
    "quick quickly really rush sat saturday saturday's sending short so stepping sunday taking team "
    "thing this that thursday till time to today tomorrow tuesday um us very wait warm wednesday week well we "
    "we're were what with wishes you you'll you're your yours yourself hope's gig gigs show rehearsal rehearsals "
    "there there's these those the them things grüße gruß schöne liebe beste herzliche abend tag bald "
    "saturdays evening's slow delay took takes long get touch me's question below too "
    "we'll ya u c cu bless chuffed thrilled wonderful super nicely hopefully"
)
FAREWELLS: Final = folded_phrases(
    "bye | bye bye | talk later | talk soon | talk to you later | talk to you soon | talk tomorrow | speak later | "
    "speak soon | speak to you later | catch you later | later mate | laters | till then | until then | "
    "bis später | à plus tard | à plus | hasta luego | a dopo | até logo | vi hörs | vi høres | tot later | "
    "see you | see ya | okay see | ok see | cheers | thanks | thank you | thats it | "
    "that's it | thats all | that's all | that is all | tschüss | tschüs | ciao | bis dann | bis samstag | bis bald | "
    "bis morgen | das wars | das war's | so das wars | grüße | liebe grüße | danke | doei | groetjes | tot | "
    "dat was het | dat wast | bedankt | voilà | à samedi | à demain | à bientôt | bisous | bises | salut | "
    "c'est tout | allez | merci | hasta | bueno pues | bueno nada | y ya está | eso es todo | un abrazo | abrazos | "
    "besos | gracias | adiós | a presto | un abbraccio | baci | bacioni | è tutto | grazie | tutto qui | ci vediamo | "
    "beijinhos | beijos | abraço | é tudo | obrigado | obrigada | puss | puss hej | hej då | hejdå | vi ses | "
    "det var allt | kram | tack | hilsen | knus | vi ses | det var det | tak | takk | ha det | cześć | "
    "pozdrawiam | pozdrowienia | to tyle | do zobaczenia | dzięki | ahoj | čau | díky | zatím"
)
_BEGINNINGS: Final = ("let me know", "can't wait", "cannot wait")
SORRY: Final = set_of("sorry apologies")
LATE: Final = set_of("late delay slow wait took time busy")
# A "no" is courteous only before these words.
_DENIED: Final = {
    "no": set_of("problem problems worries rush need hurry bother trouble"),
    "not": set_of("to at"),
    "can't": set_of("wait"),
    "cannot": set_of("wait"),
    "don't": set_of("worry hesitate"),
}
_WORD: Final = re.compile(r"[^\W\d_][\w'’]*")
_GREETING: Final = re.compile(
    rf"^(?:(?:{'|'.join(sorted(GREETED))})|good (?:morning|evening|afternoon|day))\b"
    r"(?:[ ,]+(?!is\b|in\b|and\b)[^\W\d_]{1,20}){0,3}?\s?(?:[,!.:–—-]+|$)\s*",
    re.IGNORECASE,
)
_ASIDE: Final = re.compile(r"^[^:\d,.!–—-]{1,60}[,.!:–—-]+\s*")
_NEVER: Final = re.compile(r"^(?:no thanks?|ok(?:ay)? (?:you|me|us)|sure (?:you|me|us))[ .!]*$", re.IGNORECASE)


def is_courtesy(text: str) -> bool:
    """Return whether a sentence or a line is only a greeting, thanks or a farewell.

    >>> [is_courtesy(one) for one in ("Hope you're well!", "thanks Ros", "thanks but not in G")]
    [True, True, False]
    """
    if any(letter.isdigit() for letter in text) or _NEVER.match(text):
        return False
    words = _WORD.findall(text.replace("’", "'"))
    if not words or len(words) > MAX_WORDS:
        return not words and not any(letter.isalnum() for letter in text)
    lows = [word.casefold() for word in words]
    begins = any(" ".join(lows).startswith(one) for one in _BEGINNINGS)
    if not (begins or any(low in _CORE or folded(low) in _CORE for low in lows)):
        return False
    if set(lows) & SORRY and not set(lows) & LATE:
        return False  # a correction
    for at, low in enumerate(lows):
        before, after = lows[at - 1] if at else "", lows[at + 1] if at + 1 < len(lows) else ""
        if low in COURTEOUS or folded(low) in COURTEOUS or after in _DENIED.get(low, ()):
            continue
        is_name = words[at][:1].isupper() and len(low) > 1
        if not (is_name and (before in _NAMED_AFTER or (at > 1 and lows[at - 2] in _NAMED_AFTER))):
            return False
    return True


def without_courtesy(line: str, says_something: Callable[[str], bool]) -> str:
    """Return a line without a greeting and courteous asides at its start: "Hi Sam, no problem, 1 Bb" is "1 Bb".

    ``says_something``: whether words name a song or state a fact; such words always stay.
    """
    if is_courtesy(line) and not says_something(line):
        return ""
    greeting = _GREETING.match(line)
    if greeting and not says_something(greeting[0]) and _is_greeting(greeting[0]):
        line = line[greeting.end() :]
    if is_courtesy(line) and not says_something(line):
        return ""
    while (aside := _ASIDE.match(line)) and is_courtesy(aside[0]) and not says_something(aside[0]):
        line = line[aside.end() :]
    said, _, last = line.rpartition(",")
    return said if said and _is_farewell(last) and not says_something(last) else line


def _is_farewell(text: str) -> bool:
    """Return whether words only take leave: un abbraccio, bis dann."""
    words = [word for word in words_of(text) if word.kind != SIGN]
    return bool(words) and phrase_of(words, 0, FAREWELLS) == len(words)


def _is_greeting(words: str) -> bool:
    """Return whether the words after a greeting are names or courteous: Hi Sam, hey all, dear keys player."""
    rest = [word.casefold() for word in _WORD.findall(words)][1:]
    return len(rest) < 2 or is_courtesy(words) or set(rest) <= COURTEOUS | _PEOPLE


_PEOPLE: Final = set_of("keys player keyboard keyboardist man boss maestro friend friends lovely people sir madam")
