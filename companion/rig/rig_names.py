"""Names as a player types them: case and spaces do not matter."""


def folded(name: str) -> str:
    """Return the form for comparing names.

    >>> folded("  Tonewheel   ORGAN ")
    'tonewheel organ'
    """
    if not name.isascii():
        import unicodedata  # noqa: PLC0415  # only for the few names with accents, which have two encodings

        name = unicodedata.normalize("NFC", name)
    return " ".join(name.casefold().split())
