"""Sounds of the keyboard that are named and nothing more, for the notes: "7 Rhodes", "organ on 3 and 5"."""

from collections.abc import Sequence
from typing import Final

from companion.leader.fact_words import SOUNDED
from companion.leader.guess_words import AT_START, BEGINS, COUNTS, player_of
from companion.leader.hour_words import folded_words
from companion.leader.reply_items import ScannedLine
from companion.leader.reply_words import WORD
from companion.leader.songs_meant import SongsMeant

_OF_KEYBOARD: Final = ("piano", "organ", "synth", "rhodes", "clav")
_OF_OTHERS: Final = ("brass", "horns", "strings", "choir", "harp", "accordion")
_MADE: Final = folded_words("stabs stab pad pads patch hits swell swells sound sounds sample samples")
_BESIDE: Final = folded_words(
    "on for in at please and or with if auf bei für bitte und mit im sur pour à et avec para en y con su per e op voor "
    "met på för och med til og na i a"
)


def sound_named(line: ScannedLine, places: Sequence[int]) -> str:
    """Return the words of a sound among some words, and of how it is, where nothing says that it starts; or ""."""
    words = line.words
    if any(words[at].low in BEGINS | AT_START | COUNTS for at in places):
        return ""
    titled = {at for one in line.items if isinstance(one.what, SongsMeant) for at in range(one.at, one.end)}
    named = {at for at in places if words[at].kind == WORD and words[at].low not in _BESIDE and at not in titled}
    at = next((at for at in sorted(named) if player_of(words[at].low) in (*_OF_KEYBOARD, *_OF_OTHERS)), None)
    if at is None:
        return ""
    begin, end = at, at + 1
    while begin - 1 in named:
        begin -= 1
    while end in named:
        end += 1
    player = player_of(words[at].low)
    is_sound = any(words[one].low in _MADE for one in range(begin, end)) or player in _OF_KEYBOARD
    if player == "piano":  # rubato piano: the player
        is_sound = end > at + 1 or any(words[one].low in SOUNDED for one in range(begin, at))
    return line.said(begin, end) if is_sound else ""
