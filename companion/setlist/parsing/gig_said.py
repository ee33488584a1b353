"""The gig that talk or a mail's subject names: Here's the list for Sat 12 December, Hill Hall winter ball."""

import datetime as dt
import re
from collections.abc import Iterator, Sequence
from typing import Final

from companion.setlist.model import LineKind, ListRow
from companion.setlist.parsing.builder import SetListBuilder
from companion.setlist.parsing.gig_lines import GigLine, reads_as_name, reads_as_venue
from companion.setlist.parsing.gig_names import AT, named_parts
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.list_name import without_lead_in
from companion.setlist.parsing.said_days import DAY_SAID, day_meant

LONGEST: Final = 400  # characters of a line
_SENTENCES: Final = re.compile(r"(?<=\D[.!?])\s+(?=[^\W\d_a-zà-ÿ])|\n")
_ENDS: Final = re.compile(r"[.!?]\s")
_SUBJECT: Final = re.compile(
    r"^\*?(?:subject|betreff|objet|asunto|assunto|oggetto|onderwerp|emne|ämne|temat|předmět|predmet|zadeva|aihe)\*?\s*:"
    r"\*?\s+(?:(?:re|fwd?|aw|wg|tr|sv|vs|rv|res?|enc|odp|pd)\s?:\s*)*",
    re.IGNORECASE,
)
_GIG: Final = re.compile(  # what a gig is called, or what is sent for it
    r"(?<!\w)(?:(?:set|song) ?lists?|lists?|gig|show|playing|party|wedding|ball|function|booked|booking|dep|setliste|"
    r"liste|auftritt|konzert|hochzeit|fest|concert|bal|soirée|mariage|lista|boda|concierto|fiesta|scaletta|concerto|"
    r"matrimonio|serata|festa|casamento|optreden|bruiloft|lijst|spelning|bröllop|bryllup|koncert|svatba|wesele|"
    r"svadba|poroka|keikka|häät)(?!\w)",
    re.IGNORECASE,
)
_OFFERS: Final = re.compile(
    r"(?<!\w)(?:do|play|free|available|frei|libres?|disponible|liber[oi]|vrij|ledig)\s(?:on\s)?$"
)
_OTHER_DAY: Final = re.compile(  # of a rehearsal, of an answer that is due, of an earlier night
    r"(?<!\w)(?:rehears\w*|practice|run[- ]?through|probe[n]?|répét\w*|repet\w*|ensay\w*|prov[ae]|ensaio|øve\w*|öva|"
    r"próba|zkouška|proba|vaja|harjoit\w*|last|letzten|dernier|pasado|scorso|away|holidays?|birthday|born|was|were|"
    r"paid|deposit|deadline)(?!\w)|(?<!\w)(?:by|before|until|till|bis|vor|avant|antes|entro|voor|före|inden|før)\s"
    r"(?:the\s)?$",
    re.IGNORECASE,
)
_MAIL_RANK, _LIST_RANK, _TALK_RANK = range(3)


def take_gig_said(found: Sequence[Classified], gathered: SetListBuilder, first: int) -> None:
    """Take the day, the name and the house of the gig from talk and a mail's subject, where no line gives them."""
    if gathered.knows_gig:
        return
    took = {id(row): kind for row, kind, draft in gathered.told_after(first) if draft is None}
    said: list[tuple[int, ListRow, GigLine]] = []
    subject = ""
    for one in found:
        kind, text = took.get(id(one.line.row)), one.line.whole
        if one.line.message.is_head and (label := _SUBJECT.match(text)):
            subject = subject or text[label.end() :]
            said += [(_MAIL_RANK, one.line.row, gig) for gig in _gigs_in(subject, one.line.message.sent, is_sure=True)]
        elif kind is LineKind.LEFT and not one.line.message.is_envelope:
            for gig in _gigs_in(one.line.text, one.line.message.sent):
                rank = _LIST_RANK if gig.is_whole else _TALK_RANK
                said.append((rank, one.line.row, gig))
    best = [(row, gig) for rank, row, gig in said if rank == min(one[0] for one in said)]
    if len({gig.date for _, gig in best}) == 1:
        row, gig = max(best, key=lambda one: bool(one[1].title))
        gathered.gig_in_words(row, gig)
    if subject:
        gathered.subject(subject)


def _gigs_in(text: str, sent: dt.date | None, *, is_sure: bool = False) -> Iterator[GigLine]:
    """Yield each day of a gig in a text, with what its sentence names. ``is_whole``: the sentence is about a list."""
    for sentence in _SENTENCES.split(text[:LONGEST]):
        day = DAY_SAID.search(sentence)
        date = day_meant(day, sent) if day else None
        if day is None or date is None:
            continue
        before, behind = sentence[: day.start()], _ENDS.split(sentence[day.end() :])[0]
        if _OTHER_DAY.search(before) or (not is_sure and _OTHER_DAY.search(behind)):
            continue
        parts = named_parts(without_lead_in(before), behind)
        at = [part for part in parts if AT.match(part)]
        names = [part for part in parts if part not in at and reads_as_name(part)]
        venue = next((AT.sub("", part) for part in at), None)
        venue = venue or next((name for name in reversed(names) if reads_as_venue(name)), None)
        title = next((name for name in names if name != venue), None) or venue or ""
        is_list = bool(_GIG.search(sentence))
        if is_sure or is_list or title or _OFFERS.search(before):
            yield GigLine(title, venue, date, is_whole=is_list)
