"""What a show lacks, in few lines: the most important first, a kind that many songs lack in one line."""

from collections import defaultdict
from collections.abc import Sequence
from typing import Final

from companion.errors import Fault
from companion.show.checks import WEIGHTS, Missing

MAX_LINES: Final = 10  # what one reads at once
FEW: Final = 2  # up to so many of a kind each have a line of their own
NAMED: Final = 3  # titles in a line for many

KINDS: Final[dict[str, str]] = {
    "key of a feature": "songs where people listen to the keys have no key",
    "key": "songs have no key",
    "sound of a feature": "features have no sound",
    "starts_with": "songs do not say who starts them",
    "road_map": "songs have no road map",
    "watch": "open sections name nobody to watch",
    "tempo": "songs have no tempo",
    "ending": "songs do not say how they end",
    "count_off": "songs have no count-off",
    "date": "shows have no date",
    "sound": "songs have no sound",
    "chart": "songs do not say whether there is a chart",
    "bars": "sections have no bars",
    "length": "songs have no length",
    "minutes": "sets have no minutes",
    "starts": "sets have no start",
    "meter": "songs have no meter",
    "known": "songs do not say how well you know them",
    "hard": "songs do not say how hard they are",
    "recording": "songs have no recording",
    "band": "shows have no band",
}


def in_short(missing: Sequence[Missing]) -> tuple[list[Fault], int]:
    """Return the most important lines, at most ``MAX_LINES``, and how many missing things they do not mention.

    ``missing`` comes heaviest first. A line for many points at the first of them.
    """
    of_kind: dict[str, list[Missing]] = defaultdict(list)
    for one in missing:
        of_kind[one.what].append(one)
    lines: list[Fault] = []
    counted = 0
    for what, found in of_kind.items():
        many = len(found) > FEW
        for one in (found[:1] if many else found)[: MAX_LINES - len(lines)]:
            lines.append(_of_many(what, found) if many else one.fault)
            counted += len(found) if many else 1
    return lines, len(missing) - counted


def _of_many(what: str, found: Sequence[Missing]) -> Fault:
    titles = list(dict.fromkeys(one.title for one in found))
    rest = f" and {len(titles) - NAMED} more" if len(titles) > NAMED else ""
    first = found[0].fault
    named = f"{', '.join(titles[:NAMED])}{rest}"
    problem = f"{len(found)} {KINDS[what]} ({named}): {WEIGHTS[what][1]}"
    return Fault(first.path, first.line, first.column, problem, first.write)
