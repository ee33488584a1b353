"""Of a reply in one line, what is shown of an answer in doubt: the sentence that says it."""

import datetime as dt
import doctest
from pathlib import Path

import pytest

from companion.leader import answer_words, sentences_meant
from companion.leader.landing_answers import answer_questions
from companion.leader.reply_records import Replied, read_replies

pytestmark = pytest.mark.usefixtures("reads_here")

LINE = (
    "Hey, so one is in B flat I think. You start Weeds and Tinder obviously, and also three, just you, two bars. "
    "Everything ends cold except Kettle, that one fades, and Moth goes round till Bo nods, then big rit. "
    "No charts, sorry, only for Tinder, I'll send you that one tonight."
)


@pytest.mark.parametrize(
    ("says", "shown"),
    [
        (["one is in B flat"], "Hey, so one is in B flat I think. …"),
        (["then big RIT"], "… Everything ends cold except Kettle, that one fades, and Moth goes round till Bo nods, "),
        (["No charts, only Tinder"], "… No charts, sorry, only for Tinder, I'll send you that one tonight."),
        (["I'll send you that one tonight", "B flat"], "Hey, so one is in B flat I think. … No charts, sorry, only"),
        (["nothing of the kind"], "Hey, so one is in B flat I think. …"),
        ([""], "Hey, so one is in B flat I think. …"),
    ],
)
def test_the_sentence_is_shown_in_which_the_words_stand(says: list[str], shown: str) -> None:
    assert sentences_meant.sentences_meant(LINE, says).startswith(shown)


def test_next_sentences_are_joined_as_they_stand() -> None:
    assert (
        sentences_meant.sentences_meant("Moth is in G. Or A. Kettle fades.", ["or A", "Moth is in G"])
        == "Moth is in G. Or A. …"
    )


def test_of_dictation_without_any_sign_the_words_around_are_shown() -> None:
    line = " ".join([*["well"] * 60, "kettle is in b flat", *["so"] * 60])
    shown = sentences_meant.sentences_meant(line, ["kettle is in b flat"])
    assert "well kettle is in b flat so" in shown
    assert (shown[:2], shown[-2:], len(shown) < 200) == ("… ", " …", True)


def test_a_short_line_is_shown_as_it_is() -> None:
    assert sentences_meant.sentences_meant("1 Bb i think", ["Bb"]) == "1 Bb i think"
    assert sentences_meant.sentences_meant("", ["Bb"]) == ""


SHOW = """show: Pier Street
sets:
  - set: First
    songs: [{title: Moth}, {title: Kettle, key: F}, {title: Weeds}, {title: Tinder}]
"""


def test_a_record_of_an_answer_in_doubt_keeps_its_own_sentence(tmp_path: Path) -> None:
    show = tmp_path / "pier.yaml"
    show.write_text(SHOW)
    (tmp_path / "reply.txt").write_text(LINE)
    landed = answer_questions(show, tmp_path / "reply.txt", dt.datetime(2026, 11, 28, 10, tzinfo=dt.UTC))
    assert landed.held
    records = [one for one in read_replies(show).kept if one.replied in (Replied.DOUBT, Replied.CONTRADICTS)]
    lines = {(one.title, one.field): one.line for one in records if one.line}
    assert lines["Moth", "key"] == "so one is in B flat I think. …"
    assert all(len(one) < 300 for one in lines.values()), lines


@pytest.mark.parametrize("module", [answer_words, sentences_meant])
def test_the_examples_of_what_the_player_reads_are_true(module: object) -> None:
    assert doctest.testmod(module).failed == 0  # type: ignore[arg-type]  # a module is one
