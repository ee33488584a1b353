"""The index tab of a song's sheet: its key, in letters that can be read from across the room."""

from companion.music import Key
from companion.pages.markup import Html, tag
from companion.view.short_words import shown_key


def key_tab(key: Key | None) -> Html:
    """Return the tab with a key, a mode below it in small letters; without a key, a tab that asks for it."""
    if key is None:
        return tag("div", tag("span", "key?", class_="pencil"), class_="tab")
    tonic, _, mode = shown_key(str(key)).partition(" ")
    return tag("div", tag("span", tonic, tag("small", f" {mode}") if mode else None), class_="tab")
