"""The text screen: the same view as lines of a terminal, for a machine with no display."""

from collections.abc import Iterable, Iterator
from typing import Final

from .parts import Line, Mark, Part, Picture, View
from .words import middle_cut

ORDER: Final = (
    Part.STANDING,
    Part.TYPED,
    Part.SECTION,
    Part.TITLE,
    Part.COUNT,
    Part.BARS,
    Part.FEATURE,
    Part.NEXT,
    Part.WATCH,
    Part.CUE,
    Part.FIRST_WORDS,
    Part.HITS,
    Part.CHORDS,
    Part.START,
    Part.ENDING,
    Part.SOUND,
    Part.KEY,
    Part.TEMPO,
    Part.NOTES,
    Part.CHOICE,
    Part.ADVICE,
    Part.DROP,
    Part.NOTICE,
    Part.PACE,
    Part.HINT,
)
_PLAIN: Final = str.maketrans({"♭": "b", "♯": "#", "“": '"', "”": '"', "…": "...", "×": "x", "♩": "q", "★": "*"})
_BEFORE: Final = {Mark.HIGHLIGHT: "*** ", Mark.TORN: "!!! ", Mark.RIPPED: "off: ", Mark.CIRCLE: "(", Mark.CHOSEN: "> "}
_AFTER: Final = {Mark.HIGHLIGHT: " ***", Mark.TORN: " !!!", Mark.CIRCLE: ")"}


def text_lines(view: View, width: int = 80, *, plain: bool = False) -> tuple[str, ...]:
    """Return the view as lines of at most ``width`` characters. ``plain``: with signs that any terminal can show."""
    lines = sorted(view.lines, key=lambda line: ORDER.index(line.part))
    if view.form is not None:
        lines.append(Line(Part.STANDING, f"section {view.form.at + 1} of {view.form.many}"))
    if view.chart is not None:
        lines.append(Line(Part.HINT, "a chart is shown in the window only"))
    told = tuple(_told(lines, max(width, 8), playing=view.picture is Picture.PLAYING))
    return tuple(line.translate(_PLAIN) for line in told) if plain else told


def _told(lines: Iterable[Line], width: int, *, playing: bool) -> Iterator[str]:
    for line in lines:
        label = f"{line.label} " if line.label else ""
        forms = (line.text, *line.shorter)
        room = width - len(label) - len(_BEFORE.get(line.mark, "")) - len(_AFTER.get(line.mark, ""))
        text = next((form for form in forms if len(form) <= room), None) or middle_cut(forms[-1], max(room, 2))
        if line.part is Part.SECTION or (line.part is Part.TITLE and not playing):
            text = text.upper()
        yield f"{label}{_BEFORE.get(line.mark, '')}{text}{_AFTER.get(line.mark, '')}"[:width]
