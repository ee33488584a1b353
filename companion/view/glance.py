"""One glance: how many words the eye is given, what comes before what, and what gives way. Pure.

While a song plays it is at most 14 words, beside what stands in one place all through the song (its title, the names of
the keyboards), what is read once (the cue, the first words of a lyric) and what is said for a moment (a notice); of a
song up next it is at most 20. What a player cannot do without (section, next, title, whom to watch, open and rounds,
this section's sound, a key that changed) is shortened and never left out, even where all of it together is more.
"""

from collections.abc import Callable, Iterable, Sequence
from typing import Final

from msgspec.structs import replace

from companion.view.short_words import cut
from companion.view.view_lines import LineMark, LineRole, ViewLine

GLANCE_WORDS: Final = 14  # title, cue and first words aside
LARGE_WORDS: Final = 7  # of these, in the section's name and in what comes next
UP_NEXT_WORDS: Final = 20
WATCH_WORDS: Final = 3
LEAST_CUT: Final = 3  # fewer words of a sentence say nothing
ON_DEMAND: Final = frozenset((LineRole.ADVICE, LineRole.DROP))
UNCOUNTED: Final = frozenset((LineRole.TITLE, LineRole.CUE, LineRole.FIRST_WORDS, LineRole.NOTICE)) | ON_DEMAND
ESSENTIAL: Final = frozenset((LineRole.SECTION, LineRole.NEXT, LineRole.TITLE, LineRole.WATCH, LineRole.COUNT))
USUAL: Final = frozenset((LineRole.BARS, LineRole.KEY))
EXPECTED: Final = frozenset(
    (
        *(
            LineRole.TITLE,
            LineRole.START,
            LineRole.TEMPO,
            LineRole.WATCH,
            LineRole.FEATURE,
            LineRole.SOUND,
            LineRole.KEY,
        ),
        LineRole.NEXT,
    )
)
"""What a player looks for before a song."""
SENTENCES: Final = frozenset((LineRole.NOTES, LineRole.START))
"""What still says something when its end is left out. All else is shown whole, in a known shorter form, or not."""

PLAYING: Final = (
    *(
        LineRole.SECTION,
        LineRole.NEXT,
        LineRole.TITLE,
        LineRole.WATCH,
        LineRole.COUNT,
        LineRole.SOUND,
        LineRole.NOTICE,
        LineRole.BARS,
        LineRole.KEY,
    ),
    *(
        LineRole.FEATURE,
        LineRole.CUE,
        LineRole.FIRST_WORDS,
        LineRole.HITS,
        LineRole.ENDING,
        LineRole.PACE,
        LineRole.CHORDS,
        LineRole.STANDING,
    ),
    *(LineRole.NOTES, LineRole.ADVICE, LineRole.DROP),
)
"""What comes before what while a song plays: where words or room run out, the last goes first."""

UP_NEXT: Final = (
    *(
        LineRole.TITLE,
        LineRole.START,
        LineRole.TEMPO,
        LineRole.WATCH,
        LineRole.FEATURE,
        LineRole.SOUND,
        LineRole.NOTICE,
        LineRole.HINT,
        LineRole.KEY,
    ),
    *(
        LineRole.NEXT,
        LineRole.STANDING,
        LineRole.FIRST_WORDS,
        LineRole.PACE,
        LineRole.NOTES,
        LineRole.ADVICE,
        LineRole.DROP,
    ),
)
"""The same of a song that is up next."""


Counted = Callable[[Iterable[ViewLine]], int]


def by_worth(lines: Iterable[ViewLine], order: Sequence[LineRole] = PLAYING) -> tuple[ViewLine, ...]:
    """Return the lines in the order in which they matter."""
    return tuple(sorted(lines, key=lambda line: _worth(line, order)))


def is_leftover(line: ViewLine) -> bool:
    """Return whether this is a sound that only stays on from before: it stands on no strip of tape."""
    return line.part is LineRole.SOUND and line.mark is LineMark.NONE


def within_glance(lines: Iterable[ViewLine]) -> tuple[ViewLine, ...]:
    """Keep of a playing song's lines what one glance holds."""
    ordered = _large(by_worth(lines))
    return _filled(ordered, _essential(ordered), GLANCE_WORDS, glance_words)


def within_up_next(lines: Iterable[ViewLine], *, before: bool = False) -> tuple[ViewLine, ...]:
    """Keep of the lines of a song that is up next what a look at it holds; ``before`` the show, what starts it too."""
    ordered = by_worth(lines, UP_NEXT)
    expected = EXPECTED | {LineRole.HINT} if before else EXPECTED
    asked = {number: line for number, line in enumerate(ordered) if not is_leftover(line) and line.part in expected}
    kept = _shortened(asked, (LineRole.NEXT, LineRole.KEY, LineRole.HINT, LineRole.TITLE), UP_NEXT_WORDS, _calm_words)
    while _calm_words(kept.values()) > UP_NEXT_WORDS and kept[max(kept)].part in (LineRole.NEXT, LineRole.KEY):
        del kept[max(kept)]  # the sound is on, and the page of a song that plays says both
    return _filled(ordered, kept, UP_NEXT_WORDS, words_of)


