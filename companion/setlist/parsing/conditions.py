"""Lines that say when the songs below them are played: if they won't let us go, wenn sie noch wollen."""

import re
from typing import Final

MOST_WORDS: Final = 8
_IF: Final = re.compile(
    r"^(?:(?:and|but|only|just|und|nur|et|e|y|en|og|och)\s)?"
    r"(?:(?:(?:if|in case|wenn|falls|si|se|als|indien|hvis|om|jos|jeśli|gdyby|pokud|když|"
    r"ha|ako|sollten?|mocht(?:en)?|skulle)\s|s['’])[^:]{4,44}:"
    r"|(?:should|in case) (?:there|they|people|folk|anyone|anybody|the \w+|we|time)\s[^:.!?]{3,40}:?"
    r"|if (?:they|people|folk|the crowd|anyone|anybody|nobody|we|there|it)(?:['’](?:re|s|d|ve|ll|m))?\s[^:.!?]{3,40})$"
)


def is_condition(text: str) -> bool:
    """Return whether a line in small letters says on what condition the songs below it are played.

    >>> [is_condition(text) for text in ("if they won't let us go:", "if folk stay", "If They Knew", "if in F")]
    [True, True, False, False]
    >>> [is_condition(text) for text in ("Should they want more", "Should I Stay", "if there's time left", "Sett en:")]
    [True, False, True, False]
    >>> [is_condition(text) for text in ("If the hall stays full:", "Wenn sie noch wollen:", "If They Knew:", "If: F")]
    [True, True, False, False]
    """
    said = text.strip(" *_~#=-–—")
    words = said.split()
    if (said[-1:] == ":" or said.startswith("Should ")) and 2 * sum(word[0].isupper() for word in words[1:]) < len(
        words
    ) - 1:
        said = said[:1].lower() + said[1:]  # If they clap: a title has more capitals
    return len(words) <= MOST_WORDS and bool(_IF.match(said))
