"""Find the headings that are hardly more than a number, by the other headings of the list: 2nd, S2, II."""

from collections.abc import Sequence

from companion.setlist.parsing.set_headings import SetHeading, named_by_number, short_heading


def short_headings(texts: Sequence[str | None], numbers_of_sets: int) -> dict[int, tuple[SetHeading, bool]]:
    """Return the headings by line, each with whether it is sure.

    ``texts`` holds None for a line that can be no heading. A heading is sure where others of its form count up with
    it from 1, or where the list has ``numbers_of_sets`` plain headings, one fewer than its number.
    """
    found: dict[int, tuple[SetHeading, bool]] = {}
    read = [(at, form) for at, text in enumerate(texts) if text and (form := short_heading(text))]
    for kind in {one for _, (one, _) in read}:
        numbers = [number for _, (one, number) in read if one == kind]
        counts_up = numbers == list(range(numbers[0], numbers[0] + len(numbers))) and numbers[0] <= 2
        sure = counts_up and (len(numbers) > 1 or numbers[0] == numbers_of_sets + 1 > 1)
        for at, (one, number) in read:
            if one == kind and at + 1 < len(texts) and texts[at + 1]:
                found[at] = named_by_number(number), sure
    return found
