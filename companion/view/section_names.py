"""Names of sections. Sections that share a name get a number if they differ ('Verse 2')."""

from itertools import pairwise

from companion.show import Section
from companion.stage import BookSong
from companion.view.short_words import SHORT_FORMS, cut

SECTION_WORDS = 4


def name_forms(song: BookSong, number: int) -> tuple[str, ...]:
    """Return the ways to name a section of a song, the longest first: ('Verse 2', 'Vs. 2')."""
    section = song.sections[number].section
    which = f" {song.sections[number].occurrence}" if is_numbered(song, section.name) else ""
    short = SHORT_FORMS.get(section.name.casefold(), ())
    return tuple(f"{name}{which}" for name in (cut(section.name, SECTION_WORDS), *short))


def is_numbered(song: BookSong, name: str) -> bool:
    """Return whether the sections with this name differ in anything that the player must know."""
    alike = [one.section for one in song.sections if one.section.name == name]
    return any(_differ(one, other) for one, other in pairwise(alike))


def _differ(one: Section, other: Section) -> bool:
    """Return whether two sections differ. Sounds or chords left out in one carry over, so they make no difference."""
    if any(getattr(one, field) != getattr(other, field) for field in _TELLING):
        return True
    carried = ((one.sounds, other.sounds), (one.chords, other.chords))
    return any(before and after and before != after for before, after in carried)


_TELLING = (*("bars", "passes", "open", "feature", "hits", "cue", "watch", "key", "first_words", "tacet"),)
