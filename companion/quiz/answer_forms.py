"""Whether typed text answers the question at all; if not, the question comes again and no grade is recorded."""

from typing import Final

from rapidfuzz import fuzz

from companion.music import NotMusic, read_chord, read_number
from companion.quiz.cards import Card, Subject
from companion.quiz.judging import ALIKE, SHORT
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.remarks import read_remark
from companion.show import Ending
from companion.show.titles import folded

NOT_KNOWN: Final = ("", "no idea", "dont know", "i dont know", "not sure", "dunno", "idk", "pass")
USUAL_SECTIONS: Final = (
    *SHORT.values(),
    "outro",
    "solo",
    "tag",
    "break",
    "interlude",
    "refrain",
    "vamp",
    "coda",
    "end",
)
ENDINGS: Final = tuple(folded(one.value) for one in Ending)


def what_to_write(card: Card, typed: str) -> str | None:
    """Return what to write instead if ``typed`` is no answer of the kind asked for, else None.

    Saying that one does not know is an answer. Who starts, sounds and features have names of the player's own: any
    letters are an answer, but a key is nobody who starts.
    """
    if folded(typed).strip(" .!?") in NOT_KNOWN:
        return None
    is_answer, example = _FORMS[card.asks]
    return None if is_answer(card, typed) else example


def ends_quiz(line: str | None) -> bool:
    """Return whether a typed line ends the quiz: q, or the end of the input."""
    return line is None or line.strip().casefold() == "q"


def _is_key(_: Card, typed: str) -> bool:
    return plain_key(typed) is not None


def _is_chord(_: Card, typed: str) -> bool:
    for read in (read_chord, read_number):
        try:
            read(typed.strip())
        except NotMusic:
            continue
        return True
    return False


def _is_section(card: Card, typed: str) -> bool:
    names = [folded(one.name) for one in card.song.road_map]
    return _is_among(typed, (*names, *USUAL_SECTIONS, *SHORT))


def _is_ending(_: Card, typed: str) -> bool:
    return read_remark(typed).ending is not None or _is_among(typed, ENDINGS)


def _is_among(typed: str, names: tuple[str, ...]) -> bool:
    answer = folded(typed)
    starts = (name for name in names if len(answer) >= 3 and name.startswith(answer))
    return answer in names or any(starts) or any(fuzz.ratio(answer, name) >= ALIKE for name in names)


def _is_words(_: Card, typed: str) -> bool:
    return any(letter.isalpha() for letter in typed)


def _is_who(card: Card, typed: str) -> bool:
    """Whether this may be a player: not a key, unless somebody is called so."""
    is_named = folded(typed) == folded(card.song.starts_with or "")
    return _is_words(card, typed) and (is_named or plain_key(typed) is None)


_FORMS: Final = {
    Subject.KEY: (_is_key, "a key, such as Bb or F#m"),
    Subject.STARTS: (_is_who, "who, such as keys or drums"),
    Subject.SOUND: (_is_words, "a sound, such as tonewheel organ"),
    Subject.CHORD: (_is_chord, "a chord, such as Cm7 or 4"),
    Subject.NEXT: (_is_section, "a section, such as Chorus"),
    Subject.FEATURES: (_is_words, "a section, such as Solo"),
    Subject.ENDING: (_is_ending, f"how it ends: {', '.join(one.value for one in Ending)}"),
}
