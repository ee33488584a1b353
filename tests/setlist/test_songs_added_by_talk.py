"""A song that talk adds: the question names its place, and no answer loses it without saying so."""

import pytest
from setlist.reading_texts import read, said

from companion.setlist.correcting import corrected
from companion.setlist.doubt_answers import answer_to

CHAT = (
    "[3/11/2026, 20:41:10] Ada Quill: Set 1\n1. Salt Parade (G)\n2. Weeds - C\n3. Fog Bell - Em\n4. Owl Walk - A\n"
    "[3/11/2026, 20:44:10] Ada Quill: {said}\n"
)


@pytest.mark.parametrize(
    ("said_later", "place"),
    [
        ("drop Fog Bell, do Late Tram in Dm instead", ", after 'Weeds'"),
        ("drop Salt Parade, do Late Tram in Dm instead", ", before 'Weeds'"),
        ("drop Owl Walk, do Late Tram in Dm instead", ", after 'Fog Bell'"),
        ("add Late Tram in Dm after Weeds", ", after 'Weeds'"),
        ("sorry, we finish on Late Tram in Dm", ", after 'Owl Walk'"),
    ],
)
def test_the_question_names_the_song_beside_it(said_later: str, place: str) -> None:
    found = read(CHAT.format(said=said_later))
    asked = [doubt.question for line in found.lines for doubt in line.doubts if "Late Tram" in doubt.question]
    assert asked == [f"Is 'Late Tram' a song{place}?"]


@pytest.mark.parametrize(
    ("word", "songs"),
    [
        ("yes", "Salt Parade=G; Weeds=C; Late Tram=Dm; Owl Walk=A"),
        ("last of the set", "Salt Parade=G; Weeds=C; Owl Walk=A; Late Tram=Dm"),
        ("not played", "Salt Parade=G; Weeds=C; Owl Walk=A"),
    ],
)
def test_each_answer_says_what_becomes_of_the_song(word: str, songs: str) -> None:
    found = read(CHAT.format(said="drop Fog Bell, do Late Tram in Dm instead"))
    doubt = next(one for line in found.lines for one in line.doubts if "Late Tram" in one.question)
    assert answer_to(doubt, "no") is None, "it is asked again: no song, or not there?"
    answer = answer_to(doubt, word)
    assert answer is not None
    assert said(corrected(found, [(doubt, answer)])) == f"First: {songs}"
