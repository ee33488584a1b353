"""One glance: how many words a page may have, which lines matter most, and which give way. Pure.

The page of a song that plays has at most 14 words. Not counted: what stays in place all through the song (its title,
the names of the keyboards), what is read once (the cue, the first words of a lyric, how the song ends), what is read
bar by bar (the chords, on rows of their own, as on a chart) and what shows for a moment (a notice). The page of a song
up next has at most 20. Of its title only the first six count, by which it is recognized; and a first section that
people listen to is named even above the limit. What a player cannot do without (section, next, title, whom to watch,
open and rounds, the ending, this section's sound, a changed key) is shortened but never left out, even above the limit.
"""

from collections.abc import Callable, Iterable, Sequence
from typing import Final

from msgspec.structs import replace

from companion.view.short_words import cut
from companion.view.view_lines import LineMark, LineRole, ViewLine

GLANCE_WORDS: Final = 14  # without the lines in UNCOUNTED
LARGE_WORDS: Final = 7  # of these, in the section's name and the next section's together
UP_NEXT_WORDS: Final = 20
TITLE_WORDS: Final = 6  # that count, of the title of a song up next
WATCH_WORDS: Final = 5  # of whom to watch; where words run out, three
LEAST_WATCH_WORDS: Final = 3
LIFT: Final = "lift hands:"  # before a sound that waits for the hands
LEAST_CUT: Final = 3  # a sentence cut to fewer words says nothing
ON_DEMAND: Final = frozenset((LineRole.ADVICE, LineRole.DROP))
READ_ONCE: Final = frozenset((LineRole.CUE, LineRole.FIRST_WORDS, LineRole.ENDING))
UNCOUNTED: Final = frozenset((LineRole.TITLE, LineRole.NOTICE, LineRole.CHORDS)) | READ_ONCE | ON_DEMAND
ESSENTIAL: Final = frozenset(
    (LineRole.SECTION, LineRole.NEXT, LineRole.TITLE, LineRole.WATCH, LineRole.COUNT, LineRole.ENDING)
)
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
"""What still makes sense without its end. Everything else shows whole, in a known shorter form, or not at all."""

PLAYING: Final = (
    *(
        LineRole.SECTION,
        LineRole.NEXT,
        LineRole.TITLE,
        LineRole.WATCH,
        LineRole.COUNT,
        LineRole.SOUND,
        LineRole.NOTICE,
        LineRole.ENDING,
        LineRole.BARS,
        LineRole.KEY,
    ),
    *(
        LineRole.FEATURE,
        LineRole.CUE,
        LineRole.FIRST_WORDS,
        LineRole.HITS,
        LineRole.PACE,
        LineRole.CHORDS,
        LineRole.TEMPO,
        LineRole.STANDING,
    ),
    *(LineRole.NOTES, LineRole.ADVICE, LineRole.DROP),
)
"""Order of importance while a song plays: where words or room run out, the last goes first."""

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
"""Order of importance of a song up next."""


Counted = Callable[[Iterable[ViewLine]], int]


def by_worth(lines: Iterable[ViewLine], order: Sequence[LineRole] = PLAYING) -> tuple[ViewLine, ...]:
    """Return the lines sorted by importance, the most important first; equals keep their order."""
    return tuple(sorted(lines, key=lambda line: _worth(line, order)))


def watch_line(whom: str) -> ViewLine:
    """Return the line that says whom to watch."""
    forms = dict.fromkeys(cut(whom, words) for words in (WATCH_WORDS, LEAST_WATCH_WORDS))
    text, *shorter = forms
    return ViewLine(LineRole.WATCH, text, "watch", tuple(shorter), LineMark.GLASSES)


def is_leftover(line: ViewLine) -> bool:
    """Return whether this is a sound that only stays on from before, shown without a strip of tape."""
    return line.part is LineRole.SOUND and line.mark is LineMark.NONE


def within_glance(lines: Iterable[ViewLine]) -> tuple[ViewLine, ...]:
    """Return the lines of a song that plays that fit in one glance, the most important first."""
    ordered = _large(by_worth(lines))
    return _filled(ordered, _essential(ordered), GLANCE_WORDS, glance_words)


def within_up_next(lines: Iterable[ViewLine], *, before: bool = False) -> tuple[ViewLine, ...]:
    """Return the lines of a song up next that fit its page, the most important first.

    ``before`` the show, the line that says what starts it always stays.
    """
    ordered = by_worth(lines, UP_NEXT)
    expected = EXPECTED | {LineRole.HINT} if before else EXPECTED
    due = {number: line for number, line in enumerate(ordered) if not is_leftover(line) and line.part in expected}
    kept = _shortened(
        due, (LineRole.NEXT, LineRole.KEY, LineRole.HINT, LineRole.WATCH, LineRole.TITLE), UP_NEXT_WORDS, _calm_words
    )
    for part in (LineRole.NEXT, LineRole.KEY):  # the sound is on already, and the page of the playing song shows both
        rest = {number: line for number, line in kept.items() if not is_feature_next(line)}
        if _calm_words(rest.values()) > UP_NEXT_WORDS:
            kept = {number: line for number, line in kept.items() if line.part is not part or number not in rest}
    return _filled(ordered, kept, UP_NEXT_WORDS, words_of)


def is_feature_next(line: ViewLine) -> bool:
    """Return whether this names a next section that people listen to: it stays, however many words there are."""
    return line.part is LineRole.NEXT and line.mark is LineMark.UNDERLINE


def _calm_words(lines: Iterable[ViewLine]) -> int:
    """Count the words, without the hint for a newcomer, which displaces nothing."""
    return words_of(line for line in lines if line.part is not LineRole.HINT)