def _calm_words(lines: Iterable[ViewLine]) -> int:
    """Count the words beside what a newcomer may press, which takes the place of nothing."""
    return words_of(line for line in lines if line.part is not LineRole.HINT)


def words_of(lines: Iterable[ViewLine]) -> int:
    """Count the words that the eye meets; the names of the keyboards stand where they always stand."""
    counted = (line for line in lines if line.part not in ON_DEMAND and line.part is not LineRole.NOTICE)
    return sum(replace(line, label="").words if _names_a_board(line) else line.words for line in counted)


def glance_words(lines: Iterable[ViewLine]) -> int:
    """Count the words of a playing song's page: title, cue and first words aside."""
    return words_of(line for line in lines if line.part not in UNCOUNTED)


def is_essential(line: ViewLine) -> bool:
    """Return whether a playing song's page must have this, whatever else it says."""
    if line.part is LineRole.SOUND:
        return not is_leftover(line)
    rest = line.part is LineRole.FEATURE and line.mark is LineMark.REST
    other_key = line.part is LineRole.KEY and line.mark is LineMark.CIRCLE
    return line.part in ESSENTIAL or rest or other_key


def _names_a_board(line: ViewLine) -> bool:
    return line.part is LineRole.SOUND and not line.label.endswith(":")


def _worth(line: ViewLine, order: Sequence[LineRole]) -> tuple[int, bool]:
    """Return a line's place: a key that changed comes before the bars, what stays on from before after the key."""
    if is_leftover(line):
        return max(order.index(LineRole.KEY), order.index(LineRole.SOUND)), True
    if line.part is LineRole.KEY and line.mark is LineMark.CIRCLE:
        return min(order.index(LineRole.KEY), order.index(LineRole.NOTICE)), False
    return order.index(line.part), False


def _large(lines: tuple[ViewLine, ...]) -> tuple[ViewLine, ...]:
    """Say section and next in so many words that both are large; what has no shorter form stays whole."""
    left = LARGE_WORDS
    result = []
    for line in lines:
        said = line
        if line.part in (LineRole.SECTION, LineRole.NEXT):
            said = _in_words(line, left) or _shortest(line)
            left -= said.words
        result.append(said)
    return tuple(result)


def _essential(lines: tuple[ViewLine, ...]) -> dict[int, ViewLine]:
    """Return what cannot be left out, by its place in the lines, in fewer words where all of it would be too many.

    Bars and key make the rest shorter, and go only where the shortest of it is too much.
    """
    kept = {number: line for number, line in enumerate(lines) if is_essential(line) or line.part in USUAL}
    shortened = (LineRole.COUNT, LineRole.BARS, LineRole.KEY, LineRole.NEXT, LineRole.SECTION, LineRole.SOUND)
    kept = _shortened(kept, shortened, GLANCE_WORDS, glance_words)
    for number, line in reversed(tuple(kept.items())):
        if line.part in USUAL and not is_essential(line) and glance_words(kept.values()) > GLANCE_WORDS:
            del kept[number]
    return kept


def _shortened(
    kept: dict[int, ViewLine], parts: Sequence[LineRole], words: int, counted: Counted
) -> dict[int, ViewLine]:
    """Shorten the lines about these, one after the other, until all of it has so many words."""
    kept = dict(kept)
    for part in parts:
        for number, line in tuple(kept.items()):
            if line.part is part and counted(kept.values()) > words:
                kept[number] = _shortest(line)
    return kept


def _filled(
    lines: tuple[ViewLine, ...], kept: dict[int, ViewLine], words: int, counted: Counted
) -> tuple[ViewLine, ...]:
    """Add what else is worth showing while there are words left."""
    for number, line in enumerate(lines):
        if number in kept:
            continue
        said = line if not counted((line,)) else _in_words(line, words - counted(kept.values()))
        if said is not None:
            kept[number] = said
    return tuple(kept[number] for number in sorted(kept))


def _in_words(line: ViewLine, words: int) -> ViewLine | None:
    """Return the longest form that has so many words at most; of a sentence, its beginning; else None."""
    forms = (line.text, *line.shorter)
    for place, form in enumerate(forms):
        said = replace(line, text=form, shorter=forms[place + 1 :])
        if words_of((said,)) <= words:
            return said
    room = words - _label_words(line)
    return _cut(line, room) if line.part in SENTENCES and room >= LEAST_CUT else None


def _cut(line: ViewLine, words: int) -> ViewLine:
    return replace(line, text=cut((line.text, *line.shorter)[-1], words), shorter=())


def _shortest(line: ViewLine) -> ViewLine:
    """Return the line in its form of the fewest words."""
    forms = (line.text, *line.shorter)
    place = min(range(len(forms)), key=lambda number: replace(line, text=forms[number]).words)
    return replace(line, text=forms[place], shorter=forms[place + 1 :])


def _label_words(line: ViewLine) -> int:
    return replace(line, text="").words
