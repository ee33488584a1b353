"""Songs that a mail quotes from an earlier message, below a list of its own."""

import pytest
from setlist.reading_texts import read, said

LIST = "Set 1\n1. Moth Parade - C\n2. Weeds Again - G\n3. Gasworks Walk - A\n4. Late Tram - D\n"
SONGS = "First: Moth Parade=C; Weeds Again=G; Gasworks Walk=A; Late Tram=D"


@pytest.mark.parametrize(
    "below",
    [
        "\nLet me know!\n\n--\nMira Oak\n> On Sat, Mira Oak wrote:\n> 17 Rye Mister Rye\n",
        "\nCheers\n\nOn Sat 5 Dec 2026 at 10:12 Mira Oak wrote:\n> don't forget\n> 5. Slow Boat (F)\n",
    ],
)
def test_a_song_quoted_below_the_list_is_set_aside_with_a_question(below: str) -> None:
    found = read(f"{LIST}{below}")
    assert said(found) == SONGS
    (aside,) = found.set_aside
    assert aside.reason == "quoted from an earlier message"
    (doubt,) = [doubt for line in found.in_doubt for doubt in line.doubts]
    assert doubt.answers[0].word == "no"


def test_a_list_that_only_the_quoted_message_has_is_read() -> None:
    quoted = "".join(f"> {line}\n" for line in LIST.splitlines())
    assert said(read(f"Fine with me!\n\nOn Sat 5 Dec 2026 at 10:12 Mira Oak wrote:\n{quoted}")) == SONGS
