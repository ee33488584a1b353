"""Lines of a reply: what is quoted, what is a heading or the program's own question, and what is only courtesy."""

import datetime as dt
import re
from collections.abc import Callable, Iterator, Sequence
from typing import Final, NamedTuple

from companion.leader.courtesies import is_courtesy, without_courtesy
from companion.leader.drop_words import DROP_LABELS
from companion.leader.event_words import BREAKS_SAID, OTHER_EVENTS
from companion.leader.hour_words import folded_words
from companion.leader.phrase_lists import FILLERS
from companion.leader.places_said import PLACE_LABELS
from companion.leader.players import PLAYERS
from companion.leader.questions import AT_ONCE, FIELDS, QuestionGroup
from companion.leader.reply_dates import day_in
from companion.leader.reply_words import set_of, without_pictures
from companion.leader.set_names import ENCORES
from companion.leader.song_lengths import LENGTHS
from companion.setlist.tidy import tidy
from companion.show.titles import folded

YOU_START: Final = "you_start"
CHARTS_FOR: Final = "charts_for"
_QUOTED: Final = re.compile(r"^\s{0,8}[>|](?:\s?[>|]){0,8}\s?")
_HEADER: Final = re.compile(
    r"^\*?(?:from|to|cc|bcc|sent|subject|reply-to|von|an|betreff|gesendet|de|objet|envoyé|date envoi|"
    r"submitted(?: at| on)?|timestamp|submission date)\s?:\*?\s",
    re.IGNORECASE,
)
# Lines that are of a header only where another such line is beside them (names of fields: RFC 5322, 3.6).
_MORE_HEADERS: Final = re.compile(
    r"^\*?(?:date|datum|importance|attachments?|message-id|in-reply-to|references|mime-version|content-[a-z-]{4,25}|"
    r"x-[a-z-]{2,30}|return-path|received|sender|kopie|cc|copie|à)\s?:\*?\s",
    re.IGNORECASE,
)
# The date of a mail has the time to the second or the zone; with only year and time it may be that of the show.
_MAIL_DATE: Final = re.compile(
    r"^(?:date\s?:\s)?(?:[a-z]{3,9},?\s)?\d{1,2}\s[a-z]{3,9}\.?\s\d{4},?(?:\sat)?\s\d{1,2}:\d\d"
    r"(?P<sure>:\d\d)?(?:\s[ap]m)?(?P<zone>\s(?:[+-]\d{4}|gmt|utc|bst|cet)(?:\s\(\w{1,20}\))?)?$",
    re.IGNORECASE,
)
_BARE_DATE: Final = re.compile(r"^[\w.,/ :-]{1,40}$")
_WROTE: Final = re.compile(
    r"^(?:on|am|le|il)\b.{0,120}\b(?:wrote|schrieb|écrit|scritto)(?:\s?:?\s*|\b.{0,20}:\s*)$|^-{2,12}\s?(?=[^-]{0,60}(?:message|mail|nachricht|original))\w[^-]{0,60}-{2,12}$|"
    r"^(?!i\s)(?:[^\W\d_][\w.'’-]{0,20}\s){1,4}(?:wrote|schrieb)(?:\s(?:on|at|am|um)\b.{0,60})?:\s*$|"
    r"^(?:wrote|schrieb|écrit|a écrit)\s?:$|"
    r"^(?:w dniu|dne|dňa|op|el|em|den|dana|a)\b.{0,120}\d.{0,60}\b(?:pisał\w{0,4}|napisał\w{0,4}|napsala?|napísala?|"
    r"schreef|escribió|escreveu|skrev|írta|kirjoitti|napisao|napisala|va escriure)\b.{0,20}:\s*$",
    re.IGNORECASE,
)
_MEDIA: Final = re.compile(r"^<[\w ]{3,20} omitted>$", re.IGNORECASE)
# A line of a chat that has only who wrote when: Dot Barlow [18:02], Kez 19:02
_CHAT_NAME: Final = re.compile(r"^(?:[A-ZÀ-Þ][^\W\d_]{1,20} ){1,2}[\[(]?\d{1,2}:\d\d[\])]?$")
_PHONE: Final = re.compile(r"^(?:sent from|get outlook|von meinem|envoyé de)\b", re.IGNORECASE)
# How chats begin a line: [01/12/2026, 18:02:11] Dot: ... or 19:02 ✓✓ ... or 01.12.26, 18:02 - Dot: ...
_CLOCKED: Final = r"\d{1,2}[:.]\d\d(?:[:.]\d\d)?(?:\s?[ap]\.?m\.?)?"
_DATED: Final = r"\d{1,4}[./-]\s?\d{1,2}[./-]\s?\d{2,4}(?:,?\s|T)"
_DAY_WORDS: Final = (
    rf"(?:{_DATED}|(?:today|yesterday|(?:mon|tues?|wed(?:nes)?|thu(?:rs)?|fri|sat(?:ur)?|sun)(?:day)?)?,?\s?"
    r"(?:\d{1,2}\s[a-z]{3,9}\.?(?:\s\d{4})?|[a-z]{3,9}\s\d{1,2}(?:,?\s\d{4})?)?,?\s?(?:at\s)?)"
)
# A name before the stamp: Stu, [28.11.26 20:01] or Stu Barlow (today at 20:01): ...
_STAMPED_NAME: Final = re.compile(
    rf"^(?P<name>[A-ZÀ-Þ][^\W\d_'’-]{{1,20}}(?: [A-ZÀ-Þ][^\W\d_'’-]{{0,20}})?),?\s{{1,3}}"
    rf"(?:[\[(]{_DAY_WORDS}{_CLOCKED}[\])]|(?:[-–—·|]\s)?{_DAY_WORDS}(?P<clock>{_CLOCKED}))(?P<colon>\s?:)?(?:\s+|$)",
    re.IGNORECASE,
)
# What a telephone writes before a message that it took down.
_TAKEN_DOWN: Final = re.compile(
    r"^(?:new )?(?:(?:voice|audio|text|spoken) ?)?(?:message|mail|memo|note) from [^\W\d_][^:\n]{1,40}: (?=\S)",
    re.IGNORECASE,
)
_HANDLE: Final = re.compile(r"^<[\w .-]{1,30}>\s+(?=\S)")
_STAMP: Final = re.compile(
    rf"^(?:\[(?:{_DATED})?{_CLOCKED}\]|{_DATED}{_CLOCKED}\s?[-–,]?|{_CLOCKED}\s?(?=[✓✔]|-?\s?[A-ZÀ-Þ][^\W\d_]{{1,20}}:\s))\s?[-–✓✔]{{0,3}}\s?",
    re.IGNORECASE,
)
# After the date and the time of a chat comes who writes, even if the name is a player's: 28-11-2026 20:15 - Bas:
_DATED_STAMP: Final = re.compile(rf"^\[?{_DATED}{_CLOCKED}\]?\s?[-–,]?\s?(?=[A-ZÀ-Þ])")
_SENDER: Final = re.compile(r"^([^\W\d_][^\W\d_'’.-]{1,20}(?: [^\W\d_]{1,20})?):\s+(?=\S)")
_REPLY_HEADINGS: Final = set_of(
    "set key keys start starts intro intros ending endings end ends chart charts date venue where when who recording "
    "recordings version versions link links sets drums guitar bass all tempo place dropped cut drop out note notes ps "
    "correction sorry also but and so ok update then rest others everything everyone change changes only correction "
    "song songs thanks please note hi hello no yes fee fees dress attire contact parking food power rations catering "
    "access payment accommodation transport timing timings times schedule location tempos tempi bpm bpms clicks"
)
NOT_SENDERS: Final = _REPLY_HEADINGS | LENGTHS | folded_words(PLACE_LABELS)
_NAME: Final = re.compile(r"^[-–—~*\s]{0,3}[^\W\d_][\w'’.-]{0,20}(?: [^\W\d_][\w'’.-]{0,20})?\s?[x.]{0,3}$")
_HEADINGS: Final = {
    "key": r"(?:which |what |the )?keys?(?: are they in| is it in)?|"
    r"(?:die |les |los |las |le |i )?(?:tonarten|tonalités|tonos|tonalidades|tonalità|toonsoorten|tonarter|tonacje)",
    "starts_with": r"who starts(?: them)?|starts|starters|starting|intros?|beginnings?|who (?:counts|begins)(?: in)?|"
    r"(?:die |les |los |gli |i |de |os )?(?:anfänge|débuts|inicios|comienzos|inizi|começos|beginnen)",
    YOU_START: r"do i start any(?: of these)?",
    "ending": r"how (?:does|do) (?:it|they) end|endings?|ends|how to end|"
    r"(?:die |les |los |i |de |os )?(?:schlüsse|enden|fins|finales|finali|finais|slutningar|slutninger|konce)",
    "chart": r"(?:is|are) there (?:a )?charts?|charts?|sheets?|do you have charts?",
    "recording": r"which recordings?(?: or version)?|recordings?|which versions?|versions?|links?",
    "date": r"(?:what is |what's )?the date|dates?|when(?: is it)?|which day|(?:what|which) date",
    "venue": rf"where is it|venue|where|place|location|(?:{PLACE_LABELS.replace(' ', '|')})"
    r"(?=\s?:)(?!\s?:\s?[A-Ha-h][b#♭♯]?m?\b)",
}
_FIELDS: Final = "|".join(f"(?P<{field}>{words})" for field, words in _HEADINGS.items())
_HEADING: Final = re.compile(
    rf"^(?:{_FIELDS})\s*(?:[?:]\s*|[-–—]\s+|\s(?=#?\d+\s?[A-Ha-h][b#♭♯]?m?\b)|$)(?P<rest>.*)$", re.IGNORECASE
)
_SHORT_KEY: Final = re.compile(r"[A-Ha-h](?:[b#♭♯]|is|es|s)?m?$")
_ONLY: Final = re.compile(r"^\s*(?:only|just)\s", re.IGNORECASE)
_ONLY_NUMBERS: Final = re.compile(r"\d[\d\s,;&+./-]*(?:and\s\d+)?[\s.]*$")
# Questions that numbers alone answer: "Do I start any of these?" "2 and 5".
NUMBERS_ALONE: Final = {QuestionGroup.STARTS: YOU_START, QuestionGroup.CHART: CHARTS_FOR}
OWN: Final = ("Hi! A few questions", "Hi again! Still open", "The number and a word", "A few questions")


