"""A fact is sure beside words that only say how its song ends, or who starts it; these are asked as such."""

import pytest
from leader.reply_shape import PIER, TODAY
from leader.scoring import said

from companion.leader.answers import read_answers


def read(text: str) -> tuple[list[str], list[str]]:
    found = read_answers(text, PIER, today=TODAY).found
    return [said(PIER, one) for one in found if not one.doubt], [said(PIER, one) for one in found if one.doubt]


@pytest.mark.parametrize(
    ("text", "other"),
    [
        ("4 F, final en seco", "4 ending cold"),
        ("4 F, wird am Ende langsamer", "4 ending ritard"),
        ("4 F, on ralentit à la fin", "4 ending ritard"),
        ("4 F, tonar ut", "4 ending fade"),
        ("4 F, vamp it until the bishop sits down", "4 ending vamp-out"),
        ("4 F, c'est l'accordéon qui commence", "4 starts_with accordion"),
    ],
)
def test_a_key_is_sure_beside_words_that_another_question_explains(text: str, other: str) -> None:
    sure, asked = read(text)
    assert (sure, other in asked) == (["4 key F"], True)


@pytest.mark.parametrize(
    "text",
    [
        "4 F, final en seco zorp",
        "4 F, final en sol",
        "4 F, wird am Ende höher",
        "4 F, wird am Ende langsamer, glaube ich",
        "4 F, vamp it until the bishop sits down or G",
        "4 F, vamp it until we go up to G",
        "4 F, vamp it until 3",
        "4 F, c'était l'accordéon qui commence",
        "4 F, l'accordéon ne commence pas",
        "4 F, ends as if in G",
        "4 F, on coupe net à la fin",  # or the song is cut
    ],
)
def test_a_key_stays_in_doubt_beside_words_that_may_say_more(text: str) -> None:
    assert "4 key F" not in read(text)[0]
