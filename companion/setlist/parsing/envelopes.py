"""Take a message's envelope off its lines: senders and times of a chat, headers and quotes of a mail, signatures."""

import datetime as dt
import itertools
import re
from collections import Counter
from collections.abc import Iterator, Sequence

import msgspec

from companion.setlist.model import ListRow
from companion.setlist.parsing.cells import NAMES_OF_MONTHS, any_date_in
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.labels import role_of
from companion.setlist.parsing.sender_lines import MAX_TALKERS, is_assent, sender_lines
from companion.setlist.parsing.set_headings import read_heading

_DAY = r"\d{1,4}[./-]\d{1,2}[./-]\d{2,4}"
_NAMED_DAY = (  # Nov 27; Fri 27. November 2026
    rf"(?:[^\W\d_]{{2,10}}\.?,?\s)?(?:(?:{NAMES_OF_MONTHS})\.?\s\d{{1,2}}(?:,?\s\d{{4}})?"
    rf"|\d{{1,2}}\.?\s(?:{NAMES_OF_MONTHS})\.?(?:\s\d{{4}})?)"
)
_CLOCK = r"\d{1,2}[:.]\d{2}(?:[:.]\d{2})?(?:\s?[ap]\.?m\.?)?"
_CHATS = (
    re.compile(
        rf"^\[(?P<when>[^\]]{{0,20}}{_CLOCK}[^\]]{{0,20}})\]\s*(?P<who>[^:]{{1,40}}):\s?(?P<says>.*)$", re.IGNORECASE
    ),
    re.compile(
        rf"^(?P<when>{_DAY},?\s+(?:[^\W\d]{{1,4}}\.?\s)?{_CLOCK})\s*[-–]\s*(?P<who>[^:]{{1,40}}):\s?(?P<says>.*)$",
        re.IGNORECASE,
    ),
    re.compile(rf"^(?P<when>{_CLOCK})\s*[-–]?\s*(?P<who>[^\W\d][^:\d]{{0,30}}):\s(?P<says>.*)$", re.IGNORECASE),
    re.compile(
        rf"^\[(?P<when>[^\]]{{0,20}}{_CLOCK}[^\]]{{0,20}})\]\s*<(?P<who>[^<>]{{1,40}})>\s?(?P<says>.*)$", re.IGNORECASE
    ),
    re.compile(r"^<(?P<who>[^<>]{1,40})>\s(?P<says>.*)$"),
    re.compile(
        rf"^\[?(?P<when>{_NAMED_DAY},?\s(?:at\s|um\s|à\s)?{_CLOCK})(?:\]|\s?[-–,])\s?(?P<who>[^\W\d][^:\d]{{0,30}}):"
        r"\s?(?P<says>.*)$",
        re.IGNORECASE,
    ),
)
_SURE_FORMS = (0, 1, 5)  # with a day and a time
_WHO = r"(?P<who>[^\W\d][^:;,\d()\[\]<>]{0,30}?)"
# Forms that a song with its length may have too; a chat has few senders, and each says much.
_NAMED_FIRST = (
    re.compile(rf"^{_WHO}\s?[(\[](?P<when>{_CLOCK})[)\]]\s?[:–-]?(?:\s(?P<says>.*))?$", re.IGNORECASE),
    re.compile(rf"^[(\[]{_WHO},?\s(?:at\s)?(?P<when>{_CLOCK})[)\]]\s?[:–-]?(?:\s(?P<says>.*))?$", re.IGNORECASE),
    re.compile(rf"^{_WHO},?\s(?:at\s)?(?P<when>{_CLOCK})\s?[:–-](?:\s(?P<says>.*))?$", re.IGNORECASE),
    re.compile(rf"^[(\[]?(?P<when>{_CLOCK})[)\]]?,?\s[(\[]?{_WHO}[)\]:]:?(?:\s(?P<says>.*))?$", re.IGNORECASE),
)
# A sender's line above the message: Ravi, 19 Aug 2026 at 15:44: / Sam Drums, [05.06.2027 12:04]
_SENDER = re.compile(
    rf"^(?P<who>[^\d,:;()]{{2,40}}),\s*\[?(?P<when>(?:{_DAY}|\d{{1,2}}\.?\s\w{{3,9}}\.?(?:\s\d{{4}})?|\w{{3,9}}\s\d{{1,2}}"
    rf"(?:,?\s\d{{4}})?|today|yesterday|gestern|heute)[,\s]*(?:at|um)?\s*{_CLOCK})\]?:?$",
    re.IGNORECASE,
)
_WHEN_ALONE = re.compile(
    rf"^(?:(?:today|yesterday|gestern|heute|\w{{3,9}}day|{_DAY}|\d{{1,2}}\s\w{{3,9}}(?:\s\d{{4}})?)[,\s]+(?:at\s)?)?{_CLOCK}$",
    re.IGNORECASE,
)
_HEADER = re.compile(
    r"^\*?(from|to|sent|date|subject|cc|bcc|reply-to|von|an|gesendet|datum|betreff|de|à|objet|envoyé|date d'envoi|"
    r"para|enviado|asunto|assunto|da|inviato|oggetto|fra|til|emne|från|till|ämne)\*?\s*:\*?\s+\S",
    re.IGNORECASE,
)
_FIRST_HEADER = re.compile(r"^\*?(?:from|von|de|da|fra|från|subject|betreff|objet)\*?\s*:", re.IGNORECASE)
_FORWARDED = re.compile(
    r"^[\s>*_-]{0,60}(?:begin )?(?:forwarded|original|weitergeleitete|ursprüngliche|message transféré)"
    r"(?:e)?\s*(?:message|mail|nachricht|e-mail)?\b.{0,20}$",
    re.IGNORECASE,
)
_WROTE = re.compile(
    r"^(?:on|am|le|el|il|op)\b.{4,120}\b(?:wrote|schrieb|a écrit|escribió|ha scritto|schreef)\b.{0,60}:?$",
    re.IGNORECASE,
)
_NOISE = re.compile(
    r"^[<\[(]?(?:(?:media|image|video|audio|sticker|gif|document|photo)\s(?:omitted|message)|this message was deleted|"
    r"you deleted this message|messages and calls are.{0,80}|missed (?:voice|video) call|voice message.{0,10})"
    r"[>\])]?\.?$",
    re.IGNORECASE,
)
_WRITER = re.compile(r"^\*?(?:from|von|de|da|fra|från)\*?\s*:\*?\s+\"?([^\W\d_][\w'-]{0,30})", re.IGNORECASE)
_SIGNATURE = re.compile(r"^--\s?$|^_{5,}$")
_SENT_FROM = re.compile(r"^sent from\b|^get \w+ for\b|^von meinem \w+ gesendet", re.IGNORECASE)
_NAMED = re.compile(  # Sam: Moth in G; Sam 🥁: ta
    r"^(?P<who>[^\W\d_][\w.' ]{0,20}?(?:\s?[^\w\s\x00-\x7f]{1,4})?):\s+(?P<says>\S.*)$"
)
_TALK = re.compile(
    r"^(?:hi|hey|hello|ok|okay|thanks|cheers|great|here|yes|no|list|hola|gracias|genial|vale|hallo|moin|danke|salut|"
    r"bonjour|merci|ciao|grazie|oi|olá|obrigad[oa]|hoi|bedankt|hej|tack|tak|hei|takk|cześć|dzięki|ahoj|díky)\b|\?$",
    re.IGNORECASE,
)
NEAR_TOP = 3  # lines, of which one begins a chat
FEWEST_TURNS, FEWEST_TALKS = 4, 2  # messages with a name in front, and those of them that are talk
A_TEXT = 5  # lines of a message below its first
MAX_ARE = 0.5  # share of the lines that look like a chat's, from which on it is one