def label_without_board(line: ViewLine) -> str:
    """Return the label of a sound without its keyboard's name.

    >>> label_without_board(ViewLine(LineRole.SOUND, "strings", "upper, lift hands:"))
    'lift hands:'
    """
    return LIFT if line.label.endswith(LIFT) else ""


def words_of(lines: Iterable[ViewLine]) -> int:
    """Count the words to read. Advice, songs to drop, notices and keyboard names, which never move, do not count.

    Of a title, its first words alone count.
    """
    counted = (line for line in lines if line.part not in ON_DEMAND and line.part is not LineRole.NOTICE)
    return sum(map(_words_read, counted))


def glance_words(lines: Iterable[ViewLine]) -> int:
    """Count the words on the page of a song that plays, without the lines in ``UNCOUNTED``."""
    return words_of(line for line in lines if line.part not in UNCOUNTED)


def is_essential(line: ViewLine) -> bool:
    """Return whether the page of a song that plays must show this line, whatever else it shows."""
    if line.part is LineRole.SOUND:
        return not is_leftover(line)
    rest = line.part is LineRole.FEATURE and line.mark is LineMark.REST
    other_key = line.part is LineRole.KEY and line.mark is LineMark.CIRCLE
    return line.part in ESSENTIAL or rest or other_key


def _words_read(line: ViewLine) -> int:
    words = replace(line, label=_counted_label(line)).words
    return min(words, TITLE_WORDS) if line.part is LineRole.TITLE else words


def _counted_label(line: ViewLine) -> str:
    return label_without_board(line) if line.part is LineRole.SOUND else line.label


def _worth(line: ViewLine, order: Sequence[LineRole]) -> tuple[int, int]:
    """Return a sort key: a changed key comes before the bars, a sound left on from before comes after the key.

    What people listen for comes between those two, if it says more than that this is a feature.
    """
    after_key = max(order.index(LineRole.KEY), order.index(LineRole.SOUND))
    if is_leftover(line):
        return after_key, 2
    if line.part is LineRole.FEATURE and line.text not in line.shorter:
        return min(order.index(LineRole.FEATURE), after_key), 1
    if line.part is LineRole.KEY and line.mark is LineMark.CIRCLE:
        return min(order.index(LineRole.KEY), order.index(LineRole.NOTICE)), 0
    return order.index(line.part), 0


def _large(lines: tuple[ViewLine, ...]) -> tuple[ViewLine, ...]:
    """Shorten section and next so that both fit in large letters; a line without a shorter form stays whole."""
    left = LARGE_WORDS
    result = []
    for line in lines:
        form = line
        if line.part in (LineRole.SECTION, LineRole.NEXT):
            form = _in_words(line, left) or _shortest(line)
            left -= form.words
        result.append(form)
    return tuple(result)


def _essential(lines: tuple[ViewLine, ...]) -> dict[int, ViewLine]:
    """Return the lines that must stay, by their place in ``lines``, shortened if they have too many words together.

    Bars and key stay too, at the cost of shorter forms elsewhere; they go only if even the shortest forms are too much.
    """
    kept = {number: line for number, line in enumerate(lines) if is_essential(line) or line.part in USUAL}
    shortened = (
        *(LineRole.COUNT, LineRole.BARS, LineRole.KEY, LineRole.WATCH),
        *(LineRole.NEXT, LineRole.SECTION, LineRole.SOUND),
    )
    kept = _shortened(kept, shortened, GLANCE_WORDS, glance_words)
    for number, line in reversed(tuple(kept.items())):
        if line.part in USUAL and not is_essential(line) and glance_words(kept.values()) > GLANCE_WORDS:
            del kept[number]
    return kept


def _shortened(
    kept: dict[int, ViewLine], parts: Sequence[LineRole], words: int, counted: Counted
) -> dict[int, ViewLine]:
    """Shorten the lines of these roles, one after another, until all lines together have at most ``words`` words."""
    kept = dict(kept)
    for part in parts:
        for number, line in tuple(kept.items()):
            if line.part is part and counted(kept.values()) > words:
                kept[number] = _shortest(line)
    return kept


def _filled(
    lines: tuple[ViewLine, ...], kept: dict[int, ViewLine], words: int, counted: Counted
) -> tuple[ViewLine, ...]:
    """Add the remaining lines, the most important first, while there are words left."""
    for number, line in enumerate(lines):
        if number in kept:
            continue
        form = line if not counted((line,)) else _in_words(line, words - counted(kept.values()))
        if form is not None:
            kept[number] = form
    return tuple(kept[number] for number in sorted(kept))


def _in_words(line: ViewLine, words: int) -> ViewLine | None:
    """Return the longest form of at most ``words`` words, or the beginning of a sentence; None if neither will do."""
    forms = (line.text, *line.shorter)
    for place, form in enumerate(forms):
        shorter = replace(line, text=form, shorter=forms[place + 1 :])
        if words_of((shorter,)) <= words:
            return shorter
    room = words - _label_words(line)
    return _cut(line, room) if line.part in SENTENCES and room >= LEAST_CUT else None


def _cut(line: ViewLine, words: int) -> ViewLine:
    return replace(line, text=cut((line.text, *line.shorter)[-1], words), shorter=())


def _shortest(line: ViewLine) -> ViewLine:
    """Return the line in its form with the fewest words."""
    forms = (line.text, *line.shorter)
    place = min(range(len(forms)), key=lambda number: replace(line, text=forms[number]).words)
    return replace(line, text=forms[place], shorter=forms[place + 1 :])


def _label_words(line: ViewLine) -> int:
    return replace(line, text="").words
