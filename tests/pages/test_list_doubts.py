"""Doubts about the list that a show was made from: each at its song, with the question that the terminal asks."""

import html
import re
from pathlib import Path
from urllib.parse import unquote

import pytest
from pages.visiting import Answer, Site

from companion.edits import take_back, undo_of
from companion.pages.workplace import Workplace
from companion.setlist import read_list
from companion.setlist.kept_answers import answers_of
from companion.setlist.list_questions import questions_of
from companion.show import read_show
from companion.show.model import Song

pytestmark = pytest.mark.usefixtures("reads_here")

LIST = b"1. Tram Home - D\n2. Salt Parade C\n3. Herring Waltz (A)\n4. Lamplighter\n5. Gravel Hour (G or A)\n"


@pytest.fixture
def site(tmp_path: Path) -> Site:
    one = Site(tmp_path, None)
    answer = one.ask("POST", "/bring?name=a%20list.txt", LIST, Content_Type="application/octet-stream")
    assert answer.status_code == 200, answer.text
    return one


def path(site: Site) -> Path:
    assert site.workplace.desk is not None
    return site.workplace.desk.path


def songs(site: Site) -> dict[str, Song]:
    return {song.title: song for one in read_show(path(site)).show.sets for song in one.songs}


def say(site: Site, question: str, word: str, does: str = "doubt") -> Answer:
    return site.ask("POST", "/list", {"does": does, "name": question, "word": word})


def view(site: Site) -> str:
    return site.ask("GET", "/view").text


def at_song(page: str, title: str) -> list[str]:
    """Return the questions that stand at a song on the stack."""
    found = re.search(rf'<li id="[^"]+" [^>]*data-name="{title}".*?</li>', page, re.DOTALL)
    assert found, title
    return [html.unescape(one) for one in re.findall(r"<summary>([^<]*\?[^<]*)</summary>", found[0])]


def test_each_doubt_stands_at_its_song_with_the_question_of_the_terminal(site: Site) -> None:
    asked = questions_of(read_list("a list.txt", raw=LIST))
    assert len(asked) == 2
    page = site.ask("GET", "/view").text
    titles = [song.title for one in read_list("a list.txt", raw=LIST).show.sets for song in one.songs]
    for number, title in enumerate(titles, 1):
        assert at_song(page, title) == [one.doubt.question for one in asked if one.doubt.song == number]
    assert "2 questions about your list" in page


def question_at(title: str) -> str:
    return next(one.doubt.question for one in questions_of(read_list("a list.txt", raw=LIST)) if title in one.text)


SALT, GRAVEL = question_at("Salt Parade"), question_at("Gravel Hour")


def test_an_answer_changes_the_song_and_undo_takes_it_back(site: Site) -> None:
    before = path(site).read_text(encoding="utf-8")
    page = say(site, SALT, "yes")
    assert page.status_code == 200
    assert page.headers["x-notice"] == "Changed; 1 more in doubt"
    assert (str(songs(site)["Salt Parade"].key), "Salt Parade C" in songs(site)) == ("C", False)
    assert at_song(page.text, "Salt Parade") == []
    assert at_song(page.text, "Gravel Hour") == [GRAVEL]
    assert [(one.question, one.word) for one in answers_of(path(site))] == [(SALT, "yes")]
    assert site.ask("POST", "/undo", {}).status_code == 200
    assert path(site).read_text(encoding="utf-8") == before


def test_undo_of_an_answer_asks_its_question_again_and_redo_settles_it(site: Site) -> None:
    for question, title in ((SALT, "Salt Parade C"), (GRAVEL, "Gravel Hour")):
        say(site, SALT, "yes")
        say(site, GRAVEL, "Bb")  # the last question: even then
        if question == SALT:
            site.ask("POST", "/undo", {})
        page = site.ask("POST", "/undo", {})
        assert page.headers["x-whole"] == "yes"
        assert at_song(page.text, title) == [question]
        site.ask("POST", "/redo", {})
        page = site.ask("POST", "/redo", {}) if question == SALT else site.ask("GET", "/view")
        assert "about your list" not in page.text
        for _ in range(2):
            site.ask("POST", "/undo", {})


def test_undo_of_an_answer_says_whose_answer_it_was_and_to_what(site: Site) -> None:
    say(site, SALT, "yes")
    assert f'Undo<span class="words">: your yes to “{SALT}”</span>' in html.unescape(view(site))
    assert html.unescape(unquote(site.ask("POST", "/undo", {}).headers["x-notice"])) == f"Undone: your yes to “{SALT}”"


def test_a_question_asked_again_can_be_answered_otherwise_after_a_restart(site: Site) -> None:
    say(site, GRAVEL, "Bb")
    say(site, SALT, "yes")
    site.ask("POST", "/undo", {})
    show = path(site)
    site.workplace.close()
    site.workplace.open(show)
    assert say(site, SALT, "no").headers["x-notice"] == "Left as read; nothing is in doubt any more"
    assert "Salt Parade C" in songs(site)
    assert str(songs(site)["Gravel Hour"].key) == "Bb", "the other answer stays"