class Unwrapped(msgspec.Struct, frozen=True):
    """A line without its envelope. ``message`` counts the messages from 0; lines of one message belong together.

    ``is_envelope``: nothing but envelope: a header, a sender's line, a picture that is not there, a signature.
    ``sender``: "" below the first line of a long message too, which holds a text and no talk.
    """

    row: ListRow
    text: str
    sender: str = ""
    sent: dt.date | None = None
    message: int = 0
    is_envelope: bool = False
    is_head: bool = False  # a mail's header


def unwrapped(rows: Sequence[ListRow]) -> tuple[Unwrapped, ...]:
    """Return the lines without envelopes, in their order."""
    texts = [row.cells[0] if row.cells else "" for row in rows]
    chat = _chat_pattern(texts)
    lines: list[Unwrapped] = []
    sender, sent, message, signed = "", None, 0, False
    writers = {found[1].casefold() for text in texts if (found := _WRITER.match(text))}
    short = sender_lines(texts, [row.blank_before for row in rows]) if chat is None else {}
    at = 0
    while at < len(rows):
        row, text = rows[at], texts[at]
        found = chat.match(text) if chat else None
        if found:
            fields = found.groupdict()
            sender, sent = fields["who"].strip(), any_date_in(fields.get("when") or "") or sent
            message, signed = message + 1, False
            said = (fields["says"] or "").strip()
            lines.append(Unwrapped(row, said, sender, sent, message, is_envelope=not said or bool(_NOISE.match(said))))
        elif at in short:
            message, signed, sender = message + 1, False, short[at]
            sent = any_date_in(text) or sent
            lines.append(Unwrapped(row, text, sender, sent, message, is_envelope=True))
        elif heads := _headers(texts, at):
            message, signed = message + 1, False
            sent = next((day for text in texts[at : at + heads] if (day := any_date_in(text))), sent)
            lines += [
                Unwrapped(one, one.cells[0], "", sent, message, is_envelope=True, is_head=True)
                for one in rows[at : at + heads]
            ]
            at += heads - 1
        elif taken := _sender_above(rows, texts, at):
            message, signed = message + 1, False
            heads, sender, sent = taken[0], taken[1], taken[2] or sent
            lines += [
                Unwrapped(one, one.cells[0], sender, sent, message, is_envelope=True) for one in rows[at : at + heads]
            ]
            at += heads - 1
        elif _SIGNATURE.match(text) and not chat and (at + 1 < len(rows)) and text.startswith("--"):
            signed = True
            lines.append(Unwrapped(row, text, sender, sent, message, is_envelope=True))
        else:
            signed = signed and not row.quoted
            signs = text.strip(" -–,.").casefold() in writers and _ends_message(rows, at)
            is_envelope = (
                signed or signs or bool(_NOISE.match(text) or _SENT_FROM.match(text) or _FORWARDED.match(text))
            )
            lines.append(Unwrapped(row, text, sender, sent, message, is_envelope))
        at += 1
    return tuple(_with_texts_apart(lines))


