"""The nearest known word, for a fault's suggestion. The matching library loads only when there is a fault."""

from collections.abc import Iterable

MEANT_AT_LEAST = 66  # per cent alike; a worse match misleads: "opne"/"open" is 75, "bars"/"artist" 60
LONGEST = 60  # characters of the typed word to compare


def nearest(typed: str, known: Iterable[str]) -> str:
    """Return the known word that was most likely meant, or "" if none is near.

    >>> nearest("tempoo", ("title", "tempo", "meter"))
    'tempo'
    >>> nearest("lead", ("grand piano", "synth lead"))
    'synth lead'
    >>> nearest("zebra", ("title", "tempo", "meter"))
    ''
    """
    if not typed:
        return ""  # fetched by a caller that needs all the words
    from rapidfuzz import fuzz, process  # noqa: PLC0415  only a fault needs it

    words = list(known)
    found = process.extractOne(
        typed[:LONGEST].casefold(), words, processor=str.casefold, scorer=fuzz.ratio, score_cutoff=MEANT_AT_LEAST
    )
    if found:
        return str(found[0])
    parts = set(typed[:LONGEST].casefold().split())
    return next((word for word in words if parts and parts <= set(word.casefold().split())), "")


def nearest_or_all(typed: str, known: Iterable[str]) -> str:
    """Return the nearest known word, or all of them joined with "or".

    >>> nearest_or_all("zebra", ("cold", "fade"))
    'cold or fade'
    """
    words = tuple(known)
    return nearest(typed, words) or (f"{', '.join(words[:-1])} or {words[-1]}" if words[1:] else "".join(words))


def shown(typed: str, longest: int = 40) -> str:
    r"""Return what was typed in quotes, shortened and on one line.

    >>> shown("ten\nbars")
    '"ten bars"'
    """
    line = " ".join(typed.split())
    line = line if len(line) <= longest else line[: longest - 1] + "…"
    return '"' + "".join(letter if letter.isprintable() else "?" for letter in line) + '"'
