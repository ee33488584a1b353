"""What tells a song from a heading, an event, a note or a name, in lists that nobody else writes (invented)."""

import pytest

from companion.setlist import SetList
from companion.setlist.list_reading import list_in
from companion.setlist.model import ListPage, ListRow, SourceLine, TextSpan
from companion.setlist.parsing.understand import take_in


def read(text: str, name: str = "list.txt") -> SetList:
    return list_in(text.encode(), name)


def said(found: SetList) -> str:
    """Return each set's name and its songs: First: Moth=C [solo]; Weeds | Second: Tidal=G."""
    return " | ".join(
        f"{one.name}: "
        + "; ".join(
            song.title + (f"={song.key}" if song.key else "") + (f" [{song.notes}]" if song.notes else "")
            for song in one.songs
        )
        for one in found.show.sets
    )


CASES = {
    "a title that begins with the word for an encore": (
        "Set 1\nMoth Parade G\nEncore, Petunia A\nWeeds D\n\nSet 2\nTidal Clock C\nFog Bell F\n\nEncore\nJam Jar E",
        "First: Moth Parade=G; Encore, Petunia=A; Weeds=D | Second: Tidal Clock=C; Fog Bell=F | Encore: Jam Jar=E",
    ),
    "an encore on a condition is a heading": (
        "Set 1\nMoth Parade G\nWeeds D\nTidal Clock C\n\nEncore, if they want one\nJam Jar E",
        "First: Moth Parade=G; Weeds=D; Tidal Clock=C | Encore: Jam Jar=E",
    ),
    "a number written to its word": (
        "1set\nMoth Parade G\nWeeds D\n2set\nTidal Clock C\nFog Bell F",
        "First: Moth Parade=G; Weeds=D | Second: Tidal Clock=C; Fog Bell=F",
    ),
    "sets in Hungarian, Romanian and Portuguese words": (
        "1. szett\nMoth Parade G\nWeeds D\n2. szett\nTidal Clock C\nPartea 3\nFog Bell F\n4ª entrada\nJam Jar E",
        "First: Moth Parade=G; Weeds=D | Second: Tidal Clock=C | Third: Fog Bell=F | Fourth: Jam Jar=E",
    ),
    "who sings, in a bracket": (
        "Set 1\n1. Moth Parade (vocal: Linda) - G\n2. Weeds - D\n3. Tidal Clock (Wurli) - C",
        "First: Moth Parade=G [vocal: Linda]; Weeds=D; Tidal Clock=C [Wurli]",
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_lines_are_taken_for_what_they_are(name: str) -> None:
    text, expected = CASES[name]
    assert said(read(text)) == expected


def test_a_title_that_ends_in_a_key_is_whole_where_the_key_has_its_own_column() -> None:
    found = read("Title,Key,Notes\nC or Not C,G,\nMoth Parade,D,slow\nAll in F,Am,\n", "list.csv")
    assert said(found) == "First: C or Not C=G; Moth Parade=D [slow]; All in F=Am"


def test_a_name_below_a_farewell_is_no_song() -> None:
    rows = ("Song|Key", "Moth Parade|G", "Weeds|D", "Thanks!", "Ottoline")
    page = ListPage(
        tuple(ListRow(SourceLine(at), tuple(row.split("|")), row) for at, row in enumerate(rows)), is_grid=True
    )
    assert said(take_in([page])) == "First: Moth Parade=G; Weeds=D"


def printed(*lines: str) -> ListPage:
    """Return a page with titles at 0 and keys at 200 points, six points a letter."""
    rows = []
    for number, line in enumerate(lines, start=1):
        spans = tuple(
            TextSpan(begin, begin + 6.0 * len(piece), piece)
            for begin, piece in zip((0.0, 200.0), line.split("|"), strict=False)
        )
        rows.append(ListRow(SourceLine(number), (line.replace("|", "  "),), line, spans=spans))
    return ListPage(tuple(rows))


BROKEN = {
    "a last word that leaves the title open": (
        ("Moth Parade|G", "The Ballad of|D", "Ferry", "Weeds|C", "Tidal Clock|F", "Fog Bell|A"),
        "First: Moth Parade=G; The Ballad of Ferry=D; Weeds=C; Tidal Clock=F; Fog Bell=A",
    ),
    "a word that would not have fitted": (
        ("Moth Parade Tonight|G", "Jam Jar Full Honey|D", "Wednesday", "Weeds|C", "Tidal Clock|F", "Fog Bell|A"),
        "First: Moth Parade Tonight=G; Jam Jar Full Honey Wednesday=D; Weeds=C; Tidal Clock=F; Fog Bell=A",
    ),
    "a word that would have fitted is another title": (
        ("Moth Parade All of Tonight|G", "Jam Jar|D", "Honey", "Weeds|C", "Tidal Clock|F", "Fog Bell|A"),
        "First: Moth Parade All of Tonight=G; Jam Jar=D; Honey; Weeds=C; Tidal Clock=F; Fog Bell=A",
    ),
    "the key on the last line": (
        ("Moth Parade|G", "The Ballad of", "Ferry|D", "Weeds|C", "Tidal Clock|F", "Fog Bell|A"),
        "First: Moth Parade=G; The Ballad of Ferry=D; Weeds=C; Tidal Clock=F; Fog Bell=A",
    ),
}


@pytest.mark.parametrize("name", BROKEN)
def test_a_title_that_the_page_broke_is_joined(name: str) -> None:
    lines, expected = BROKEN[name]
    assert said(take_in([printed(*lines)])) == expected
