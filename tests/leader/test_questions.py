"""What is asked of the leader, and how a reply lands in the show file."""

import datetime as dt
from pathlib import Path
from typing import Any

import pytest
from planning.shows import big, show, song

from companion.leader.answers import LeaderAnswers, OpenPiece, read_answers
from companion.leader.landing_answers import answer_questions
from companion.leader.questions import ANSWERED_IN_S, QuestionGroup, ask, disagreements
from companion.leader.reply_report import reply_report
from companion.show import Ending, Section, Set, Show, read_show

NOW = dt.datetime(2027, 6, 5, 10, tzinfo=dt.UTC)
ALL: dict[str, Any] = {"starts_with": "drums", "ending": Ending.COLD, "chart": True, "recording": "a.ogg"}


def test_missing_keys_come_first_and_songs_with_features_before_the_others() -> None:
    riff = (Section("Intro", 4, feature="riff"),)
    asked = ask(show(song("Moth", **ALL), song("Weeds", **ALL, road_map=riff), song("Tidal", "C", starts_with="keys")))
    assert [one.ask for one in asked.now[:2]] == [QuestionGroup.KEY, QuestionGroup.KEY]
    assert str(asked).splitlines()[2:5] == ["Which key?", "1 Moth", "2 Weeds"]
    tight = ask(show(song("Moth", **ALL), song("Weeds", **ALL, road_map=riff)), answered_in_s=4)
    assert [one.words for one in tight.now] == ["Weeds"]
    assert [one.words for one in tight.later] == ["Moth"]


def test_the_message_takes_two_minutes_to_answer_and_keeps_the_rest_for_later() -> None:
    asked = ask(big(70))
    assert asked.seconds <= ANSWERED_IN_S
    assert asked.later
    assert len(asked.now) + len(asked.later) == len(ask(big(70), 10_000).now)


def test_a_complete_show_has_no_questions() -> None:
    assert str(ask(show(song("Moth", "C", **ALL)))) == ""


@pytest.mark.parametrize(("name", "asked"), [("Encore", "Encore"), ("First", "First set"), ("Set 1", "Set 1")])
def test_the_time_of_a_set_is_asked_under_its_name(name: str, asked: str) -> None:
    (one,) = ask(Show("x", date=NOW.date(), venue="Quay", sets=(Set(name, songs=(song("Moth", "C", **ALL),)),))).now
    assert one.words == f"{asked}: when does it start, and how long is it?"


def test_what_the_leader_leaves_to_the_player_is_not_passed_on() -> None:
    report = reply_report(LeaderAnswers((), passed=(OpenPiece("whatever suits", to="you"), OpenPiece("ask", to="Pat"))))
    assert [line.partition(":")[0] for line in report] == ["for you to decide", "passed on"]


def test_questions_come_in_the_order_of_their_groups() -> None:
    lacking = Show("x", sets=show(song("Moth", segue="Weeds", ending=Ending.COLD, tempo_bpm=60.0)).sets)
    asked = [one.ask for one in ask(lacking).now]
    assert asked == sorted(asked, key=list(QuestionGroup).index)
    assert {
        QuestionGroup.KEY,
        QuestionGroup.STARTS,
        QuestionGroup.SET,
        QuestionGroup.CHART,
        QuestionGroup.RECORDING,
        QuestionGroup.DISAGREES,
    } <= set(asked)


@pytest.mark.parametrize(
    ("bars", "length_s", "told"),
    [  # 60 bpm in 4/4: a bar is 4 seconds
        (50, 200, False),
        (50, 230, False),
        (50, 260, True),
        (50, 150, True),
    ],
)
def test_the_message_asks_about_a_chart_much_shorter_or_longer_than_the_list_says(
    bars: int, length_s: int, *, told: bool
) -> None:
    one = song("Moth", "C", tempo_bpm=60.0, length_s=length_s, road_map=(Section("Verse", bars),))
    assert bool(list(disagreements(one))) is told
    counted = " | ".join(["1"] * bars)
    by_chords = song("Moth", tempo_bpm=one.tempo_bpm, length_s=length_s, road_map=(Section("Verse", chords=counted),))
    assert bool(list(disagreements(by_chords))) is told


SHOW = """show: Pier Street   # mine
sets:
  - set: First
    songs:
      - title: Gasworks Corner   # a comment
      - title: Kettle on the Jetty
        key: F
  - set: Second
    songs:
      - {title: Moth}
      - title: Café Morgenrot
"""


@pytest.mark.parametrize(
    ("reply", "landed"),
    [
        ("1 Bb", ["Gasworks Corner: key Bb"]),
        ("1 Bb, 3 F# minor, 4 Cm", ["Gasworks Corner: key Bb", "Moth: key F#m", "Café Morgenrot: key Cm"]),
        ("1: Bb\n2: G", ["Gasworks Corner: key Bb"]),
        ("4. in Bb, fade", ["Café Morgenrot: key Bb", "Café Morgenrot: fade-out"]),
        ("gasworks corner - Bb", ["Gasworks Corner: key Bb"]),
        ("Gasworks Crner: Bb", ["Gasworks Corner: key Bb"]),
        ("Moth is in D", ["Moth: key D"]),
        ("cafe morgenrot = Eb", ["Café Morgenrot: key Eb"]),
        ("3 you start and we fade", ["Moth: the keys start", "Moth: fade-out"]),
        ("Who starts?\n1 the drums\n3 nobody", ["Gasworks Corner: drums start", "Moth: nobody starts"]),
        ("Is there a chart?\n1 yes\n3 no", ["Gasworks Corner: there is a chart", "Moth: no chart"]),
        ("How does it end?\n1 cold", ["Gasworks Corner: cold ending"]),
        ("3 112 bpm, 6/8, 3:40", ["Moth: tempo 112", "Moth: meter 6/8", "Moth: length 3:40"]),
        ("Second set: 21:15, 45 min", ["Second set: starts at 21:15", "Second set: 45 minutes"]),
        ("It's on 19 June 2027", ["Pier Street: date 2027-06-19"]),
        ("> Which key?\n> 1 Gasworks Corner\nBb", ["Gasworks Corner: key Bb"]),
        ("1 Gasworks Corner: Bb", ["Gasworks Corner: key Bb"]),
        ("2 F", []),
    ],
)  # fmt: skip
def test_a_reply_is_understood_in_many_forms(reply: str, landed: list[str], tmp_path: Path) -> None:
    (tmp_path / "pier.yaml").write_text(SHOW, encoding="utf-8")
    found = read_answers(reply, read_show(tmp_path / "pier.yaml").show, today=dt.date(2027, 5, 1))
    assert [str(one) for one in found.found] == landed


