"""Keys that a leader says by how far they move: down a tone, up a step, two semitones lower."""

from collections.abc import Sequence
from typing import Final

from companion.leader.reply_words import ReplyWord, counted, low, phrase
from companion.leader.stated_fact import MOVED_BY, StatedFact

UP: Final = ("up", "higher", "above")
DOWN: Final = ("down", "lower", "below")
# Semitones of what a step is called. A step alone is a whole one (common practice, no source).
STEPS: Final = {
    **dict.fromkeys(("semitone", "semitones", "half step", "half steps", "half tone", "halftone"), 1),
    **dict.fromkeys(("tone", "tones", "step", "steps", "whole step", "whole steps", "whole tone", "whole tones"), 2),
}
MOST: Final = 7  # semitones; more is another way of saying the other direction


def moved_by(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read "down a tone" and "two semitones up" as a key that moves so many semitones."""
    way = _way(low(words, at))
    if way and (distance := _distance(words, at + 1)):
        return _moved(way, *distance)
    if not way and (distance := _distance(words, at)) and (way := _way(low(words, distance[1]))):
        return _moved(way, distance[0], distance[1] + 1)
    return None


def _way(said: str) -> int:
    return 1 if said in UP else -1 if said in DOWN else 0


def _moved(way: int, semitones: int, end: int) -> StatedFact | None:
    return StatedFact(MOVED_BY, way * semitones, end, firm=False) if semitones <= MOST else None


def _distance(words: Sequence[ReplyWord], at: int) -> tuple[int, int] | None:
    """Read "a tone", "two semitones", "half a step": (semitones, the end)."""
    many, end = 1, at
    half = phrase(words, at, "half a tone", "half a step")
    if half:
        return 1, at + half
    if low(words, at) in ("a", "an", "one", "by"):
        end = at + 1 + (low(words, at) == "by" and low(words, at + 1) == "a")
    elif at < len(words) and (number := counted(list(words), at)):
        many, end = number[0], at + number[1]
    length = phrase(words, end, *STEPS)
    said = " ".join(word.low for word in words[end : end + length])
    return (many * STEPS[said], end + length) if length else None
