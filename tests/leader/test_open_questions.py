"""What a reply leaves open: kept beside the show, asked again, and closed."""

import datetime as dt
import json
from pathlib import Path

import msgspec
import pytest

from companion.cli import main
from companion.edits import take_back, undo_of
from companion.errors import CompanionError
from companion.leader.asking import asked_as, close_questions, message_for, open_line
from companion.leader.landing_answers import AnswersApplied, answer_questions
from companion.leader.reply_records import OpenQuestion, Replied, ReplyRecord, read_replies, replies_path
from companion.show import read_show

pytestmark = pytest.mark.usefixtures("reads_here")

NOW = dt.datetime(2026, 11, 28, 10, tzinfo=dt.UTC)
SHOW = """show: Pier Street
date: 2026-12-12
venue: the hall
sets:
  - set: First
    starts: "20:00"
    minutes: 45
    songs:
      - title: Moth
      - {title: Kettle, key: F}   # mine
      - title: Weeds
        key: G
        notes: slowly
"""


@pytest.fixture
def pier(tmp_path: Path) -> Path:
    path = tmp_path / "pier.yaml"
    path.write_text(SHOW)
    return path


def bring_in(show: Path, reply: str) -> AnswersApplied:
    (show.parent / "reply.txt").write_text(reply)
    return answer_questions(show, show.parent / "reply.txt", NOW)


def test_words_that_are_not_understood_stay_open_until_the_player_closes_them(pier: Path) -> None:
    landed = bring_in(pier, "1 Bb\nJo has a cold")
    assert landed.is_written
    assert [str(one) for one in landed.open] == ["1. not understood: Jo has a cold"]
    assert open_line(pier) == f"1 question open from the leader's replies: companion questions {pier}"
    close_questions(pier, ["1"], NOW)
    assert open_line(pier) == ""


@pytest.mark.parametrize(
    ("reply", "asks", "says"),
    [
        ("1 Bb i think", "1 Moth: Bb?", "key: Bb"),
        ("1 drums start i think", "1 Moth: drums to start?", "starts_with: drums"),
        ("1 fade, not sure", "1 Moth: fade-out?", "ending: fade"),
    ],
)
def test_an_answer_in_doubt_waits_and_is_written_once_the_leader_says_yes(
    pier: Path, reply: str, asks: str, says: str
) -> None:
    landed = bring_in(pier, reply)
    assert (landed.is_written, len(landed.held), pier.read_text()) == (False, 1, SHOW)
    message = str(message_for(pier, NOW).message)
    assert f"Just to be sure\n{asks}" in message
    landed = bring_in(pier, "1 yes")
    assert (landed.is_written, landed.open) == (True, ())
    assert says in pier.read_text()
    assert "Just to be sure" not in str(message_for(pier, NOW).message)


def test_what_is_asked_as_a_doubt_is_not_asked_anew(pier: Path) -> None:
    bring_in(pier, "1 Bb i think")
    message = str(message_for(pier, NOW).message)
    assert message.count("1 Moth") == 1
    assert "Which key?" not in message


def test_a_song_that_may_be_dropped_is_dropped_once_the_leader_says_yes(pier: Path) -> None:
    bring_in(pier, "2 dropped i think")
    assert "2 Kettle: not played?" in str(message_for(pier, NOW).message)
    landed = bring_in(pier, "2 yes")
    assert landed.dropped_to == str(pier.with_name("pier.dropped.yaml"))
    assert [song.title for song in read_show(pier).show.sets[0].songs] == ["Moth", "Weeds"]


def test_a_doubt_is_settled_when_the_show_says_something_else(pier: Path) -> None:
    bring_in(pier, "1 Bb i think")
    pier.write_text(SHOW.replace("- title: Moth", "- title: Moth\n        key: C"))
    assert open_line(pier) == ""


