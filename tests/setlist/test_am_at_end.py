"""Am at the end of a title is its key where other songs have keys, and a word of it elsewhere."""

import pytest
from setlist.reading_texts import read, said

KEYED = "1 Moth Parade - C\n2 Fog (G)\n3 Rye - F\n4 Tin\n5 Owl\n6 Sea\n"


@pytest.mark.parametrize(
    ("text", "songs", "asked"),
    [
        (
            f"{KEYED}7 Salt Parade Am\n",
            "Moth Parade=C; Fog=G; Rye=F; Tin; Owl; Sea; Salt Parade=Am",
            "Salt Parade",
        ),
        (
            f"{KEYED}7 Wherever I Am\n",
            "Moth Parade=C; Fog=G; Rye=F; Tin; Owl; Sea; Wherever I Am",
            "Wherever I",
        ),
        ("1 Moth Parade\n2 Salt Parade Am\n3 Fog\n", "Moth Parade; Salt Parade Am; Fog", "Salt Parade"),
    ],
)
def test_am_is_the_key_where_others_have_one(text: str, songs: str, asked: str) -> None:
    found = read(text)
    assert said(found) == f"First: {songs}"
    (doubt,) = [doubt for line in found.in_doubt for doubt in line.doubts]
    assert doubt.question == f"Is {asked!r} in Am?"
    assert doubt.answers[0].word == ("yes" if "Salt Parade=Am" in songs else "no")