def test_words_that_are_not_understood_stay_open_with_their_song() -> None:
    found = read_answers("1 something with strings\nsee you there!\nthe blue one is faster", show(song("Moth")))
    assert [str(one) for one in found.left] == ["Moth: 1 something with strings", "the blue one is faster"]


def test_a_message_sent_back_with_an_answer_on_each_line_is_read() -> None:
    asked = str(ask(show(song("Moth"), song("Weeds"))))
    reply = asked.replace("1 Moth\n2 Weeds", "1 Moth: Bb\n2 Weeds: Gm", 1)
    found = read_answers(reply, show(song("Moth"), song("Weeds")))
    assert [str(one) for one in found.found if one.field == "key"] == ["Moth: key Bb", "Weeds: key Gm"]


def test_a_reply_lands_in_the_show_file_and_comments_stay(tmp_path: Path) -> None:
    path, reply = tmp_path / "pier.yaml", tmp_path / "reply.txt"
    path.write_text(SHOW, encoding="utf-8")
    reply.write_text("1 Bb, 3 D and drums start\nFirst set 20:00\n19 June 2027")
    assert answer_questions(path, reply, NOW).is_written
    read = read_show(path).show
    assert [str(one.key) for group in read.sets for one in group.songs] == ["Bb", "F", "D", "None"]
    assert (read.sets[0].starts_min, str(read.date), read.sets[1].songs[0].starts_with) == (1200, "2027-06-19", "drums")
    assert "# a comment" in path.read_text(encoding="utf-8")
    assert "# mine" in path.read_text(encoding="utf-8")


def test_nothing_is_written_if_the_player_says_no(tmp_path: Path) -> None:
    path, reply = tmp_path / "pier.yaml", tmp_path / "reply.txt"
    path.write_text(SHOW, encoding="utf-8")
    reply.write_text("1 Bb")
    assert not answer_questions(path, reply, NOW, agree=lambda _: False).is_written
    assert path.read_text(encoding="utf-8") == SHOW


def test_answers_find_songs_of_a_show_without_sets(tmp_path: Path) -> None:
    path, reply = tmp_path / "pier.yaml", tmp_path / "reply.txt"
    path.write_text("show: x\nsongs:\n  - title: Moth\n")
    reply.write_text("1 Bb")
    assert answer_questions(path, reply, NOW, settle=lambda _: True).is_written
    assert str(read_show(path).show.sets[0].songs[0].key) == "Bb"


def test_the_date_is_asked_however_many_keys_are_missing() -> None:
    songs = [song(f"Song {number}") for number in range(60)]
    message = ask(show(*songs, date=None))
    assert "What is the date?" in str(message)
    assert message.seconds <= ANSWERED_IN_S
    assert "What is the date?" not in str(ask(show(*songs)))


LETTERS = """show: S
songs:
  - title: Moth
    key: A   # says the record
    notes: up to B
    road_map:
      - Intro 4
      - {section: Verse, bars: 2, chords: A | D}  # mine
      - {section: Verse, bars: 2, key: B}
  - title: Weeds
    road_map:
      - {section: Verse, bars: 2, chords: A | D}
  - {use: "book.yaml#kettle"}
"""


def test_a_new_key_leaves_chord_letters_in_the_key_they_were_written_in(tmp_path: Path) -> None:
    path, reply = tmp_path / "s.yaml", tmp_path / "reply.txt"
    (tmp_path / "book.yaml").write_text(
        "kettle: {title: Kettle, key: A, road_map: [{section: Verse, chords: A | D}]}\n"
    )
    path.write_text(LETTERS, encoding="utf-8")
    reply.write_text("1 G\n2 G\n3 G\n")
    landed = answer_questions(path, reply, NOW, settle=lambda _: True)
    assert [str(one) for one in landed.answers.found] == [
        "Moth: key A → G; its letters stay written in A, Verse B → A, its notes stay written in A",
        "Weeds: key G",  # nobody knows which key they were written in
        "Kettle: key A → G; its letters stay written in A",
    ]
    songs = read_show(path).show.sets[0].songs
    assert [(str(song.key), str(song.chords_in)) for song in songs] == [("G", "A"), ("G", "None"), ("G", "A")]
    assert str(songs[0].road_map[2].key) == "A"
    text = path.read_text(encoding="utf-8")
    assert text.count("chords_in") == 1
    assert [song.notes for song in songs] == ["up to B (written in A)", None, None]
    assert "# says the record" in text
    assert "- {section: Verse, bars: 2, chords: A | D}  # mine" in text
