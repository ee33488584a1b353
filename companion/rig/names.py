"""Names as a player types them: two that differ only in case and spaces are one name."""


def folded(name: str) -> str:
    """Return the form in which names are compared.

    >>> folded("  Tonewheel   ORGAN ")
    'tonewheel organ'
    """
    if not name.isascii():
        import unicodedata  # noqa: PLC0415  # only for the few names with accents, which may be typed in two ways

        name = unicodedata.normalize("NFC", name)
    return " ".join(name.casefold().split())