def test_undo_in_the_terminal_asks_the_question_of_an_answer_again_too(site: Site) -> None:
    say(site, SALT, "yes")
    say(site, GRAVEL, "Bb")
    before = view(site)
    assert at_song(before, "Gravel Hour") == []
    undo = undo_of(path(site), site.workplace.folder)
    assert undo is not None
    take_back(undo, site.workplace.folder)
    assert at_song(view(site), "Gravel Hour") == [GRAVEL]
    assert "1 question about your list" in view(site), "the other answer stays"
    say(site, GRAVEL, "A")
    assert at_song(view(site), "Gravel Hour") == []


def test_undo_of_an_answer_that_read_the_whole_list_otherwise_reads_it_as_before(tmp_path: Path) -> None:
    """H and B together name keys in German; "letters" reads all of them in letters, and asks nothing more about B."""
    site = Site(tmp_path, None)
    german = (
        b"1. Tram Home - H\n2. Salt Parade - B\n3. Herring Waltz - F\n4. Lamplighter - B\n5. Gravel Hour (G or A)\n"
    )
    site.ask("POST", "/bring?name=a%20list.txt", german, Content_Type="application/octet-stream")
    asked = [one for title in ("Salt Parade", "Lamplighter", "Gravel Hour") for one in at_song(view(site), title)]
    assert asked[:2] == ["Is 'Salt Parade' in Bb?", "Is 'Lamplighter' in Bb?"]
    say(site, asked[2], "G")
    say(site, asked[0], "letters")
    assert str(songs(site)["Lamplighter"].key) == "B"
    assert at_song(view(site), "Lamplighter") == []
    site.ask("POST", "/undo", {})
    assert str(songs(site)["Lamplighter"].key) == "Bb"
    assert [at_song(view(site), title) for title in ("Salt Parade", "Lamplighter", "Gravel Hour")] == [
        [asked[0]],
        [asked[1]],
        [],
    ]


@pytest.mark.parametrize("key", ["", "E"])
def test_a_song_almost_as_in_the_songbook_comes_from_it_after_a_yes(tmp_path: Path, key: str) -> None:
    site = Site(tmp_path, None)
    site.workplace.shows.mkdir(parents=True, exist_ok=True)
    book = site.workplace.shows / "songbook.yaml"
    book.write_text("tram: {title: Tram Home, key: Bb}\n", encoding="utf-8")
    site.ask("POST", "/bring?name=a%20list.txt", b"1. Owl - D\n2. Tramhome\n", Content_Type="application/octet-stream")
    question = 'The songbook has "Tram Home". Is "Tramhome" the same song?'
    assert at_song(site.ask("GET", "/view").text, "Tramhome") == [question]
    if key:
        written = path(site).read_text(encoding="utf-8")
        assert written.endswith("- title: Tramhome\n")
        path(site).write_text(f"{written}        key: {key}\n", encoding="utf-8")
    assert say(site, question, "yes").headers["x-notice"].startswith("Changed")
    assert str(songs(site)["Tram Home"].key) == (key or "Bb"), "the player's own work stays"


def test_the_field_itself_is_an_answer_too(site: Site) -> None:
    say(site, GRAVEL, "Bb")
    assert str(songs(site)["Gravel Hour"].key) == "Bb"


def test_what_was_read_right_is_settled_without_a_change(site: Site) -> None:
    before = path(site).read_text(encoding="utf-8")
    page = say(site, SALT, "no")
    assert page.headers["x-notice"] == "Left as read; 1 more in doubt"
    assert at_song(page.text, "Salt Parade C") == []
    assert path(site).read_text(encoding="utf-8") == before
    assert [(one.question, one.word) for one in answers_of(path(site))] == [(SALT, "no")]


def test_no_to_the_sets_asks_where_the_next_one_begins_and_undo_joins_them_again(tmp_path: Path) -> None:
    site = Site(tmp_path, None)
    text = b"two sets of 45, then home\n1. Owl - G\n2. Rye - C\n3. Kelp - F\n4. Fir - D\n"
    site.ask("POST", "/bring?name=a%20list.txt", text, Content_Type="application/octet-stream")
    question = "Read as 4 songs in 1 set: is that right?"
    assert "or the first song of the next set" in view(site)
    page = say(site, question, "no")
    assert page.headers["x-notice"] == "Where does the next set begin?"
    assert "Where does the next set begin? Write the number or the title of its first song" in page.text
    assert say(site, question, "kelp").headers["x-notice"].startswith("Changed")
    assert [len(one.songs) for one in read_show(path(site)).show.sets] == [2, 2]
    page = site.ask("POST", "/undo", {})
    assert [len(one.songs) for one in read_show(path(site)).show.sets] == [4]
    assert question in page.text