class ReplyLine(NamedTuple):
    """One line to read: its text, whether it is quoted, and the question that it begins with, if any.

    ``field``: the key of the show file that a heading asks for; the text is then what follows it. ``ends_block``: a
    blank line. ``doubts_day``: why a date in it may not be that of the show. ``goes_on``: it is about the song of the
    line above.
    """

    text: str
    is_quoted: bool = False
    field: str = ""
    ends_block: bool = False
    doubts_day: str = ""
    goes_on: bool = False


MAIL_DAY: Final = "it may be the date of the message"
SIGNATURE_DAY: Final = "it may belong to the signature"


def lines_of(
    text: str, titles: Sequence[str], says_something: Callable[[str], bool], sets: Sequence[str] = ()
) -> Iterator[ReplyLine]:
    """Yield the lines of a reply that may say something, and the blank lines between.

    ``titles`` and ``sets``, folded: they are no senders, and a line that begins with a title is no greeting.
    ``says_something``: whether words name a song or state a fact; such words are never left out as a greeting or a
    signature.
    """
    raw = text.splitlines()
    after_farewell = is_header = is_signed = is_named = False
    for at, one in enumerate(raw):
        mark = _QUOTED.match(one)
        line = without_pictures(tidy(one[mark.end() :] if mark else one)).strip()
        is_stamped = _DATED_STAMP.match(line) is not None
        line = _without_stamp(line, says_something)
        is_header = is_header or _HEADER.match(line) is not None
        if (
            not is_header
            and (sender := _SENDER.match(line))
            and (is_stamped or _is_sender(sender[1], line[sender.end() :], [*titles, *sets]))
        ):
            line = line[sender.end() :]
        quoted = mark is not None
        is_signed = (is_signed and not quoted and not _WROTE.match(line)) or (line == "--" and not quoted)
        if is_signed and not says_something(line):
            continue  # a signature follows two hyphens (RFC 3676, 4.3)
        if not line:
            is_header = is_named = False
            yield ReplyLine("", quoted, ends_block=True)
            continue
        if _MEDIA.match(line) or (_CHAT_NAME.match(line) and _names_sender(line.rpartition(" ")[0], says_something)):
            continue
        if _WROTE.match(line) or _PHONE.match(line) or line.startswith(OWN):
            continue
        follows = raw[at + 1] if at + 1 < len(raw) else ""
        if _is_of_header(line, follows, is_header=is_header):
            is_header = True
            continue
        is_header = False
        if not quoted and after_farewell and _NAME.match(line) and not says_something(line):
            is_named = True
            continue
        if not quoted and _is_initial(line, raw, at, after_farewell=after_farewell):
            is_named = True
            continue
        if is_named and _BARE_DATE.match(line) and _is_day(line):
            continue
        if folded(line).startswith(tuple(f"{title} " for title in titles)):
            yield ReplyLine(line, quoted)
            continue
        line = without_courtesy(line, says_something)
        if not line:
            after_farewell = True
            continue
        mail_day = MAIL_DAY if _MAIL_DATE.match(line) else SIGNATURE_DAY if is_named else ""
        after_farewell = is_named = False
        if line:
            yield _headed(line, quoted=quoted)._replace(doubts_day=mail_day)


