"""A house is not the occasion that is held there."""

import pytest
from setlist.reading_texts import read

from companion.setlist.parsing.gig_lines import house_in


@pytest.mark.parametrize(
    ("name", "house"),
    [
        ("Mill Hall winter ball", "Mill Hall"),
        ("Cricket Club Christmas do", "Cricket Club"),
        ("Lime Street Hotel wedding", "Lime Street Hotel"),
        ("Market House summer party", "Market House"),
        ("Mill Club on Dock Lane", "Mill Club on Dock Lane"),
        ("Barn Dance", "Barn Dance"),
    ],
)
def test_the_venue_is_the_house_without_what_is_held_there(name: str, house: str) -> None:
    assert house_in(name) == house
    found = read(f"here's the list for Sat 12 December, {name}\n\n1. Salt Parade\n2. Fog Bell\n3. Owl Walk\n")
    assert found.show.title == name
    assert found.show.venue in (house, None)
