"""How a message ends: a farewell and a name, which change nothing."""

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import TypeVar

from companion.setlist.model import SaidLine

_FAREWELL = re.compile(  # a name has a capital: "thanks, no encore" says more
    r"^(?:[Tt]hanks|[Tt]hank you|[Tt]hx|[Cc]heers|[Bb]est(?: wishes| regards)?|(?:[Kk]ind )?[Rr]egards|"
    r"[Ss]ee (?:you|ya)|[Bb]ye|[Ll]ove|[Dd]anke|LG|lg|[Tt]a)"
    r"(?:,? (?:again|all|everyone|so much|a lot|then|there|soon|[Oo]n [A-Z]\w{0,20}|[A-Z]\w{0,20}))?[!.,]{0,3}"
    r"(?: [A-Z]\w{0,20})?[\s,.!x]{0,6}$"
)
_NAME = re.compile(r"^[A-Z]\w{0,20}\.?(?:\s+x{1,4})?$|^x{1,4}$")
LAST_LINES = 2  # of a message: they may be its signature
MAX_WORDS_OF_A_NAME = 3  # below a message

T = TypeVar("T")


def is_farewell_clause(clause: str) -> bool:
    """Return whether a clause only closes the message."""
    return bool(_FAREWELL.match(clause))


def without_names(clauses: Iterable[tuple[str, T]]) -> Iterator[tuple[str, T]]:
    """Return the clauses of a line without the name after a farewell: See you Monday!! D."""
    is_closed = False
    for clause, said in clauses:
        if not (is_closed and _NAME.match(clause)):
            yield clause, said
        is_closed = is_farewell_clause(clause)


def is_signature(lines: Sequence[SaidLine], at: int) -> bool:
    """Return whether a line only closes the message: a farewell, or a name below one."""
    text = lines[at].text.strip()
    if at < len(lines) - LAST_LINES or at == 0:
        return False
    if is_farewell_clause(text):
        return True
    is_name_alone = len(text.split()) <= MAX_WORDS_OF_A_NAME and all(word[0].isupper() for word in text.split())
    return is_name_alone and is_farewell_clause(lines[at - 1].text.strip())
