"""Tempos as a leader says them: 112 bpm, at a hundred and twelve, around 96 beats per minute."""

from collections.abc import Sequence
from typing import Final

from companion.leader.reply_words import NUMBER, ReplyWord, counted, low, phrase, set_of
from companion.leader.stated_fact import StatedFact

AT_TEMPO: Final = set_of(
    "at @ tempo bpm around about ca roughly approx q = ♩ circa say crotchet crotchets viertel noire negra semiminima"
)
PER_MINUTE: Final = (
    *("bpm", "beats per minute", "beats a minute", "beats", "schlage pro minute", "a la noire", "pulsaciones", "slag"),
    *("battiti al minuto", "battute al minuto", "batidas por minuto", "slag i minuttet", "slagen per minuut"),
)
SLOWEST_SAID: Final = 60  # a lower number in words may count bars
ABOUT: Final = set_of("around about ca roughly approx circa ish say")


def tempo(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read a tempo: 112 bpm, at 112, around 96 bpm."""
    begins, is_about = at, False
    while low(words, begins) in AT_TEMPO or low(words, begins) == "quarter":
        is_about = is_about or low(words, begins) in ABOUT
        begins += 1
    said = counted(list(words), begins) if begins < len(words) else None
    if said is None:
        return None
    number, end = said[0], begins + said[1]
    if low(words, end) == "ish":
        is_about, end = True, end + 1
    says = phrase(words, end, *PER_MINUTE)
    if words[begins].kind != NUMBER and not says and number < SLOWEST_SAID:
        return None
    if not 30 <= number <= 300 or not (says or begins > at):
        return None
    if not says and low(words, end) in (
        "min",
        "mins",
        "minutes",
        "bars",
        "sec",
        "seconds",
        "people",
        "guests",
        "heads",
    ):
        return None
    doubt = "about" if is_about else ""
    return StatedFact(
        "tempo", str(number), end + says, firm=says > 0 or low(words, at) in ("tempo", "bpm", "@"), doubt=doubt
    )
