"""Which old set each new set continues: by its name, else by the songs that both hold."""

from collections import Counter
from collections.abc import Collection, Sequence

from companion.show import Set
from companion.show.titles import folded


def sets_continued(old: Sequence[Set], new: Sequence[Set], songs: Sequence[tuple[int, int]]) -> tuple[int | None, ...]:
    """Return the old set that each new set continues, by index; None for a new one.

    ``songs``: the old and the new set of each song that both versions have. Sets of the same name go together; then
    those that share at least half of the smaller one's songs, so that a third set never takes the place of an encore.
    """
    if len(old) == len(new) == 1:
        return (0,)
    free = list(range(len(old)))
    found: list[int | None] = []
    for one in new:
        same = next((at for at in free if folded(old[at].name) == folded(one.name)), None)
        if same is not None:
            free.remove(same)
        found.append(same)
    for (was, now), shared in Counter(songs).most_common():
        if was in free and found[now] is None and shared * 2 >= min(len(old[was].songs), len(new[now].songs)):
            found[now] = was
            free.remove(was)
    return tuple(found)


def longest_run(places: Sequence[int], steady: Collection[int] = ()) -> set[int]:
    """Return the longest sequence of places that are still in their old order; the others have moved.

    Of several as long, the one with most ``steady`` places, which have the same number as before.
    """
    best: list[tuple[tuple[int, int], int]] = []  # (length and steady ones up to here, index of its previous place)
    for at, place in enumerate(places):
        here = int(place in steady)
        before = [
            ((best[other][0][0] + 1, best[other][0][1] + here), other) for other in range(at) if places[other] < place
        ]
        best.append(max(before, default=((1, here), -1), key=lambda run: run[0]))
    found: set[int] = set()
    at = max(range(len(best)), key=lambda place: best[place][0], default=-1)
    while at >= 0:
        found.add(places[at])
        at = best[at][1]
    return found
