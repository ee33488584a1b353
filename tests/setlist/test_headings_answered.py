"""A line that was read as a song or as no song may be the heading of a set: the answer "heading" parts the songs."""

import pytest
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from setlist.reading_texts import read

from companion.setlist import Doubt, DoubtAnswer, SetList
from companion.setlist.correcting import corrected
from companion.setlist.doubt_answers import answer_to

LIST = """Early Set
Moth Parade - G
Weeds - C
Tidal Clock - Am
Quiet Street{heading}
Fog Bell - D
Late Tram - E
Brassneck - A
Late Set
Salt Parade - F
Gravel Hour - D
"""


def answered(found: SetList, line: str, word: str) -> tuple[Doubt, DoubtAnswer]:
    doubt = next(doubt for each in found.lines if each.text == line for doubt in each.doubts)
    answer = answer_to(doubt, word)
    assert answer is not None
    return doubt, answer


@pytest.mark.parametrize("ending", ["", " (we walk among the tables)"])
def test_the_songs_below_a_heading_are_a_set_up_to_the_next_heading(ending: str) -> None:
    found = read(LIST.format(heading=ending))
    after = corrected(found, [answered(found, f"Quiet Street{ending}", "heading")])
    assert [one.name for one in after.show.sets][:1] == ["Early set"]
    assert [one.name for one in after.show.sets][1].startswith("Quiet Street")
    assert [[song.title for song in one.songs] for one in after.show.sets] == [
        ["Moth Parade", "Weeds", "Tidal Clock"],
        ["Fog Bell", "Late Tram", "Brassneck"],
        ["Salt Parade", "Gravel Hour"],
    ]


def test_a_heading_right_below_a_break_gives_the_set_its_name() -> None:
    found = read(LIST.format(heading="").replace("Quiet Street", "Break\nQuiet Street"))
    after = corrected(found, [answered(found, "Quiet Street", "heading")])
    assert [(one.name, len(one.songs)) for one in after.show.sets] == [
        ("Early set", 3),
        ("Quiet Street", 3),
        ("Late set", 2),
    ]


TITLES = st.lists(st.sampled_from(["Moth - G", "Weeds - C", "Fog Bell - Am", "Grey Street", "Owl Walk"]), min_size=1)


@settings(max_examples=examples(60), deadline=None)
@given(TITLES, st.data())
def test_no_answer_loses_or_reorders_a_song(lines: list[str], data: st.DataObject) -> None:
    text = "".join(
        f"{line} {at}\n" if " - " not in line else f"{at} {line}\n" for at, line in enumerate(lines, start=1)
    )
    found = read(f"Set 1\nTram - C\n{text}Set 2\nPier - D\n")
    doubts = [(each.song, doubt) for each in found.lines for doubt in each.doubts if len(doubt.answers) > 2]
    chosen = [(song, doubt) for song, doubt in doubts if data.draw(st.booleans())]
    after = corrected(found, [(doubt, doubt.answers[-1]) for _, doubt in chosen])
    heads = {song for song, _ in chosen}
    assert after.titles == [title for number, title in enumerate(found.titles, start=1) if number not in heads]