def _with_texts_apart(lines: Sequence[Unwrapped]) -> Iterator[Unwrapped]:
    """Yield the lines, those of long messages of a chat below their first as lines of a text."""
    for _, message in itertools.groupby(lines, key=lambda line: line.message):
        first, *below = message
        is_text = sum(bool(line.text.strip()) for line in below) >= A_TEXT
        yield first
        yield from (msgspec.structs.replace(line, sender="") if is_text else line for line in below)


def is_chat_log(texts: Sequence[str]) -> bool:
    """Return whether the day, the time and a sender begin most of the lines."""
    forms = [_CHATS[at] for at in _SURE_FORMS]
    return max(sum(bool(form.match(text)) for text in texts) for form in forms) > MAX_ARE * len(texts)


def _chat_pattern(texts: Sequence[str]) -> re.Pattern[str] | None:
    """Return the form that the lines of this chat have; None if it is no chat.

    A few messages may hold the whole list, so a form with a day and a time counts where it begins the first line, or
    two lines: a mail's head may stand above the chat.
    """
    filled = [text for text in texts if text.strip()]
    best = Counter({at: sum(bool(form.match(text)) for text in filled) for at, form in enumerate(_CHATS)})
    at, count = best.most_common(1)[0]
    if count <= MAX_ARE * len(filled):
        named = [found for text in filled if (found := _NAMED.match(text)) and not plain_key(found["who"])]
        talks = sum(_is_talk(found["says"]) for found in named)
        if len(named) >= 0.9 * len(filled) and talks and len({found["who"] for found in named}) <= MAX_TALKERS:
            return _NAMED
        if _is_said_in_turns(filled):
            return _NAMED
    is_first = bool(filled) and _CHATS[at].match(filled[0]) is not None
    dated = at in _SURE_FORMS and count > (at > 1 or not is_first)
    return _CHATS[at] if dated or count > MAX_ARE * len(filled) else _with_few_senders(filled)