def _is_initial(line: str, raw: Sequence[str], at: int, *, after_farewell: bool) -> bool:
    """Return whether a line is the initial of who writes: "x B", "B x", or a letter alone below a farewell or a blank.

    It is none below a quoted line, which it answers, or where a line with more follows.
    """
    before = next((one for one in reversed(raw[:at]) if one.strip()), "")
    farewell, _, initial = line.rpartition(",")
    if farewell and is_courtesy(farewell):
        line, after_farewell = initial.strip(), True
    if _INITIAL.match(line) is None or not before or _QUOTED.match(before) or any(map(str.strip, raw[at + 1 :])):
        return False
    is_apart = not raw[at - 1].strip()
    return after_farewell or line.startswith("x") or (is_apart and line.endswith(("x", ".")))


_INITIAL: Final = re.compile(r"^(?:x{1,4} [A-Z]|[A-Z](?:\.|\s?x{1,4})?)$")


def _without_stamp(line: str, says_something: Callable[[str], bool]) -> str:
    """Return a line without a chat's stamp before it. A name with a round time may be an answer: Corn Hall 20:00."""
    line = _TAKEN_DOWN.sub("", line)
    if found := _STAMP.match(line):
        return _HANDLE.sub("", line[found.end() :])
    named = _STAMPED_NAME.match(line)
    if named is None or not (named["name"][:1].isupper() and _names_sender(named["name"], says_something)):
        return line
    rest = line[named.end() :]
    if rest and not named["colon"]:
        return line
    minute = re.search(r"[:.](\d\d)", named["clock"] or "")
    may_be_answer = named["clock"] is not None and not rest and (minute is None or int(minute[1]) % 5 == 0)
    return line if may_be_answer else rest