def test_an_answer_that_contradicts_the_show_is_asked_and_not_written(pier: Path) -> None:
    landed = bring_in(pier, "2 G")
    assert not landed.is_written
    assert pier.read_text() == SHOW
    assert "2 Kettle: F or G?" in str(message_for(pier, NOW).message)
    assert bring_in(pier, "2 G").is_written
    assert str(read_show(pier).show.sets[0].songs[1].key) == "G"
    assert open_line(pier) == ""


def test_a_question_that_somebody_else_answers_is_never_asked_again(pier: Path) -> None:
    assert "1 Moth" in str(message_for(pier, NOW).message)
    landed = bring_in(pier, "1 don't know, ask Pat")
    assert [str(one) for one in landed.open] == ["1. Moth, key: ask Pat (1 don't know, ask Pat)"]
    asked = message_for(pier, NOW)
    assert "Which key?" not in str(asked.message)
    assert "1. Moth, key: ask Pat (1 don't know, ask Pat)" in list(asked.beside())


def test_the_reply_is_read_by_the_numbers_of_the_message_that_was_sent(pier: Path) -> None:
    message_for(pier, NOW)
    pier.write_text(SHOW.replace("      - title: Moth\n", "      - title: New Opener\n      - title: Moth\n"))
    bring_in(pier, "1 Bb")
    songs = read_show(pier).show.sets[0].songs
    assert [(song.title, str(song.key)) for song in songs[:2]] == [("New Opener", "None"), ("Moth", "Bb")]


def test_a_dropped_song_moves_with_its_work_to_the_songbook_of_dropped_songs(pier: Path) -> None:
    landed = bring_in(pier, "3 dropped, 1 Bb")
    assert [song.title for song in read_show(pier).show.sets[0].songs] == ["Moth", "Kettle"]
    assert landed.dropped_to == str(pier.with_name("pier.dropped.yaml"))
    assert "notes: slowly" in pier.with_name("pier.dropped.yaml").read_text()
    assert "# mine" in pier.read_text()
    undo = undo_of(pier)
    assert undo is not None
    take_back(undo)
    assert pier.read_text() == SHOW


def test_a_set_longer_than_its_slot_asks_once_what_can_go(pier: Path) -> None:
    long = SHOW.replace("minutes: 45", "minutes: 5").replace("key: G\n", 'key: G\n        length: "9:00"\n')
    pier.write_text(long)
    question = "First set: the songs come to 9 min, the slot is 5. What can go?"
    assert question in str(message_for(pier, NOW).message)
    assert question in str(message_for(pier, NOW).message)
    bring_in(pier, "we will play it shorter")
    assert question not in str(message_for(pier, NOW).message)


def test_closing_a_question_that_is_not_open_says_which_are(pier: Path) -> None:
    bring_in(pier, "Jo has a cold")
    with pytest.raises(CompanionError, match=r"there is no open question 7. Open: 1"):
        close_questions(pier, ["7"], NOW)


def test_a_line_of_the_records_that_cannot_be_read_is_skipped(pier: Path) -> None:
    bring_in(pier, "Jo has a cold")
    with replies_path(pier).open("a") as file:
        file.write('{"at": "half a li\n')
    records = read_replies(pier)
    assert records.unreadable == 1
    assert len(records.open_questions(read_show(pier).show)) == 1


def test_check_and_import_remind_of_open_questions(pier: Path, capsys: pytest.CaptureFixture[str]) -> None:
    bring_in(pier, "Jo has a cold")
    main(["check", str(pier)])
    assert "1 question open from the leader's replies" in capsys.readouterr().err
    (pier.parent / "list.txt").write_text("Set 1\n1. Moth (Bb)\n2. Kettle (F)\n3. Weeds (G)\n")
    main(["import", str(pier.parent / "list.txt"), "--into", str(pier)])
    assert "1 question open from the leader's replies" in capsys.readouterr().err


