"""A text with an empty line behind each line, as it comes from a web page, reads like the same text without them."""

import pytest
from setlist.reading_texts import read, said

TEXTS = {
    "headings in plain words": "warm up\nMoth - G\nWeeds - C\nOars - D\n\ndancefloor\nTidal Clock - Ab\nFog Bell - A",
    "notes below": "Moth Parade [G]\n- piano solo, 16 bars\n- cold stop\nWeeds [C]\nOars [D]\n- pad from the top",
    "wrapped titles": "1. The Night the Rowing\n   Club Fell In (G)\n2. Weeds (C)\n3. Oars (D)\n4. Salt (F)\n5. Ra (E)",
    "sets parted by a gap": "Moth Parade G\nWeeds C\nOars D\n\nTidal Clock Ab\nFog Bell A\nSalt F",
}


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS.keys())
def test_a_double_spaced_text_reads_as_it_does_with_single_spaces(text: str) -> None:
    spaced, single = read(text.replace("\n", "\n\n")), read(text)
    assert said(spaced) == said(single)
    assert [song.notes for one in spaced.show.sets for song in one.songs] == [
        song.notes for one in single.show.sets for song in one.songs
    ]


def test_gaps_part_the_lines_of_a_short_text() -> None:
    assert len(read("Moth Parade G\n\nWeeds C\n\nOars D").lines) == 3
