"""Short answers below quoted questions about one song: yes, no, out, or a number among others."""

import pytest
from leader.reply_shape import PIER, TODAY
from leader.scoring import said

from companion.leader.answers import read_answers

# A quoted question, the answer below it, and the facts that land, all without a doubt.
ANSWERED = [
    ("4 Moth, do I start?", "yes please", ["4 starts_with keys"]),
    ("4 Moth, who starts?", "You do.", ["4 starts_with keys"]),
    ("4 Moth, key and who starts?", "G. You do", ["4 key G", "4 starts_with keys"]),
    ("4 Moth, who starts?", "drums do", ["4 starts_with drums"]),
    ("4 Moth - shall I start it?", "Yep!", ["4 starts_with keys"]),
    ("4 Moth - fange ich an?", "Ja bitte", ["4 starts_with keys"]),
    ("4 Moth : je commence ?", "oui", ["4 starts_with keys"]),
    ("4 Moth (Dm?)", "yes", ["4 key Dm"]),
    ("4 Moth: wer beginnt?", "Gitarre, dann alle", ["4 starts_with guitar, then all"]),
    ("4 Moth : qui commence ?", "basse, puis tous", ["4 starts_with bass, then all"]),
    ("4 Moth still Dm?", "yep Dm", ["4 key Dm"]),
    ("4 Moth – Dm, right?", "right", ["4 key Dm"]),
    ("4 Moth (Dm), correct?", "Exactly", ["4 key Dm"]),
    ("4 Moth: noch Dm, oder?", "stimmt", ["4 key Dm"]),
    ("4 Moth : toujours ré mineur ?", "oui", ["4 key Dm"]),
    ("4 Moth - sempre Re?", "sì", ["4 key D"]),
    ("4 Moth - siempre en re menor?", "sí, claro", ["4 key Dm"]),
    ("4 Moth: nog altijd in G, toch?", "klopt", ["4 key G"]),
    ("4 Moth (in or out?)", "out, sorry", ["4 dropped yes"]),
    ("do we really do Moth?", "nah, skip it", ["4 dropped yes"]),
    ("7 Nine Wet Umbrellas - key on the record is E, do you play it there?", "yes", ["7 key E"]),
    ("7 Nine Wet Umbrellas: wie auf der Platte?", "ja", ["7 key E"]),
    ("7 Nine Wet Umbrellas : même tonalité que sur le disque ?", "oui", ["7 key E"]),
    ("4 Moth (key? tempo?)", "G, 120", ["4 key G", "4 tempo 120"]),
    ("4 Moth (key? length?)", "E, 2:20", ["4 key E", "4 length 2:20"]),
]


@pytest.mark.parametrize(("question", "answer", "facts"), ANSWERED)
def test_a_short_answer_below_a_question_says_what_it_asked_for(question: str, answer: str, facts: list[str]) -> None:
    read = read_answers(f"> {question}\n{answer}", PIER, today=TODAY)
    assert [said(PIER, one) for one in read.found] == facts
    assert [str(one) for one in read.left] == []


@pytest.mark.parametrize(
    ("question", "answer"),
    [
        ("4 Moth, do I start?", "no"),
        ("7 Nine Wet Umbrellas: is there a recording?", "yes"),
        ("4 Moth (in or out?)", "in"),
        ("4 Moth still Dm?", "no"),
        ("4 Moth tempo?", "not sure, 4 Dm"),
    ],
)
def test_other_short_answers_land_nowhere_unseen(question: str, answer: str) -> None:
    read = read_answers(f"> {question}\n{answer}", PIER, today=TODAY)
    assert [said(PIER, one) for one in read.found if not one.doubt and one.field != "key"] == []


@pytest.mark.parametrize(
    ("text", "facts"),
    [
        ("Q: Moth key? A: G\nQ: who starts Postbox Tango? A: drums", ["4 key G", "8 starts_with drums"]),
        ("Q: Moth key?\nA: A\nQ: how does 2 end?\nA: cold", ["4 key A", "2 ending cold"]),
        ("F: Tonart von Moth? A: G-Dur", ["4 key G"]),
        ("D : tonalité de Moth ? R : sol", ["4 key G"]),
        ("Q. 4 key? A. D", ["4 key D"]),
        ("> how long are the sets?\n45 / 60", ["First minutes 45", "Second minutes 60"]),
        ("Q: set lengths? A: 45 and 60", ["First minutes 45", "Second minutes 60"]),
        ("> wie lang sind die Sets?\n45 und 60", ["First minutes 45", "Second minutes 60"]),
    ],
)
def test_a_marked_question_is_answered_by_what_is_marked_as_its_answer(text: str, facts: list[str]) -> None:
    read = read_answers(text, PIER, today=TODAY)
    assert [said(PIER, one) for one in read.found if not one.doubt] == facts
    assert [str(one) for one in read.left] == []


def test_a_list_of_keys_is_no_marked_question() -> None:
    found = read_answers("D: 1, 5?\nA: 2, 4", PIER, today=TODAY).found
    assert "2 key A" in [said(PIER, one) for one in found]


@pytest.mark.parametrize(
    ("line", "answer", "facts"),
    [
        ("7 Nine Wet Umbrellas (record: E)", "G, drums start", ["7 key G", "7 starts_with drums"]),
        ("7 Nine Wet Umbrellas (record: E)", "yes", ["7 key E"]),
        ("7 Nine Wet Umbrellas [E on the record]", "as the record", ["7 key E"]),
        ("7. Nine Wet Umbrellas (rec key E)", "leave that one out", ["7 dropped yes"]),
        ("3 Kettle on the Jetty (F)", "yes, ends cold", ["3 ending cold"]),
    ],
)
def test_a_quoted_song_with_its_key_in_brackets_is_answered_below(line: str, answer: str, facts: list[str]) -> None:
    read = read_answers(f"> {line}\n{answer}\n> 4 Moth\nD", PIER, today=TODAY)
    assert [said(PIER, one) for one in read.found if not one.doubt] == [*facts, "4 key D"]
    assert [str(one) for one in read.left] == []