def _with_few_senders(texts: Sequence[str]) -> re.Pattern[str] | None:
    """Return the form with the sender first, if a few names begin many lines, the first line among them."""
    for form in _NAMED_FIRST:
        senders = [found["who"].strip() for text in texts if (found := form.match(text))]
        few = 0 < len(set(senders)) <= min(MAX_TALKERS, len(senders) / 2)
        near_top = [found for text in texts[:NEAR_TOP] if (found := form.match(text))]
        is_talk = len(set(senders)) > 1 and bool(near_top) and bool(near_top[0]["says"])
        if few and (form.match(texts[0]) or is_talk or len(senders) > MAX_ARE * len(texts)):
            return form
    return None


def _is_said_in_turns(texts: Sequence[str]) -> bool:
    """Return whether names with a colon begin the messages, the first among them, and the list goes on below one.

    Two or more talk, one of them more than once, and what they say is that of people: hi, thanks, ok.
    """
    named = [found for text in texts if (found := _NAMED.match(text))]
    counts = Counter(found["who"] for found in named)
    if not named or not _NAMED.match(texts[0]) or not 2 <= len(counts) <= MAX_TALKERS or len(named) < FEWEST_TURNS:
        return False
    if 2 * len(counts) > len(named) or any(not _is_name(who) for who in counts):
        return False
    return sum(_is_talk(found["says"]) or is_assent(found["says"]) for found in named) >= FEWEST_TALKS


def _is_talk(says: str) -> bool:
    """Return whether words begin as talk does, or ask; a title with its key is none: Takk, Margit - C."""
    return bool(_TALK.search(says)) and plain_key(says.rsplit(maxsplit=1)[-1]) is None


def _is_name(who: str) -> bool:
    """Return whether words in front of a colon may name a person: no key, no set and no column of a table."""
    return plain_key(who) is None and read_heading(who) is None and role_of(f"{who}: Moth") is None


def _headers(texts: Sequence[str], at: int) -> int:
    """Return how many lines from here on are a mail's headers; a line "On Thursday Dot wrote:" is one too."""
    if _WROTE.match(texts[at]):
        return 1
    if (
        at + 1 < len(texts)
        and len(texts[at]) < 100
        and _WROTE.match(f"{texts[at]} {texts[at + 1]}")
        and texts[at][:3].lower() in ("on ", "am ", "le ")
    ):
        return 2
    end = at
    while end < len(texts) and _HEADER.match(texts[end]):
        end += 1
    is_head = end - at >= 2 and any(_FIRST_HEADER.match(text) for text in texts[at:end])
    return end - at if is_head else 0


def _ends_message(rows: Sequence[ListRow], at: int) -> bool:
    """Return whether no further line of the message follows at once, as below the name of the one who wrote it."""
    return at + 1 == len(rows) or rows[at + 1].blank_before or rows[at + 1].quoted != rows[at].quoted


def _sender_above(rows: Sequence[ListRow], texts: Sequence[str], at: int) -> tuple[int, str, dt.date | None] | None:
    """Read a sender in a line of its own, the time behind or right below: (lines, name, day)."""
    if found := _SENDER.match(texts[at]):
        return 1, found["who"].strip(), any_date_in(found["when"])
    below = texts[at + 1] if at + 1 < len(texts) else ""
    is_parted = at + 1 < len(rows) and rows[at + 1].blank_before
    is_name = 0 < len(texts[at].split()) <= 3 and texts[at][:1].isupper() and not texts[at].endswith(")")
    if _WHEN_ALONE.match(below) and is_name and not is_parted:
        return 2, texts[at].strip(), any_date_in(below)
    return None
