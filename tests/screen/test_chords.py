"""The section's chord line, where the player wants it."""

import pytest
from screen.test_layout import PAGES, overlap
from screen.test_view import after, book_of, shown, song

from companion.screen import Detail, Looks, Part, key_pressed, view
from companion.screen.layout import lay_out
from companion.screen.page import page_of
from companion.screen.typeface import typeface
from companion.show import Section
from companion.stage import Next, Surroundings

CHORDS = "1 | 5/7 | 6- | 4 | 1 | 5/7 | 4 | 5"
BOOK = book_of(song(Section("Verse", 8, chords=CHORDS), Section("Chorus", 8)))
TITLE = BOOK.songs[0].song.title


@pytest.mark.parametrize("detail", list(Detail))
def test_it_is_shown_in_every_detail_once_it_is_asked_for(detail: Detail) -> None:
    state = after(BOOK, Next)
    looks = key_pressed(Looks(details=((TITLE, detail),)), "k", 0)
    assert looks is not None
    assert shown(view(state, Surroundings(), looks), Part.CHORDS) == [CHORDS]
    again = key_pressed(looks, "k", 0)
    assert again is not None
    if detail is not Detail.EVERYTHING:
        assert not shown(view(state, Surroundings(), again), Part.CHORDS)


def test_the_other_words_stay_as_they_are() -> None:
    state = after(BOOK, Next)
    looks = Looks(details=((TITLE, Detail.FORM),))
    without = view(state, Surroundings(), looks).lines
    seen = view(state, Surroundings(), Looks(details=looks.details, chords=True)).lines
    assert tuple(line for line in seen if line.part is not Part.CHORDS) == without


def test_a_section_without_chords_has_none() -> None:
    assert not shown(view(after(BOOK, Next, Next), Surroundings(), Looks(chords=True)), Part.CHORDS)


@pytest.mark.parametrize("size", PAGES)
def test_it_is_whole_and_no_smaller_than_anything_may_be(
    size: tuple[tuple[int, int], float | None, float | None],
) -> None:
    page = page_of(size[0], size[0], size[1], size[2])
    blocks = lay_out(view(after(BOOK, Next), Surroundings(), Looks(chords=True)), page, typeface())
    chords = [block for block in blocks if block.part is Part.CHORDS]
    assert " ".join(block.text for block in chords) == CHORDS
    assert all(block.arcmin >= 20 for block in chords)
    assert not any(overlap(one, other) for one in chords for other in blocks if one is not other)
