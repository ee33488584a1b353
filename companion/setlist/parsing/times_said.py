"""Times of all sets in a sentence of talk: 8.30 pm, two sets of 35 minutes, 20 minutes break."""

import re
from collections.abc import Sequence
from typing import Final

from companion.setlist.model import LineKind, SaidTimes
from companion.setlist.parsing.builder import SetListBuilder
from companion.setlist.parsing.hardly_supported import as_a_whole
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.set_draft import SetDraft
from companion.setlist.parsing.sets_said import BREAK, NUMBER_SAID, SHOWN, number_of
from companion.setlist.set_times import times_of
from companion.setlist.tidy import cut

LONGEST: Final = 400  # characters of a line
HOUR: Final = 60
NOON: Final = 12 * HOUR
FIRST_OF_MORNING: Final = 10 * HOUR  # a start at 8 or 9.30 is an evening's
_MIN: Final = r"\s?(?:min(?:ute)?s?\b\.?|minuten|minuti|minutos|minutter|minuter|minut\b|['′’])"
_NAMES: Final = "sets|halves|sett|settiä|sæt|blöcke|teile|parties|partes|parti|delen|pases"
_SETS: Final = re.compile(
    rf"(?<!\w){NUMBER_SAID}\s(?:short\s|long\s|kurze\s)?(?:{_NAMES})\s(?:of|à|zu|mit|de|da|van|von|met|med|på|af|av)\s"
    rf"(?:about\s|ca\.?\s)?(\d{{2,3}}){_MIN}|"
    rf"(?<!\w){NUMBER_SAID}\s?[x×]\s?(\d{{2,3}}){_MIN}",
    re.IGNORECASE,
)
_ENDS: Final = (
    r"(?=$|[,;!?)]|\.(?!\d)|\s(?:\d|from|with|and|at|then|on|starting|plus|each|ab|mit|um|und|je|avec|et|con|y|e|com|met|"
    r"en|med|och|og)(?!\w))"
)
_SETS_IN_SHORT: Final = re.compile(  # two sets of 45; two 45s; 2 x 45; two 45 min sets
    rf"(?<!\w){NUMBER_SAID}\s(?:{_NAMES})\s(?:of|à|zu|mit|de|da|van|von|met|med|på|af|av)\s([2-9]\d){_ENDS}|"
    rf"(?<!\w){NUMBER_SAID}\s([2-9]\d)['’]?s(?!\w)|(?<!\w){NUMBER_SAID}\s?[x×]\s?([2-9]\d){_ENDS}|"
    rf"(?<!\w){NUMBER_SAID}\s?(?:[x×]\s?)?([2-9]\d)(?:{_MIN}|-minute)\s?(?:{_NAMES})(?!\w)",
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
    """Set the times of the sets where one line names as many as the list has sets, and no other line does.

    Where it names more sets than the list has, its times are kept for the answers that part the list.
    """
    sets = [one for one in gathered.sets if one.songs and not one.name.startswith("Encore")]
    if any(one.starts_min is not None or one.minutes is not None for one in gathered.sets):
        return
    songs = sum(len(one.songs) for one in sets)
    told = {id(row): took for row, took, draft in gathered.told_after(first) if draft is None}
    for one in found:
        text = one.line.text[:LONGEST]
        said = _times_in(text, songs) if LineKind.LEFT in (told.get(id(one.line.row)), one.took) else None
        if said and said.sets == len(sets):
            for at, each in enumerate(sets):
                each.starts_min, each.minutes = times_of(said, at)
            kept = "; kept in the show's notes" if told.get(id(one.line.row)) is LineKind.LEFT else ""
            gathered.retell(one.line.row, f"times of the sets: {_times(sets)}{kept}", kind=LineKind.ABOUT)
            return
        if said and said.sets > len(sets):
            gathered.said_times = gathered.said_times or said
            says = f"a line speaks of {said.sets} sets: {cut(text, SHOWN)}"
            if not any(doubt.says.startswith("a line speaks of") for doubt in gathered.doubts):
                gathered.doubts.append(as_a_whole(gathered, says))


def _times(sets: Sequence[SetDraft]) -> str:
    """Return the times that the sets have now: 20:30, 21:35; 45 minutes each."""
    starts = [f"{one.starts_min // HOUR % 24}:{one.starts_min % HOUR:02}" for one in sets if one.starts_min is not None]
    return "; ".join(filter(None, (", ".join(starts), f"{sets[0].minutes} minutes each")))


def _times_in(text: str, songs: int) -> SaidTimes | None:
    found = _SETS.search(text)
    if found is None and (found := _SETS_IN_SHORT.search(text)):
        sets, many = _two_numbers(found)
        if sets * many == songs:
            return None  # two sets of 20 songs
    if found is None:
        return None
    sets, minutes = _two_numbers(found)
    pause = _PAUSE.search(text)
    return SaidTimes(sets, minutes, _start_in(text), int(pause[1] or pause[2]) if pause else None)


def _two_numbers(found: re.Match[str]) -> tuple[int, int]:
    first, second = filter(None, found.groups())
    return number_of(first), int(second)


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
