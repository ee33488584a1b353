"""Talk with words that drop songs, denied or uncertain: it drops nothing, and only uncertain words leave a question."""

import pytest
from setlist.reading_texts import read, said

from companion.setlist.correcting import corrected

LIST = "1. Moth Parade - C\n2. Weeds Again - G\n3. Gasworks Walk - A\n4. Late Tram - D\n"
ALL = "First: Moth Parade=C; Weeds Again=G; Gasworks Walk=A; Late Tram=D"


def _questions(text: str) -> list[str]:
    return [doubt.question for line in read(text).in_doubt for doubt in line.doubts]


@pytest.mark.parametrize(
    "line",
    [
        "don't forget the gasworks one has the long solo",
        "Don't forget Gasworks Walk!",
        "please don't drop the gasworks one",
        "dont you dare skip Gasworks Walk",
        "do not leave out Gasworks Walk",
        "please don't leave Gasworks Walk out",
        "never cut Gasworks Walk, they love it",
        "we shouldn't lose Gasworks Walk",
        "I don't think we should drop Gasworks Walk",
        "bitte nicht streichen Gasworks Walk",
        "streicht Gasworks Walk bitte nicht",
        "vergesst Gasworks Walk nicht!",
        "n'oubliez pas Gasworks Walk",
        "on ne veut pas enlever Gasworks Walk",
        "no quitamos Gasworks Walk",
        "no olvidéis Gasworks Walk",
        "non togliamo Gasworks Walk",
        "non dimenticate Gasworks Walk",
        "não cortamos Gasworks Walk",
        "não esqueçam Gasworks Walk",
        "schrap Gasworks Walk niet",
        "vergeet Gasworks Walk niet",
        "stryk inte Gasworks Walk",
        "glöm inte Gasworks Walk",
        "glem ikke Gasworks Walk",
        "ikke dropp Gasworks Walk",
        "nie wyrzucamy Gasworks Walk",
        "nie zapomnijcie Gasworks Walk",
        "nezapomeňte Gasworks Walk",
        "nemojte izbaciti Gasworks Walk",
        "ne pozabite Gasworks Walk",
        "älkää unohtako Gasworks Walk",
        "Gasworks Walk is not out",
        "Gasworks Walk lassen wir nicht weg",
        "ne laissez pas tomber Gasworks Walk",
    ],
)
def test_a_denied_word_drops_nothing_and_asks_nothing(line: str) -> None:
    assert said(read(f"{LIST}\n{line}\n")) == ALL
    assert _questions(f"{LIST}\n{line}\n") == []


@pytest.mark.parametrize(
    "line",
    [
        "if we run late drop Gasworks Walk",
        "drop Gasworks Walk if they want speeches",
        "maybe drop Gasworks Walk",
        "vielleicht streichen wir Gasworks Walk",
        "wenn die Zeit knapp wird, ohne Gasworks Walk",
        "I always forget Gasworks Walk",
        "forget Gasworks Walk has no intro",
        "Lou can't sing much tonight drop Gasworks Walk",
    ],
)
def test_a_song_that_unclear_words_may_drop_stays_in_with_a_question(line: str) -> None:
    assert said(read(f"{LIST}\n{line}\n")) == ALL
    assert _questions(f"{LIST}\n{line}\n") == ["Is 'Gasworks Walk' played?"]


@pytest.mark.parametrize(
    "line",
    [
        "forget Gasworks Walk",
        "ok we can forget the gasworks one",
        "please drop Gasworks Walk",
        "no, skip Gasworks Walk",
        "never mind, skip Gasworks Walk",
        "Lou can't sing much, so drop Gasworks Walk",
        "don't forget to drop Gasworks Walk",
        "we don't play Gasworks Walk",
        "on ne joue pas Gasworks Walk",
        "no tocamos Gasworks Walk",
    ],
)
def test_a_plain_order_drops(line: str) -> None:
    assert said(read(f"{LIST}\n{line}\n")) == "First: Moth Parade=C; Weeds Again=G; Late Tram=D"


def test_a_song_that_is_played_after_all_counts_no_more_as_set_aside_and_its_line_of_talk_says_so() -> None:
    found = read(f"{LIST}\nplease drop Gasworks Walk\n")
    doubt = next(doubt for line in found.in_doubt for doubt in line.doubts)
    assert doubt.quotes == "line 6: please drop Gasworks Walk"
    after = corrected(found, [(doubt, doubt.answers[1])])
    assert not after.set_aside
    assert after.lines[-1].says == "Gasworks Walk: not played · you said yes: Is 'Gasworks Walk' played?"


@pytest.mark.parametrize(
    ("line", "question"),
    [
        ("Gasworks Walk goes first", "Is 'Gasworks Walk' played first?"),
        ("Gasworks Walk is in F now", "Is 'Gasworks Walk' in F?"),
        ("swap Gasworks Walk and Late Tram", "Do 'Gasworks Walk' and 'Late Tram' change places?"),
        ("maybe drop Gasworks Walk", "Is 'Gasworks Walk' played?"),
        ("can we drop Gasworks Walk?", "Is 'Gasworks Walk' played?"),
    ],
)
def test_each_question_about_what_talk_changes_quotes_the_line(line: str, question: str) -> None:
    found = read(f"{LIST}\n{line}\n")
    asked = [doubt for one in found.in_doubt for doubt in one.doubts if doubt.question == question]
    assert [doubt.quotes for doubt in asked] == [f"line 6: {line}"]
