"""Where a page takes a set list: a file that is chosen or dropped on the page, or a message that is pasted."""

from typing import Final

from companion.pages.markup import Html, fragment, tag

LISTS: Final = ".csv,.tsv,.xlsx,.ods,.pdf,.md,.txt,.docx,.odt,.rtf,.eml,.html,.png,.jpg,.jpeg,.webp,.tiff"
"""What a file dialog offers first; what a file is, its contents decide."""


PASTED: Final = "message.txt"
"""The name under which a pasted message comes in, if the player gave none."""


def named(name: str) -> str:
    """Return how a list is called on the page."""
    return "your message" if name == PASTED else name


def chooser_html(*, has_show: bool = False) -> Html:
    """Return the ways to bring a list in, and the place for what is wrong with it.

    ``has_show``: there are songs that the leader's answers can be about.
    """
    answers = tag("button", "It answers my questions", type="button", id="paste-answers") if has_show else None
    return fragment(
        tag("p", tag("label", "Set list ", tag("input", type="file", id="list", accept=LISTS))),
        tag("p", tag("label", "Or paste the message ", tag("textarea", id="paste", rows="4", autocomplete="off"))),
        None
        if has_show
        else tag(
            "p",
            tag("label", "If the message does not say: what is the gig called? ", tag("input", id="paste-name")),
        ),
        tag("p", tag("button", "Read the message", type="button", id="paste-in"), answers, class_="buttons"),
        tag("p", id="list-slip", class_="slip"),
    )


def newer_html() -> Html:
    """Return the place for the list's next version; the whole page takes a file that is dropped, too."""
    return tag(
        "details",
        tag("summary", "A newer set list"),
        tag(
            "p",
            "Choose or drop the leader's new list, or paste a message about changes. You "
            "see what differs before anything changes.",
        ),
        chooser_html(has_show=True),
        id="newer",
    )
