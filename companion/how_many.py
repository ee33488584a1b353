"""A number of things in words."""


def how_many(number: int, thing: str) -> str:
    """Return a number with its noun, an ``s`` at its end unless there is one.

    >>> how_many(1, "song"), how_many(2, "song"), how_many(0, "more place")
    ('1 song', '2 songs', '0 more places')
    """
    return f"{number} {thing}{'' if number == 1 else 's'}"
