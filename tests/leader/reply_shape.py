"""The shape of an invented reply: a show, the leader's words, and what a human reader takes from them.

The facts stand one a line: "4 key G" lands, "4 key G ?" lands with a doubt, "4 key G !" contradicts what is written and
is asked. "First starts 20:00" is about a set and "show date 2026-12-05" about the show. "4 notes capo 2" wants these
words in the notes. "left ..." wants these words among what was not understood, and "ask 5 key Pat" a question that
somebody else answers. Nothing else may land.
"""

import datetime as dt
from typing import NamedTuple

from companion.music import read_key
from companion.show import Set, Show, Song

TODAY = dt.date(2026, 11, 28)


class InventedReply(NamedTuple):
    """A reply to the questions about a show, and its facts."""

    show: Show
    text: str
    facts: tuple[str, ...]


def reply(show: Show, text: str, facts: str) -> InventedReply:
    return InventedReply(show, text, tuple(line.strip() for line in facts.strip().splitlines() if line.strip()))


def in_sets(title: str, **sets: tuple[str | Song, ...]) -> Show:
    """Make a show of sets by their names; a song is its title, where the show says no more about it."""
    made = {name: tuple(Song(one) if isinstance(one, str) else one for one in songs) for name, songs in sets.items()}
    return Show(title, sets=tuple(Set(name, songs=songs) for name, songs in made.items()))


PIER = in_sets(
    "Pier Street",
    First=("Gasworks Corner", "Old Canal Road", Song("Kettle on the Jetty", key=read_key("F")), "Moth"),
    Second=(
        "Café Morgenrot",
        "The Long Ferry Home",
        Song("Nine Wet Umbrellas", record_key=read_key("E")),
        "Postbox Tango",
    ),
)
BALL = in_sets(
    "Winter Ball",
    First=(
        "Harbour Lights Out",
        "Tin Roof Rain",
        "Sixpence Waltz",
        "Red Brick Samba",
        "Paper Lanterns",
        "Cold Harbour Lane",
        "Slow Lorry Home",
        "Hello Tuesday",
        "Wooden Hill",
        "Second Hand Moon",
    ),
    Second=(
        "Blue Kettle",
        "Old Ferry",
        "Go in G",
        "Drum Street",
        "Marmalade Sky",
        "Cobbled",
        "Last Bus to Nowhere",
        "Seven Bridges",
        "Little Engine",
        "Goodnight Pier",
    ),
)
BARN = in_sets("Barn Dance", Main=("Haywain", "Lantern", "Ferret Reel", "Gatepost", "Nettle", "Owl Hour"))
