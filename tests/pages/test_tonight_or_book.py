"""A songbook's song on its sheet: where its changes go is asked once, and the change that waited is made."""

import re
from pathlib import Path

import pytest
from pages.test_song_in_book import BOOK, SHOW
from pages.visiting import Answer, Site

KILN = "songbook.yaml#kiln-hill"


@pytest.fixture
def site(tmp_path: Path) -> Site:
    (tmp_path / "songbook.yaml").write_text(BOOK, encoding="utf-8")
    return Site(tmp_path, SHOW)


def book(site: Site) -> str:
    return site.path.with_name("songbook.yaml").read_text(encoding="utf-8")


def mark(site: Site, number: int = 0) -> str:
    assert site.workplace.desk is not None
    return site.workplace.desk.look().songs[number].mark


def answer(site: Site, where: str) -> Answer:
    return site.ask("POST", "/where", {"show": f"{mark(site)} {where}", "open": mark(site)})


def test_the_question_is_asked_once_and_the_waiting_change_follows_the_answer(site: Site) -> None:
    asked = site.type(KILN, "key", "Bb", was="C")
    assert asked.status_code == 409
    assert "Only tonight, or in the songbook?" in asked.text
    assert f'id="key-{mark(site)}-slip"' in asked.text
    assert (site.text, book(site)) == (SHOW, BOOK)
    assert answer(site, "book").status_code == 200
    assert (site.text, book(site)) == (SHOW, BOOK.replace("key: C", "key: Bb"))
    assert site.type(KILN, "length", "3:40").status_code == 200
    assert 'length: "3:40"' in book(site)
    site.ask("POST", "/undo", {})
    site.ask("POST", "/undo", {})
    assert (site.text, book(site)) == (SHOW, BOOK)


def test_a_change_for_tonight_leaves_the_songbook_unchanged(site: Site) -> None:
    site.type(KILN, "key", "Bb", was="C")
    said = answer(site, "tonight")
    assert "for tonight only" in said.text
    assert "    key: Bb\n" in site.text
    assert book(site) == BOOK


def test_how_well_a_song_is_known_is_the_players_in_every_show_and_is_not_asked_about(site: Site) -> None:
    assert site.type(KILN, "known", "4").status_code == 200
    assert site.type(KILN, "hard", "2").status_code == 200
    assert site.text == SHOW
    assert "known: 4" in book(site)
    assert "hard: 2" in book(site)
    assert site.type(KILN, "key", "Bb", was="C").status_code == 409, "the key is still asked about"


def test_the_shows_own_values_are_not_asked_about(site: Site) -> None:
    assert site.type(KILN, "tempo", "90", was="96").status_code == 200
    assert site.type("Herring Waltz", "key", "G").status_code == 200
    assert book(site) == BOOK


def test_changing_a_row_asks_too(site: Site) -> None:
    row = {"song": mark(site), "does": "row-out", "at": 1, "open": mark(site)}
    asked = site.ask("POST", "/row", row)
    assert asked.status_code == 409
    assert f'id="where-{mark(site)}"' in asked.text
    answer(site, "book")
    assert book(site) == BOOK.replace(" Verse 16,", "")


def test_the_sheet_says_where_changes_go_and_lets_the_player_change_it(site: Site) -> None:
    other = site.path.with_name("ball.yaml")
    other.write_text("show: Harbour <i>Ball\nsongs: [use: songbook.yaml#kiln-hill]\n", encoding="utf-8")
    site.workplace.open(other)
    site.workplace.open(site.path)
    page = site.ask("GET", f"/view?song={mark(site)}").text
    assert "From a songbook. Also used in Harbour &lt;i&gt;Ball." in page
    answer(site, "book")
    page = site.ask("GET", f"/view?song={mark(site)}").text
    assert "is changed in the songbook" in page
    assert re.search(r'data-show="\w+ tonight"', page)
    assert "From a songbook" not in site.ask("GET", f"/view?song={mark(site, 2)}").text


def test_a_songbook_that_cannot_be_written_says_so_and_nothing_changes(site: Site) -> None:
    real = site.path.with_name("songbook.yaml")
    site.type(KILN, "key", "Bb", was="C")
    real.write_text(BOOK.replace("title: Kiln Hill", "title: [Kiln"), encoding="utf-8")
    said = answer(site, "book")
    assert said.status_code == 422
    assert site.text == SHOW


@pytest.mark.parametrize("where", ["", "elsewhere", "book tonight"])
def test_no_other_answer_is_accepted(site: Site, where: str) -> None:
    assert answer(site, where).status_code == 422


def test_the_question_names_the_other_shows_of_the_song_also_those_never_opened_here(site: Site) -> None:
    assert "No other show here uses this song." in site.type(KILN, "key", "Bb", was="C").text
    for name, title in (("ball", "Harbour Ball"), ("fair", "Kelp Fair"), ("regatta", "Regatta")):
        uses = "songbook.yaml#kiln-hill" if name != "regatta" else "songbook.yaml#other"
        site.path.with_name(f"{name}.yaml").write_text(f"show: {title}\nsongs: [use: {uses}]\n", encoding="utf-8")
    site.path.with_name("broken.yaml").write_text("show: [", encoding="utf-8")
    asked = site.type(KILN, "key", "Bb", was="C")
    assert "A change in the songbook also changes Kelp Fair and Harbour Ball." in asked.text
