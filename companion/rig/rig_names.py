"""Names of keyboards, sounds and ports, as players and systems write them."""


def folded_name(name: str) -> str:
    """Return the name for comparison: case, runs of spaces and the two encodings of accented letters do not matter.

    >>> folded_name("  Tonewheel   ORGAN ")
    'tonewheel organ'
    """
    if not name.isascii():
        import unicodedata  # noqa: PLC0415  # only for the few names with accents, which have two encodings

        name = unicodedata.normalize("NFC", name)
    return " ".join(name.casefold().split())
