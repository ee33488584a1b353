"""Lists in which one small rule decides: without it, a heading, a song or a signature would be taken for another."""

import pytest
from setlist.reading_texts import read, said

GIARDINO = "Giardino: Moth=G; Weeds=D; Kite=C | Fiaccole: Tidal=E; Fog Bell=F; Jam Jar=A"


@pytest.mark.parametrize(
    ("text", "found", "left"),
    [
        (  # in a list whose songs have their times in front, a heading has none
            (
                "Giardino\n20:00 Moth G\n20:05 Weeds D\n20:10 Kite C\n\n"
                "Fiaccole\n21:00 Tidal E\n21:05 Fog Bell F\n21:10 Jam Jar A"
            ),
            GIARDINO,
            [],
        ),
        (  # and where only the rows of the evening have times, those above songs are headings
            (
                "19:00 Doors\n20:00 Giardino\nMoth - G\nWeeds - D\nKite - C\n"
                "21:00 Fiaccole\nTidal - E\nFog Bell - F\nJam Jar - A\n22:00 Curfew"
            ),
            GIARDINO,
            ["22:00 Curfew"],
        ),
        (  # what follows the line of a signature is no song
            "Moth - G\nWeeds - D\nKite - C\n\n-- \nOsbert Quill\nThe Tidal Nine",
            "First: Moth=G; Weeds=D; Kite=C",
            [],
        ),
        (  # until a quoted line: that is of another message
            "Moth - G\nWeeds - D\nKite - C\n\n--\nOsbert Quill\n> Tidal - E\n> Fog Bell - F",
            "First: Moth=G; Weeds=D; Kite=C; Tidal=E; Fog Bell=F",
            [],
        ),
    ],
)
def test_a_small_rule_decides(text: str, found: str, left: list[str]) -> None:
    read_list = read(text)
    assert said(read_list) == found
    assert [one.text for one in read_list.left] == left