def _names_sender(said: str, says_something: Callable[[str], bool]) -> bool:
    """Return whether words before a time may be the name of who writes, and are no answer: Beginn 20:00."""
    is_answer = set(folded(said).split()) & (NOT_SENDERS | FILLERS | PLAYERS.keys() | _OF_TIMES)
    return not (is_answer or says_something(said))


_OF_TIMES: Final = set_of(
    "first second third set doors start starts soundcheck meet arrive load curfew from till until today tonight "
    "mon tue tues wed thu thurs fri sat sun monday tuesday wednesday thursday friday saturday sunday date day "
    "jan feb mar apr may jun jul aug sep sept oct nov dec "
    "beginn begin anfang einlass aanvang inizio début inicio início start aftale börjar begynner spielbeginn showtime "
    "concierto concert konzert koncert konsert concerto fest feest ab um vanaf ore alle kl kloka klockan klokken"
)


def _is_of_header(line: str, follows: str, *, is_header: bool) -> bool:
    """Return whether a line is of a mail's header, or introduces what is quoted.

    ``follows``: the line below; ``is_header``: the line above is of a header.
    """
    if _HEADER.match(line) or (is_header and _MORE_HEADERS.match(line)):
        return True
    if re.match(r"(?:on|am|le|il)\b.{0,120}\d", line, re.IGNORECASE) and re.match(_WROTE_BELOW, follows):
        return True
    below = _QUOTED.sub("", follows, count=1)
    if _MORE_HEADERS.match(line) and (_HEADER.match(below) or _MORE_HEADERS.match(below)):
        return True
    dated = _MAIL_DATE.match(line)
    return dated is not None and bool(dated["sure"] or dated["zone"])


_WROTE_BELOW: Final = re.compile(r"[>\s]{0,8}[^:]{0,80}\b(?:wrote|schrieb|écrit|scritto)\s?:\s*$")


def _is_day(line: str) -> bool:
    """Return whether a line is a date and nothing else."""
    day = day_in(line, dt.date(2000, 1, 1))
    rest = (line[: day.start] + line[day.end :]) if day else line
    return day is not None and not any(letter.isalpha() for letter in rest)


