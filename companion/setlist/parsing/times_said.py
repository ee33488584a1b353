"""Times of all sets in a sentence of talk: 8.30 pm, two sets of 35 minutes, 20 minutes break."""

import re
from collections.abc import Sequence
from typing import Final

from companion.setlist.model import LineKind
from companion.setlist.parsing.builder import SetListBuilder
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.set_draft import SetDraft
from companion.setlist.parsing.sets_said import BREAK, NUMBER_SAID, number_of

LONGEST: Final = 400  # characters of a line
HOUR: Final = 60
NOON: Final = 12 * HOUR
FIRST_OF_MORNING: Final = 10 * HOUR  # a start at 8 or 9.30 is an evening's
_MIN: Final = r"\s?(?:min(?:ute)?s?\b\.?|minuten|minuti|minutos|minutter|minuter|minut\b|['′’])"
_SETS: Final = re.compile(
    rf"(?<!\w){NUMBER_SAID}\s(?:short\s|long\s|kurze\s)?(?:sets|halves|sett|settiä|sæt|blöcke|teile|parties|partes|parti|"
    rf"delen|pases)\s(?:of|à|zu|mit|de|da|van|von|met|med|på|af|av)\s(?:about\s|ca\.?\s)?(\d{{2,3}}){_MIN}|"
    rf"(?<!\w){NUMBER_SAID}\s?[x×]\s?(\d{{2,3}}){_MIN}",
    re.IGNORECASE,
)
_PAUSE: Final = re.compile(
    rf"(?<!\w)(\d{{1,2}}){_MIN}(?:\sof\sa)?\s{BREAK}(?!\w)|(?<!\w){BREAK}\s(?:of\s|von\s|de\s)?(\d{{1,2}}){_MIN}",
    re.IGNORECASE,
)
_TIME: Final = re.compile(r"(?<![\w.:])(\d{1,2})(?:[.:h](\d{2}))?\s?(am|pm|uhr|h)?(?![\w:]|\.\d)", re.IGNORECASE)
_OTHER: Final = re.compile(  # before a time at which no set begins
    r"(?:doors?|load[- ]?in|get[- ]?in|sound ?check|arriv\w*|rehears\w*|finish\w*|until|till|by|curfew|end\w*|einlass|"
    r"aufbau|bis|portes|balance|montage|puertas|porte|deuren|tot)\W{1,3}(?:at |um |à |alle |a las )?$",
    re.IGNORECASE,
)


def take_times_said(found: Sequence[Classified], gathered: SetListBuilder, first: int) -> None:
    """Set the times of the sets where one line names as many as the list has sets, and no other line does."""
    sets = [one for one in gathered.sets if one.songs and not one.name.startswith("Encore")]
    if any(one.starts_min is not None or one.minutes is not None for one in gathered.sets):
        return
    told = {id(row): took for row, took, draft in gathered.told_after(first) if draft is None}
    for one in found:
        text = one.line.text[:LONGEST]
        said = _SETS.search(text) if LineKind.LEFT in (told.get(id(one.line.row)), one.took) else None
        if said and number_of(said[1] or said[3]) == len(sets):
            _give(sets, text, int(said[2] or said[4]))
            kept = "; kept in the show's notes" if told.get(id(one.line.row)) is LineKind.LEFT else ""
            gathered.retell(one.line.row, f"times of the sets: {_times(sets)}{kept}", kind=LineKind.ABOUT)
            return


def _times(sets: Sequence[SetDraft]) -> str:
    """Return the times that the sets have now: 20:30, 21:35; 45 minutes each."""
    starts = [f"{one.starts_min // HOUR % 24}:{one.starts_min % HOUR:02}" for one in sets if one.starts_min is not None]
    return "; ".join(filter(None, (", ".join(starts), f"{sets[0].minutes} minutes each")))


def _give(sets: Sequence[SetDraft], text: str, minutes: int) -> None:
    pause = _PAUSE.search(text)
    start = _start_in(text)
    for at, one in enumerate(sets):
        one.minutes = minutes
        if start is not None and (pause or not at):
            one.starts_min = start + at * (minutes + (int(pause[1] or pause[2]) if pause else 0))


def _start_in(text: str) -> int | None:
    """Return when the first set begins, in minutes from midnight; None where no time, or more than one, may say it."""
    starts = []
    for said in _TIME.finditer(text):
        hours, minutes, half = int(said[1]), int(said[2] or 0), (said[3] or "").lower()
        if not (said[2] or half) or hours > 23 or minutes >= HOUR or _OTHER.search(text[: said.start()]):
            continue
        start = hours * HOUR + minutes
        if half in ("am", "pm"):
            start = start % NOON + (NOON if half == "pm" else 0)
        elif start < FIRST_OF_MORNING and said[1][0] != "0":
            start += NOON
        starts.append(start)
    return starts[0] if len(set(starts)) == 1 else None
