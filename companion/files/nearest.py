"""The nearest known word: what a fault says to write. The matching library is loaded only when there is a fault."""

from collections.abc import Iterable

MEANT_AT_LEAST = 66  # per cent alike, below which a guess misleads: "opne"/"open" is 75, "bars"/"artist" 60
LONGEST = 60  # characters of what was typed that count


def nearest(typed: str, known: Iterable[str]) -> str:
    """Return the known word that was most likely meant; empty where none is near.

    >>> nearest("tempoo", ("title", "tempo", "meter"))
    'tempo'
    >>> nearest("lead", ("grand piano", "synth lead"))
    'synth lead'
    >>> nearest("zebra", ("title", "tempo", "meter"))
    ''
    """
    if not typed:
        return ""  # asked for all the words, which is no fault
    from rapidfuzz import fuzz, process  # noqa: PLC0415  only a fault pays for it

    words = list(known)
    found = process.extractOne(
        typed[:LONGEST].casefold(), words, processor=str.casefold, scorer=fuzz.ratio, score_cutoff=MEANT_AT_LEAST
    )
    if found:
        return str(found[0])
    parts = set(typed[:LONGEST].casefold().split())
    return next((word for word in words if parts and parts <= set(word.casefold().split())), "")


def nearest_or_all(typed: str, known: Iterable[str]) -> str:
    """Return the nearest known word, or else all of them to choose from.

    >>> nearest_or_all("zebra", ("cold", "fade"))
    'cold or fade'
    """
    words = tuple(known)
    return nearest(typed, words) or (f"{', '.join(words[:-1])} or {words[-1]}" if words[1:] else "".join(words))


def shown(typed: str, longest: int = 40) -> str:
    r"""Put what was typed into quotes, short and on one line, whatever it was.

    >>> shown("ten\nbars")
    '"ten bars"'
    """
    line = " ".join(typed.split())
    line = line if len(line) <= longest else line[: longest - 1] + "…"
    return '"' + "".join(letter if letter.isprintable() else "?" for letter in line) + '"'
