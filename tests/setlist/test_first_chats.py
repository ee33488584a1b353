"""What the first chat about a gig holds beside the songs: an encore without numbers, talk, a break, the gig's day."""

import pytest
from setlist.reading_texts import read, said

from companion.setlist import LineKind
from companion.setlist.correcting import corrected
from companion.setlist.doubt_answers import answer_to
from companion.setlist.parsing.breaks_between import names_break
from companion.setlist.parsing.gig_lines import reads_as_name

HEAD = "[3/11/2026, 20:4{minute}:10] Ada Quill: "
CHAT = (
    HEAD.format(minute=1)
    + """{first}

SET 1
1. Salt Parade (G)
2. Weeds
3. Fog Bell - Em
{between}
SET 2
1. Tidal Clock
2. Owl Walk (C)
3. Quiet Street

ENCORE
Brassneck (C)
Farewell, Harbour
Late Tram (A) - all sing
Lock Up
"""
    + HEAD.format(minute=2)
    + "{talk}\n"
    + HEAD.format(minute=3)
    + "Black shirt please\n"
)
ENCORE = "Encore: Brassneck=C; Farewell, Harbour; Late Tram=A; Lock Up"


def chat(first: str = "Here's the list", between: str = "", talk: str = "See you there") -> str:
    return CHAT.format(first=first, between=between, talk=talk)


@pytest.mark.parametrize(
    "talk",
    [
        "10 I think?! No worries, most of it is easy",
        "10 songs, that's all of it",
        "25 quid for parking. Sorry!",
        "10 Lieder, denk ich",
        "120 people, so play loud",
    ],
)
def test_a_number_that_leaves_the_count_begins_talk(talk: str) -> None:
    found = read(chat(talk=talk))
    assert said(found).endswith(ENCORE)
    assert next(line for line in found.lines if talk in line.text).took in (LineKind.LEFT, LineKind.TOTAL)


def test_numbers_that_go_on_in_the_next_message_count_songs() -> None:
    more = "1. Salt Parade (G)\n2. Weeds\n" + HEAD.format(minute=5) + "3. Fog Bell. Or Not\n4. Owl Walk\n"
    assert said(read(HEAD.format(minute=4) + more)) == "First: Salt Parade=G; Weeds; Fog Bell. Or Not; Owl Walk"


@pytest.mark.parametrize("line", ["break 20 mins, there's soup", "pause 15 min, dann Torte", "interval 30 minutes"])
def test_minutes_of_two_figures_tell_a_break(line: str) -> None:
    assert names_break(line)
    found = read(chat(between=f"\n{line}\n"))
    assert next(one for one in found.lines if one.text == line).took is LineKind.BREAK


@pytest.mark.parametrize("words", ["So it's", "That's", "C'est", "Alors c'est", "Das ist", "Right so it’s"])
def test_words_that_lead_to_the_day_are_no_name(words: str) -> None:
    found = read(chat(first=f"{words} Saturday 12 December, Mill Club on Dock Lane. Load in 5"))
    assert found.show.title == "Mill Club on Dock Lane"
    assert not reads_as_name(words)


@pytest.mark.parametrize("word", ["yes", "heading"])
def test_words_that_are_a_song_or_a_heading_are_no_note_any_more(word: str) -> None:
    text = "1. Salt Parade - G, fast\n2. Weeds - C\nEverybody Up\n3. Fog Bell - Em\n"
    found = read(text)
    line = next(one for one in found.lines if one.text == "Everybody Up")
    note = next(doubt for doubt in line.doubts)
    answer = answer_to(note, word)
    assert answer is not None
    after = corrected(found, [(note, answer)])
    assert [song.notes for one in after.show.sets for song in one.songs if song.notes] == ["fast"]
    assert "Everybody Up" not in (after.show.notes or "")
