"""A key in a bracket, with words in it or behind it, and a shorter title as the answer: the rest is kept."""

import pytest
from setlist.reading_texts import read, said

from companion.setlist.correcting import corrected
from companion.setlist.doubt_answers import answer_to

AROUND = "Set 1\nWeeds\n{line}\nTidal Clock\nFog Bell\n"


@pytest.mark.parametrize(
    ("line", "found", "notes", "doubts"),
    [
        ("Salt Parade (back in G)", "Salt Parade=G", "back in G", 0),
        ("Salt Parade (we do it in Eb now)", "Salt Parade=Eb", "we do it in Eb now", 0),
        ("Salt Parade (runter auf F)", "Salt Parade=F", "runter auf F", 0),
        ("Salt Parade (moved up to Bm)", "Salt Parade=Bm", "moved up to Bm", 0),
        ("Salt Parade (Ada wants it in A)", "Salt Parade=A", "Ada wants it in A", 1),
        ("Salt Parade (Em) NEW", "Salt Parade=Em", "NEW", 0),
        ("Salt Parade (G) NEW", "Salt Parade=G", "NEW", 0),
        ("Salt Parade (F#m) Ballad", "Salt Parade=F#m", "Ballad", 0),
        ("Salt Parade (Bb) Returns", "Salt Parade=Bb", "Returns", 1),
        ("Salt Parade (solo in G)", "Salt Parade", "solo in G", 0),
    ],
)
def test_the_key_of_a_bracket_is_the_songs(line: str, found: str, notes: str, doubts: int) -> None:
    taken = read(AROUND.format(line=line))
    assert said(taken) == f"First: Weeds; {found}; Tidal Clock; Fog Bell"
    assert taken.show.sets[0].songs[1].notes == notes
    assert sum(len(one.doubts) for one in taken.lines) == doubts


@pytest.mark.parametrize("line", ["Salt Parade (not in G)", "Salt Parade (get back to Georgia)", "Salt Parade (G) Two"])
def test_other_brackets_give_no_key(line: str) -> None:
    assert said(read(AROUND.format(line=line))) == f"First: Weeds; {line}; Tidal Clock; Fog Bell"


@pytest.mark.parametrize(
    ("line", "word", "key", "notes"),
    [
        ("Salt Parade (G) Two", "Salt Parade", "G", "Two"),
        ("Salt Parade (G) Two", "no", "G", "Two"),
        ("Salt Parade (not in G)", "Salt Parade", None, "not in G"),
        ("Salt Parade (it comes from Ada)", "Salt Parade", None, "it comes from Ada"),
        ("Salt Parade (G) Two", "Parade", "G", "Salt; Two"),
        ("Salt Parade (G) Two", "Grey Parade", None, None),
    ],
)
def test_the_rest_of_the_line_stays_where_the_answer_is_a_shorter_title(
    line: str, word: str, key: str | None, notes: str | None
) -> None:
    found = read(AROUND.format(line=line))
    doubt = found.lines[2].doubts[0]
    answer = answer_to(doubt, word)
    assert answer is not None
    song = corrected(found, [(doubt, answer)]).show.sets[0].songs[1]
    assert (song.key and str(song.key), song.notes) == (key, notes)


def test_a_line_is_taken_out_only_by_the_answer_that_it_is_no_song() -> None:
    found = read(AROUND.format(line="Salt Parade (G) Two"))
    doubt = found.lines[2].doubts[0]
    assert [one.word for one in doubt.answers] == ["yes", "no", "no song"]
    answer = answer_to(doubt, "no song")
    assert answer is not None
    assert said(corrected(found, [(doubt, answer)])) == "First: Weeds; Tidal Clock; Fog Bell"
