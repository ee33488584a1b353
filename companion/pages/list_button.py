"""The button of one decision: about a list, about the leader's answers, or about what a night taught."""

from companion.pages.markup import Html, tag


def list_button(words: str, does: str, name: str = "", *, about: str = "", word: str = "", then: str = "") -> Html:
    """Return a button that sends the decision ``does`` about ``name``, with ``word`` if it needs one.

    ``about`` is read aloud after the button's words, and not seen. ``then`` is the id to go to afterwards.
    """
    return tag(
        "button",
        words,
        tag("span", f": {about}", class_="unseen") if about else None,
        type="button",
        id=f"list-{does}" if not name else None,
        data_list=does,
        data_name=name,
        data_word=word or None,
        data_then=then or None,
    )
