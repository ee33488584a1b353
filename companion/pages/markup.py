"""HTML built from tags: every text and every attribute is escaped here, and nowhere else."""

from collections.abc import Iterable
from html import escape
from typing import Final

from companion.shown import harmless

EMPTY: Final = frozenset(("br", "hr", "img", "input", "link", "meta"))  # HTML Standard, void elements

Attribute = str | int | bool | None


class Html(str):
    """A text that is HTML already. Only this module makes one."""

    __slots__ = ()


Inside = str | None | Iterable[str | None]


def tag(element: str, /, *inside: Inside, attrs: dict[str, Attribute] | None = None, **more: Attribute) -> Html:
    """Return an element. An attribute's ``_`` becomes ``-``, a last one is dropped; True alone, None and False absent.

    >>> tag("p", "<b>", class_="pencil", hidden=True)
    '<p class="pencil" hidden>&lt;b&gt;</p>'
    """
    attributes = {key.rstrip("_").replace("_", "-"): value for key, value in more.items()} | (attrs or {})
    head = "".join(_attribute(key, value) for key, value in attributes.items())
    body = "".join(_flat(inside))
    return Html(f"<{element}{head}>" if element in EMPTY else f"<{element}{head}>{body}</{element}>")


def fragment(*inside: Inside) -> Html:
    """Return elements one after the other, without one around them."""
    return Html("".join(_flat(inside)))


def html_page(*inside: Inside) -> Html:
    """Return a whole document."""
    return Html(f"<!doctype html>{tag('html', *inside, lang='en')}")


def _attribute(key: str, value: Attribute) -> str:
    if value is None or value is False:
        return ""
    return f" {key}" if value is True else f' {key}="{escape(harmless(str(value)))}"'


def _flat(inside: Iterable[Inside]) -> Iterable[str]:
    for one in inside:
        if one is None:
            continue
        if isinstance(one, Html):
            yield one
        elif isinstance(one, str):
            yield escape(harmless(one))
        else:
            yield from _flat(one)


def drawn(svg: str) -> Html:
    """Return a picture of the room ``picture``, which escapes its own texts."""
    return Html(svg)