def test_the_doubts_of_a_reply_that_is_not_written_yet_are_in_its_json(
    pier: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (pier.parent / "reply.txt").write_text("1 Bb i think")
    main(["questions", str(pier), "--answers", str(pier.parent / "reply.txt"), "--json"])
    doubts = json.loads(capsys.readouterr().out)["answers"]["doubts"]
    assert [(one["title"], one["value"], one["line"]) for one in doubts] == [("Moth", "Bb", "1 Bb i think")]


def test_the_command_brings_a_reply_in_and_outputs_all_of_it_as_json(
    pier: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (pier.parent / "reply.txt").write_text("1 Bb i think, 2 G\n3 ask Pat who starts\nJo has a cold")
    assert main(["questions", str(pier), "--answers", str(pier.parent / "reply.txt"), "--yes", "--json"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert (said["answers"]["found"], said["is_written"]) == ([], False), "what is in doubt waits"
    assert [one["doubt"] for one in said["answers"]["doubts"]] == ["1 Bb i think"]
    assert [one["before"] for one in said["answers"]["contradicts"]] == ["F"]
    assert [(one["title"], one["field"], one["to"]) for one in said["answers"]["passed"]] == [
        ("Weeds", "starts_with", "Pat")
    ]
    assert said["answers"]["left"] == ["Jo has a cold"]
    assert [one["number"] for one in said["open"]] == [1, 2, 3, 4]
    assert main(["questions", str(pier), "--done", "all"]) == 0
    assert capsys.readouterr().out.splitlines()[-1] == "Nothing is open any more."


def test_the_message_names_the_show_and_never_the_list_file(tmp_path: Path) -> None:
    path = tmp_path / "list1.yaml"
    path.write_text("show: list1\ndate: 2026-12-12\nsongs: [Moth]\n")
    assert str(message_for(path, NOW).message).startswith("Hi! A few questions for the show on 12 December 2026:")
    path.write_text("show: Winter Ball\nsongs: [Moth]\n")
    assert str(message_for(path, NOW).message).startswith("Hi! A few questions for Winter Ball:")
    path.write_text("show: Winter Ball, Saturday 12 December 2026\ndate: 2026-12-12\nsongs: [Moth]\n")
    assert "questions for Winter Ball, Saturday 12 December 2026:" in str(message_for(path, NOW).message)


def test_the_message_names_each_title_once(tmp_path: Path) -> None:
    path = tmp_path / "ball.yaml"
    path.write_text("show: Ball\nsongs:\n" + "".join(f"  - Waltz {number}\n" for number in "ABCDEFGH"))
    message = str(message_for(path, NOW).message)
    assert message.count("Waltz C") == 1
    assert "Do I start any of these? (For the others I wait for the count.)\n1-8\n" in message
    assert len(message) < 700


def test_an_ending_that_no_key_names_is_noted_and_not_asked_again(pier: Path) -> None:
    pier.write_text("show: Pier\nsongs:\n  - {title: Moth, key: C}\n")
    assert "How does it end?" in str(message_for(pier, NOW).message)
    bring_in(pier, "1 big rock ending")
    assert read_show(pier).show.sets[0].songs[0].notes == "ending: big rock ending"
    assert "How does it end?" not in str(message_for(pier, NOW).message)


def test_a_doubt_about_what_is_noted_stays_open_until_it_is_closed(pier: Path) -> None:
    bring_in(pier, "1 the live version i think")
    assert [str(one) for one in read_replies(pier).open_questions(read_show(pier).show)] == [
        "1. Moth, which recording: live version, not sure: 1 the live version i think"
    ]
    close_questions(pier, ["1"], NOW)
    assert open_line(pier) == ""


def test_a_doubt_about_a_set_or_the_day_is_asked_again_until_the_leader_is_sure(pier: Path) -> None:
    pier.write_text("show: Pier\nsets:\n  - set: First\n    songs: [{title: Moth, key: C}]\n")
    bring_in(pier, "first set about 8pm\nSat 5 Dec if they let us")
    asked = str(message_for(pier, NOW).message)
    assert "First set: starts at 20:00?" in asked
    assert "Date 2026-12-05?" in asked
    bring_in(pier, "first set at 8pm\nit's Sat 5 Dec")
    assert "Just to be sure" not in str(message_for(pier, NOW).message)


def test_what_the_leader_puts_off_is_asked_again(pier: Path) -> None:
    bring_in(pier, "1 tbc")
    assert "1 Moth" in str(message_for(pier, NOW).message)


def test_a_doubt_that_is_said_twice_stays_open(pier: Path) -> None:
    bring_in(pier, "1 dropped i think")
    bring_in(pier, "1 dropped i think")
    assert [str(one) for one in read_replies(pier).open_questions(read_show(pier).show)] == [
        "2. Moth: not played, not sure: 1 dropped i think"
    ]


def test_a_quoted_question_states_nothing_and_a_yes_below_it_confirms(pier: Path) -> None:
    bring_in(pier, "1 Bb i think")
    sent = "\n".join(f"> {line}" for line in str(message_for(pier, NOW).message).splitlines())
    landed = bring_in(pier, sent.replace("> 1 Moth: Bb?", "> 1 Moth: Bb?\nyes"))
    assert [str(one) for one in landed.answers.found] == ["Moth: key Bb"]
    assert (landed.answers.left, landed.open) == ((), ())


def test_a_no_below_a_quoted_question_takes_the_key_behind_it(pier: Path) -> None:
    bring_in(pier, "1 Bb i think")
    bring_in(pier, "> Just to be sure\n> 1 Moth: Bb?\nno, C")
    assert str(read_show(pier).show.sets[0].songs[0].key) == "C"


def test_the_times_below_the_quoted_question_about_a_set_are_its_own(pier: Path) -> None:
    pier.write_text("show: Pier\nsets:\n  - {set: First, songs: [Moth]}\n  - {set: Second, songs: [Weeds]}\n")
    asked = [line for line in str(message_for(pier, NOW).message).splitlines() if "set:" in line]
    bring_in(pier, f"> {asked[0]}\n8.15, 45 mins\n> {asked[1]}\n9.30, 50 mins")
    assert [(one.starts_min, one.minutes) for one in read_show(pier).show.sets] == [(1215, 45), (1290, 50)]


def long_show(folder: Path) -> Path:
    path = folder / "long.yaml"
    path.write_text("show: Long Night\nsongs:\n" + "".join(f"  - Song of {word}\n" for word in WORDS))
    return path


WORDS = ("Ash", "Birch", "Cedar", "Damson", "Elder", "Fir", "Gorse", "Hazel", "Ivy", "Juniper")


def test_the_first_message_names_each_song_until_a_reply_has_come(tmp_path: Path) -> None:
    show = long_show(tmp_path)
    first = str(message_for(show, NOW).message)
    assert "1 Song of Ash" in first
    assert str(message_for(show, NOW).message) == first


def test_the_second_message_says_numbers_for_titles_that_the_first_one_named(tmp_path: Path) -> None:
    show = long_show(tmp_path)
    message_for(show, NOW)
    bring_in(show, "1 G\n2 D\n7 Am")
    again = str(message_for(show, NOW).message)
    assert again.startswith("Hi again! Still open for Long Night (numbers as in my last message):")
    assert "Which key? (7 of 10 songs are still open)\n3-6, 8-10" in again
    assert "Song of" not in again
    landed = bring_in(show, "\n".join(f"> {line}" for line in again.splitlines()) + "\n3 C, 4-6 in F")
    assert {one.title for one in landed.answers.found} == {f"Song of {word}" for word in WORDS[2:6]}
    assert landed.answers.left == ()


def test_closing_questions_prints_no_message_and_a_message_is_the_same_until_the_next_reply(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    show = long_show(tmp_path)
    message_for(show, NOW)
    bring_in(show, "1 G\nJo has a cold\n2 D i think")
    assert main(["questions", str(show), "--done", "1"]) == 0
    said = capsys.readouterr()
    assert said.out.splitlines()[1:] == ["Still open:", "2. Song of Birch, key: D, not sure: 2 D i think"]
    assert (said.out.count("Hi"), said.err) == (0, "")
    sent = str(message_for(show, NOW).message)
    assert sent.startswith("Hi again!")
    assert str(message_for(show, NOW).message) == sent
    assert str(message_for(show, NOW).message) == sent
    assert main(["questions", str(show), "--done", "all", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["open"] == []


def test_what_can_wait_is_called_less_urgent(tmp_path: Path) -> None:
    message = message_for(long_show(tmp_path), NOW)
    later = msgspec.structs.replace(message.message, later=message.message.now[:3])
    assert list(msgspec.structs.replace(message, message=later).beside()) == ["Less urgent: 3 more, for later messages"]


def test_a_song_that_moved_since_the_first_message_is_named_again(tmp_path: Path) -> None:
    show = long_show(tmp_path)
    message_for(show, NOW)
    bring_in(show, "1 G")
    show.write_text(show.read_text().replace("  - Song of Ivy\n", ""))
    assert "2 Song of Birch" in str(message_for(show, NOW).message)


def test_two_keys_that_were_left_open_are_closed_by_the_answer(pier: Path) -> None:
    landed = bring_in(pier, "1 D or Eb")
    assert [str(one) for one in landed.open] == ["1. Moth, key: D, not sure: D or Eb"]
    assert bring_in(pier, "1 Eb").open == ()
    assert "D or Eb" not in pier.read_text()


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("key", "Bb", "Bb"),
        ("starts_with", "keys", "keys to start"),
        ("starts_with", "keys or drums", "keys or drums to start"),
        ("chart", "True", "a chart"),
        ("ending", "fade", "fade-out"),
        ("ending", "ritard", "ritard at the end"),
        ("ending", "big rock ending", "big rock ending"),
        ("ending", "on the four", "ending: on the four"),
        ("starts_with", "keys, four bars", "keys to start, four bars"),
        ("starts_with", "drums, bass and keys", "drums, bass and keys to start"),
        ("starts", "20:00", "starts at 20:00"),
    ],
)
def test_a_doubt_is_asked_in_plain_words(field: str, value: str, words: str) -> None:
    assert asked_as(field, value) == words


@pytest.mark.parametrize(
    ("about", "field", "value", "words"),
    [
        ("Moth", "chart", "False", "1. Moth: no chart, not sure: maybe"),
        ("Moth", "tacet", "True", "1. Moth: you do not play it, not sure: maybe"),
        ("Moth", "key", "Bb", "1. Moth, key: Bb, not sure: maybe"),
    ],
)
def test_an_open_question_says_yes_and_no_in_words(about: str, field: str, value: str, words: str) -> None:
    record = ReplyRecord(NOW, Replied.DOUBT, title=about, field=field, value=value, words="maybe")
    assert str(OpenQuestion(1, record)) == words


def test_a_set_that_is_called_so_is_not_called_a_set_twice(pier: Path) -> None:
    pier.write_text(SHOW.replace("set: First", "set: Set 1"))
    landed = bring_in(pier, "Set 1 starts at 13:00")
    assert [one.title for one in landed.answers.contradicts] == ["Set 1"]
    asked = str(message_for(pier, NOW).message)
    assert "Set 1: starts at 20:00 or 13:00?" in asked
    assert "Set 1 set" not in asked + str(message_for(pier, NOW).open)


@pytest.mark.parametrize(("is_leaders", "is_asked"), [(False, False), (None, True)])
def test_no_to_a_change_decides_and_no_answer_asks_it_again(
    pier: Path, *, is_leaders: bool | None, is_asked: bool
) -> None:
    (pier.parent / "reply.txt").write_text("2 G\n3 A")
    answer_questions(pier, pier.parent / "reply.txt", NOW, settle=lambda one: one.title == "Weeds" or is_leaders)
    assert [str(song.key) for song in read_show(pier).show.sets[0].songs] == ["None", "F", "A"]
    assert ("F or G" in str(message_for(pier, NOW).message)) is is_asked
