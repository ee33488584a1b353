"""Letters of a show that no typeface on this computer has: the stage screen would draw an empty box for each."""

from collections.abc import Iterator
from pathlib import Path

from companion.errors import Fault
from companion.screen.screen_fonts import typeface
from companion.show import Show

MAX_NAMED = 12


def boxes(show: Show, path: Path) -> tuple[Fault, ...]:
    """Return a warning, placed at the file's head, that names the letters shown as boxes; empty if there are none."""
    missing = typeface().lacks("".join(_shown(show)))
    if not missing:
        return ()
    some = missing[:MAX_NAMED] + ("…" if len(missing) > MAX_NAMED else "")
    problem = f"the stage screen has no typeface for these letters and shows boxes: {some}"
    return (Fault(str(path), 1, 1, problem, "Latin letters, or install a typeface that has these: Noto Sans CJK"),)


def _shown(show: Show) -> Iterator[str]:
    """Yield every text of a show that the screen shows."""
    yield show.title
    for one_set in show.sets:
        yield one_set.name
        for song in one_set.songs:
            yield from (song.title, *(text or "" for text in (song.first_words, song.notes)))
            yield from (text or "" for text in (song.starts_with, song.count_off))
            for section in song.road_map:
                texts = (section.name, section.feature, section.cue, section.watch, section.first_words)
                yield from (text or "" for text in texts)
