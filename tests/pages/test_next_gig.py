"""The next gig begins from the one on the desk: its songs in the songbook, and a new show that uses them."""

from pathlib import Path

import pytest
from pages.visiting import Site

from companion.show import Show, read_show

SHOW = """\
show: Night at the Mill
band: The Tidewater Nine
date: 2027-06-19
venue: The Mill
notes: cash, back door
sets:
  - set: First
    starts: "20:00"
    minutes: 45
    songs:
      - title: Tram Home   # ask Osbert
        key: D
        segue: Herring Waltz
      - Herring Waltz
  - set: Encore
    songs:
      - {title: Lamplighter, key: Gm, known: 4}
"""


@pytest.fixture
def site(tmp_path: Path) -> Site:
    return Site(tmp_path, SHOW)


def begin(site: Site, title: str = "Corn Exchange") -> Show:
    """Begin the next gig, and return its show, which lies on the desk then."""
    answer = site.ask("POST", "/next-gig", {"title": title})
    assert answer.status_code == 200, answer.text
    assert f"<h1>{title}</h1>" in answer.text
    assert site.workplace.desk is not None
    return read_show(site.workplace.desk.path).show


def test_the_next_gig_has_the_same_sets_and_songs_and_nothing_of_the_last_night(site: Site) -> None:
    before = read_show(site.path).show
    after = begin(site)
    assert (after.title, after.band, after.date, after.venue, after.notes) == (
        "Corn Exchange",
        before.band,
        None,
        None,
        None,
    )
    assert [one.songs for one in after.sets] == [one.songs for one in before.sets]
    assert [(one.name, one.starts_min, one.minutes) for one in after.sets] == [
        ("First", None, None),
        ("Encore", None, None),
    ]


def test_the_songs_move_to_the_songbook_with_their_comments_and_the_last_show_means_the_same(site: Site) -> None:
    before = read_show(site.path).show
    begin(site)
    assert "# ask Osbert" in site.path.with_name("songbook.yaml").read_text(encoding="utf-8")
    assert read_show(site.path).show == before
    assert site.workplace.desk is not None
    assert "use: songbook.yaml#" in site.workplace.desk.path.read_text(encoding="utf-8")


def test_undo_takes_the_new_show_away_and_puts_the_last_one_back(site: Site) -> None:
    begin(site)
    desk = site.workplace.desk
    assert desk is not None
    book = site.path.with_name("songbook.yaml").read_text(encoding="utf-8")
    assert '<span class="words">: begin Corn Exchange</span>' in site.ask("GET", "/view").text
    answer = site.ask("POST", "/undo", {})
    assert answer.headers["x-notice"] == "Undone: Corn Exchange is gone again. The songs stay in the songbook"
    assert "<h1>Night at the Mill</h1>" in answer.text
    assert not desk.path.exists()
    assert site.path.with_name("songbook.yaml").read_text(encoding="utf-8") == book
    assert site.workplace.desk is not None
    assert site.workplace.desk.path == site.path


def test_undo_never_takes_a_show_away_that_has_been_worked_on(site: Site) -> None:
    begin(site)
    desk = site.workplace.desk
    assert desk is not None
    desk.path.write_text(desk.path.read_text(encoding="utf-8") + "# mine\n", encoding="utf-8")
    assert site.ask("POST", "/undo", {}).status_code == 422
    assert "# mine" in desk.path.read_text(encoding="utf-8")


def test_undo_never_takes_the_songs_out_of_the_songbook_under_the_shows(site: Site) -> None:
    """Several times, since steps and desks count in seconds."""
    site.path.with_name("songbook.yaml").write_text("owl: {title: Owl, key: C}\n", encoding="utf-8")
    for _ in range(3):
        begin(site)
        book = site.path.with_name("songbook.yaml").read_text(encoding="utf-8")
        assert site.workplace.desk is not None
        text = site.workplace.desk.path.read_text(encoding="utf-8")
        site.workplace.desk.path.write_text(text + "      - {title: Gravel Hour, key: E}\n", encoding="utf-8")
        assert site.ask("POST", "/undo", {}).status_code == 422
        assert site.path.with_name("songbook.yaml").read_text(encoding="utf-8") == book


def test_the_new_list_then_says_what_differs(site: Site) -> None:
    begin(site)
    new = b"First\n1. Tram Home (D)\n2. Lamplighter (Am)\n"
    answer = site.ask("POST", "/bring?name=new.txt", new, Content_Type="application/octet-stream")
    assert answer.status_code == 200, answer.text
    assert "Lamplighter" in answer.text
    assert site.workplace.next_list is not None


def test_a_gig_needs_a_name_and_a_second_one_gets_a_file_of_its_own(site: Site) -> None:
    assert site.ask("POST", "/next-gig", {"title": " "}).status_code == 422
    begin(site)
    first = site.workplace.desk
    begin(site)
    assert first is not None
    assert site.workplace.desk is not None
    assert first.path != site.workplace.desk.path
    assert first.path.parent == site.workplace.desk.path.parent == site.path.parent


def test_if_the_songbook_cannot_be_read_nothing_is_changed(site: Site) -> None:
    book = site.path.with_name("songbook.yaml")
    book.write_text("tram: [", encoding="utf-8")
    assert site.ask("POST", "/next-gig", {"title": "Corn Exchange"}).status_code == 422
    assert site.text == SHOW
    assert book.read_text(encoding="utf-8") == "tram: ["
    assert not list(site.path.parent.glob("corn*.yaml"))


def test_a_key_of_one_night_does_not_go_on_to_the_next_gig(site: Site) -> None:
    site.path.with_name("songbook.yaml").write_text("lamplighter: {title: Lamplighter, key: Am}\n", encoding="utf-8")
    after = begin(site)
    assert [str(song.key) for song in after.sets[1].songs] == ["Am"]
    assert [str(song.key) for song in read_show(site.path).show.sets[1].songs] == ["Gm"], "it was so on that night"
    assert "Am" in site.path.with_name("songbook.yaml").read_text(encoding="utf-8")
