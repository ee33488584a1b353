"""The text screen: the same view as lines for a terminal, for a machine without a display."""

from collections.abc import Iterable, Iterator
from typing import Final

from companion.view.chord_bars import bars_of, rows_of_bars
from companion.view.glance import is_leftover
from companion.view.short_words import middle_cut
from companion.view.view_lines import LineMark, LineRole, Picture, View, ViewLine

ORDER: Final = (
    LineRole.STANDING,
    LineRole.TYPED,
    LineRole.SECTION,
    LineRole.TITLE,
    LineRole.COUNT,
    LineRole.BARS,
    LineRole.FEATURE,
    LineRole.NEXT,
    LineRole.WATCH,
    LineRole.CUE,
    LineRole.FIRST_WORDS,
    LineRole.HITS,
    LineRole.CHORDS,
    LineRole.START,
    LineRole.ENDING,
    LineRole.SOUND,
    LineRole.KEY,
    LineRole.TEMPO,
    LineRole.NOTES,
    LineRole.CHOICE,
    LineRole.ADVICE,
    LineRole.DROP,
    LineRole.NOTICE,
    LineRole.PACE,
    LineRole.HINT,
)
_PLAIN: Final = str.maketrans({"♭": "b", "♯": "#", "“": '"', "”": '"', "…": "...", "×": "x", "♩": "q", "★": "*"})
_BEFORE: Final = {
    LineMark.HIGHLIGHT: "*** ",
    LineMark.TORN: "!!! ",
    LineMark.RIPPED: "off: ",
    LineMark.CHOSEN: "> ",
}
_AFTER: Final = {LineMark.HIGHLIGHT: " ***", LineMark.TORN: " !!!"}


def text_lines(view: View, width: int = 80, *, plain: bool = False) -> tuple[str, ...]:
    """Return the view as lines of at most ``width`` characters. ``plain``: writes signs such as ♭ and ★ in ASCII."""
    lines = sorted(view.lines, key=lambda line: ORDER.index(line.part))
    if view.form is not None:
        at = f"section {view.form.at + 1} of {view.form.many}" if view.form.many > 1 else "playing"
        lines.append(ViewLine(LineRole.STANDING, at))
    if view.chart is not None:
        lines.append(ViewLine(LineRole.HINT, "a chart is shown in the window only"))
    shown = tuple(_shown_lines(lines, max(width, 8), playing=view.picture is Picture.PLAYING))
    return tuple(line.translate(_PLAIN) for line in shown) if plain else shown


def _shown_lines(lines: Iterable[ViewLine], width: int, *, playing: bool) -> Iterator[str]:
    for line in lines:
        label = f"{_label(line)} " if _label(line) else ""
        forms = (line.text, *line.shorter)
        room = width - len(label) - len(_BEFORE.get(line.mark, "")) - len(_AFTER.get(line.mark, ""))
        if line.part is LineRole.CHORDS and len(line.text) > room:
            yield from _chord_rows(label, line.text, width)
            continue
        text = next((form for form in forms if len(form) <= room), None) or middle_cut(forms[-1], max(room, 2))
        if line.part is LineRole.SECTION or (line.part is LineRole.TITLE and not playing):
            text = text.upper()
        yield f"{label}{_BEFORE.get(line.mark, '')}{text}{_AFTER.get(line.mark, '')}"[:width]


def _chord_rows(label: str, text: str, width: int) -> Iterator[str]:
    """Yield chords on rows that end at bar lines; a single bar that is too wide is cut."""
    bars = bars_of(text)
    rows = rows_of_bars(text, len(bars), lambda row: len(row) <= width - len(label)) or bars
    for number, row in enumerate(rows):
        room = width - (0 if number else len(label))
        yield f"{'' if number else label}{row if len(row) <= room else middle_cut(row, max(room, 2))}"[:width]


def _label(line: ViewLine) -> str:
    """Return the words before the text. They also say what the window shows by a circle or by pencil."""
    if line.part is LineRole.KEY and line.mark is LineMark.CIRCLE and line.label == "key":
        return "new key"
    return f"{line.label} still".strip() if is_leftover(line) else line.label