def undo_button(page: str) -> str:
    found = re.search(r'<button[^>]*data-do="undo".*?</button>', page)
    assert found
    return html.unescape(found[0])


def test_undo_asks_again_what_was_left_as_read_before_it_takes_back_a_change(site: Site) -> None:
    say(site, GRAVEL, "Bb")
    page = say(site, SALT, "no")
    assert "disabled" not in undo_button(page.text)
    assert SALT in undo_button(page.text)
    site.workplace.close()
    site.workplace.open(next(site.workplace.shows.glob("*.yaml")))
    page = site.ask("POST", "/undo", {})
    assert unquote(page.headers["x-notice"]) == f"Undone: your no to “{SALT}”"
    assert at_song(page.text, "Salt Parade C") == [SALT]
    assert str(songs(site)["Gravel Hour"].key) == "Bb"
    say(site, SALT, "no")
    site.ask("POST", "/edit", {"title": "Tram Home", "occurrence": 1, "field": "key", "value": "F", "was": "D"})
    assert str(songs(site)["Tram Home"].key) == "F"
    page = site.ask("POST", "/undo", {})
    assert str(songs(site)["Tram Home"].key) == "D", "the newest change goes first"
    assert at_song(site.ask("POST", "/undo", {}).text, "Salt Parade C") == [SALT]
    page = site.ask("POST", "/undo", {})
    assert at_song(page.text, "Gravel Hour") == [GRAVEL]
    assert "disabled" in undo_button(page.text)
    assert site.ask("POST", "/undo", {}).status_code == 422


def test_what_is_no_answer_changes_nothing_and_says_what_to_write(site: Site) -> None:
    before = path(site).read_text(encoding="utf-8")
    page = say(site, GRAVEL, "perhaps")
    assert page.headers["x-notice"] == "this does not answer the question"
    assert "or the key." in html.unescape(page.text)
    assert at_song(page.text, "Gravel Hour") == [GRAVEL]
    assert path(site).read_text(encoding="utf-8") == before


def test_an_answer_leaves_alone_what_the_player_has_changed_since(site: Site) -> None:
    """The list still says that Tram Home is in D and that Lamplighter is fourth."""
    text = path(site).read_text(encoding="utf-8")
    lamplighter = next(line for line in text.splitlines(keepends=True) if "Lamplighter" in line)
    text = text.replace("key: D", "key: Eb", 1).replace(lamplighter, "")
    path(site).write_text(text.replace("songs:\n", f"songs:\n{lamplighter}", 1), encoding="utf-8")
    say(site, SALT, "yes")
    assert str(songs(site)["Tram Home"].key) == "Eb"
    assert [*songs(site)] == ["Lamplighter", "Tram Home", "Salt Parade", "Herring Waltz", "Gravel Hour"]


def test_doubts_outlive_the_program_until_the_last_is_answered_or_left(site: Site) -> None:
    say(site, SALT, "yes")
    show = path(site)
    for does in ("doubt", "doubts-away"):
        site.workplace.close()
        again = Workplace(site.workplace.folder, site.workplace.shows, "127.0.0.1:4711")
        again.open(show)
        assert again.doubts is not None
        assert len(again.doubts.of(again.desk.look())) == 1  # type: ignore[union-attr]
        again.close()
        site.workplace.open(show)
        if does == "doubts-away":
            assert say(site, "", "", does).headers["x-notice"] == "The rest stays as read"
    assert "about your list" not in site.ask("GET", "/view").text
    site.workplace.close()
    site.workplace.open(show)
    assert site.workplace.doubts is None
    assert say(site, GRAVEL, "G").status_code == 422


def test_a_song_that_was_renamed_keeps_its_question_above_the_stack(site: Site) -> None:
    text = path(site).read_text(encoding="utf-8")
    path(site).write_text(text.replace("Gravel Hour", "Gravel Hours"), encoding="utf-8")
    page = html.unescape(site.ask("GET", "/view").text)
    assert GRAVEL in page[page.index('id="doubts"') : page.index('id="stack"')]


def test_a_newer_list_that_is_taken_settles_the_doubts_about_the_first(site: Site) -> None:
    newer = LIST.replace(b"Salt Parade C", b"Salt Parade (C)")
    site.ask("POST", "/bring?name=newer.txt", newer, Content_Type="application/octet-stream")
    say(site, "", "", "write")
    assert "about your list" not in site.ask("GET", "/view").text


def test_an_empty_show_of_the_same_name_has_no_doubts_of_another_list(site: Site) -> None:
    title = read_show(path(site)).show.title
    path(site).unlink()
    site.workplace.close()
    assert site.ask("POST", "/begin", {"title": title}).status_code == 200
    assert "about your list" not in site.ask("GET", "/view").text
