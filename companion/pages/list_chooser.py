"""Where a page takes a set list: a file that is chosen, or dropped on the page."""

from typing import Final

from companion.pages.markup import Html, tag

LISTS: Final = ".csv,.tsv,.xlsx,.ods,.pdf,.md,.txt,.docx,.odt,.rtf,.eml,.html,.png,.jpg,.jpeg,.webp,.tiff"
"""What a file dialog offers first; what a file is, its contents decide."""


def newer_html() -> Html:
    """Return the place for the list's next version; the whole page takes a file that is dropped, too."""
    return tag(
        "details",
        tag("summary", "A newer set list"),
        tag(
            "p", "Choose the leader's new list, or drop it on this page. You see what differs before anything changes."
        ),
        tag("p", tag("label", "Set list ", tag("input", type="file", id="list", accept=LISTS))),
        tag("p", id="list-slip", class_="slip"),
        id="newer",
    )
