"""SVG elements as text: numbers short, words escaped, nothing that a browser could run."""

from collections.abc import Iterable
from html import escape
from typing import Final

from companion.shown import harmless_line

Coordinates = Iterable[tuple[float, float]]

CLOSE: Final = 2  # decimals of a coordinate: a hundredth of a px is not seen


def number(value: float) -> str:
    """Return a number as short as it can be: 12, 0.5."""
    return f"{value:.{CLOSE}f}".rstrip("0").rstrip(".") or "0"


def words(text: str) -> str:
    """Return text for use between tags or in quotes; control characters are shown as pictures."""
    return escape(harmless_line(text), quote=True)


def points(pairs: Coordinates) -> str:
    """Return the value of a ``points`` attribute."""
    return " ".join(f"{number(x)},{number(y)}" for x, y in pairs)


def document(width: float, height: float, label: str, inside: Iterable[str], css_class: str) -> str:
    """Return an SVG picture that scales to its place on the page; ``label`` says it to a screen reader."""
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {number(width)} {number(height)}" class="{css_class}" '
        f'role="img" aria-label="{words(label)}">'
    )
    return "".join((head, *inside, "</svg>"))
