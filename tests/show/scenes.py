"""Builders for the tests of the show room: a show from a text, its only song, its faults and warnings as lines."""

from textwrap import indent

from companion.errors import FaultyFile
from companion.files import SourceFile
from companion.show import ReadShow, Section, Song
from companion.show.show_file import show_in

PATH = "show.yaml"


def read(text: str) -> ReadShow:
    """Read the text of a show file."""
    return show_in(SourceFile(PATH, text))


def song(keys: str) -> Song:
    """Return the song that these lines of keys make."""
    (only,) = read(with_song(keys)).show.sets[0].songs
    return only


def with_song(keys: str) -> str:
    """Return a show whose only song has these lines of keys; they begin on line 4, in column 5."""
    return f"show: S\nsongs:\n  - title: T\n{indent(keys, '    ')}\n"


def sections(road_map: str) -> tuple[Section, ...]:
    """Return the sections of a road map, which begins on line 4, in column 15."""
    return song(f"road_map: {road_map}").road_map


def faults(text: str) -> list[str]:
    """Return the faults of a show file, in line order, without its path."""
    try:
        read(text)
    except FaultyFile as error:
        return [str(fault).removeprefix(f"{PATH}:") for fault in error.faults]
    return []


def warnings(text: str) -> list[str]:
    """Return the warnings of reading, without the path."""
    return [str(warning).removeprefix(f"{PATH}:") for warning in read(text).warnings]
