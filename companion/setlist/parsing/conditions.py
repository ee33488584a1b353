"""Lines that say when the songs below them are played: if they won't let us go, wenn sie noch wollen."""

import re
from typing import Final

MOST_WORDS: Final = 8
_IF: Final = re.compile(
    r"^(?:(?:and|but|only|just|und|nur|et|e|y|en|og|och)\s)?"
    r"(?:(?:if|in case|wenn|falls|si|s'|s’|se|als|indien|hvis|om|jos|jeśli|pokud|když)\s?[^:]{4,44}:"
    r"|if (?:they|people|folk|the crowd|anyone|anybody|nobody)\s[^:.!?]{3,40})$"
)


def is_condition(text: str) -> bool:
    """Return whether a line in small letters says on what condition the songs below it are played.

    >>> [is_condition(text) for text in ("if they won't let us go:", "if folk stay", "If They Knew", "if in F")]
    [True, True, False, False]
    >>> [is_condition(text) for text in ("If the hall stays full:", "Wenn sie noch wollen:", "If They Knew:", "If: F")]
    [True, True, False, False]
    """
    said = text.strip(" *_~#=-–—")
    words = said.split()
    if said[-1:] == ":" and 2 * sum(word[0].isupper() for word in words[1:]) < len(words) - 1:
        said = said[:1].lower() + said[1:]  # If they clap: a title has more capitals
    return len(words) <= MOST_WORDS and bool(_IF.match(said))
