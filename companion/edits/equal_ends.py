"""Where two sequences differ: what they share at both ends."""

from collections.abc import Sequence


def equal_ends(old: Sequence[object], new: Sequence[object]) -> tuple[int, int]:
    """Return how many items are equal at the beginning, and how many of the rest are equal at the end.

    >>> equal_ends("aba", "aa"), equal_ends("ab", "ab")
    ((1, 1), (2, 0))
    """
    both = min(len(old), len(new))
    head = 0
    while head < both and old[head] == new[head]:
        head += 1
    tail = 0
    while tail < both - head and old[-1 - tail] == new[-1 - tail]:
        tail += 1
    return head, tail