def _is_sender(said: str, rest: str, titles: Sequence[str]) -> bool:
    """Return whether a name before a colon is that of the sender, and no title, player or answer: "Bb: 2, 3"."""
    words = set(folded(said).split())
    is_answer = (
        bool(words & (NOT_SENDERS | FILLERS | PLAYERS.keys() | OTHER_EVENTS.keys() | BREAKS_SAID.keys() | ENCORES))
        or _ONLY_NUMBERS.match(rest) is not None
    )
    is_answer = is_answer or (bool(words & DROP_LABELS) and _are_numbers(rest.split(". ", maxsplit=1)[0]))
    is_answer = is_answer or len(said) < 3 or _SHORT_KEY.match(said.split(maxsplit=1)[0]) is not None
    is_name = all(word[:1].isupper() for word in said.split())  # Dot Barlow:, not "Only change:"
    is_answer = is_answer or any("".join(word[0] for word in title.split()) == said.casefold() for title in titles)
    is_answer = is_answer or any(_is_within(word, title) for word in words for title in titles)
    return is_name and not is_answer and not any(words & set(title.split()) for title in titles)


def _are_numbers(said: str) -> bool:
    """Return whether words are only numbers: 4, 8 und 9."""
    return said[:1].isdigit() and all(word in _ANDS for word in folded(said).split() if word.isalpha())


_ANDS: Final = set_of("and und et y e og och en i a oraz plus")


def _is_within(word: str, title: str) -> bool:
    """Return whether a longer word of a title begins or ends with a word: Walzer, of Regenwalzer."""
    return len(word) > LEAST_WITHIN and any(one.startswith(word) or one.endswith(word) for one in title.split())


LEAST_WITHIN: Final = 4  # letters that many names have


_STILL_OPEN: Final = re.compile(r"\s?\(\d{1,3} of \d{1,3} songs are still open\)$")


# The numbered lines of a form: 2. LOCATION: Corn Hall. Their numbers are no songs', nor do they begin with a dash.
_OF_FORM: Final = re.compile(
    rf"^(?:\d{{1,2}}[.)]|[-–—*•·▪●◦+])\s{{1,3}}(?=(?:{PLACE_LABELS.replace(' ', '|')}|"
    r"date|day|venue|location|place|where|when|timings?|times?|schedule|dress|attire|rations|"
    r"catering|food|parking|load-?in|get-?in|access|contact|fee|payment|accommodation|transport|power)\s?:"
    r"(?!\s{0,3}[A-Ha-h][b#♭♯]?m?\s{0,3}$))",
    re.IGNORECASE,
)
_TIMED: Final = re.compile(
    r"^(?:set )?(?:timings?|times?|schedule)\s?:\s{0,3}(?=\D)"
    r"(?=.{0,60}?(?:\d{1,2}[:.]\d\d|\d{4}|\d\s?[ap]m|\bset\b|\bhalf\b))",
    re.IGNORECASE,
)
FORM_ONLY: Final = re.compile(
    r"^(?:dress|attire|rations|catering|food|parking|access|contact|fee|payment|accommodation|transport)\s?:\s",
    re.IGNORECASE,
)


def _headed(line: str, *, quoted: bool) -> ReplyLine:
    line = _TIMED.sub("", _OF_FORM.sub("", _STILL_OPEN.sub("", line)))
    for ask in QuestionGroup:
        if folded(line) == folded(ask.value):
            return ReplyLine("", quoted, FIELDS.get(ask, ask.name.lower()))
    for ask, at_once in AT_ONCE.items():
        if folded(line).startswith(folded(at_once)):
            return ReplyLine(line[len(at_once) :].strip(), quoted, NUMBERS_ALONE.get(ask, FIELDS[ask]))
    if match := _HEADING.match(line):
        field = next(name for name in _HEADINGS if match[name])
        if folded(match[field]) == "keys" and _ONLY_NUMBERS.match(match["rest"]):
            return ReplyLine(line, quoted)  # Keys: 2, 3 says who starts
        rest = _ONLY.sub("", match["rest"])
        if field == "chart" and _ONLY_NUMBERS.match(rest):
            return ReplyLine(rest.strip(), quoted, CHARTS_FOR)
        return ReplyLine(match["rest"].strip(), quoted, field)
    return ReplyLine(line, quoted)
