"""The order of the stack: songs move with their lines and comments, and every step can be undone."""

from pathlib import Path

import pytest
from pages.visiting import SHOW, Answer, Site

from companion.pages.desk import SongOnDesk, Stack
from companion.show import read_show

ORDER = ["Tram Home", "Herring Waltz", "Nine Wet Umbrellas", "|", "Herring Waltz", "|"]


@pytest.fixture
def site(tmp_path: Path) -> Site:
    return Site(tmp_path, SHOW + "  - set: Late\n")


def stack(site: Site) -> Stack:
    assert site.workplace.desk is not None
    return site.workplace.desk.look()


def order(site: Site) -> list[str]:
    """The titles in set order, with a stroke after each set."""
    sets = read_show(site.path).show.sets
    return [title for one in sets for title in (*(song.title for song in one.songs), "|")]


def song(site: Site, number: int) -> SongOnDesk:
    return stack(site).songs[number]


def move(site: Site, number: int, into: int, after: int | None) -> Answer:
    place = {"into": stack(site).sets[into].mark, "after": "" if after is None else song(site, after).mark}
    return site.ask("POST", "/move", {"song": song(site, number).mark, **place})


@pytest.mark.parametrize(
    ("number", "into", "after", "then", "says"),
    [
        (0, 0, 1, "Herring Waltz,Tram Home,Nine Wet Umbrellas,|,Herring Waltz,|,|", "after Herring Waltz"),
        (2, 0, None, "Nine Wet Umbrellas,Tram Home,Herring Waltz,|,Herring Waltz,|,|", "to the top of First"),
        (0, 1, 3, "Herring Waltz,Nine Wet Umbrellas,|,Herring Waltz,Tram Home,|,|", "to Second"),
        (0, 1, None, "Herring Waltz,Nine Wet Umbrellas,|,Tram Home,Herring Waltz,|,|", "to Second"),
        (3, 0, 0, "Tram Home,Herring Waltz,Herring Waltz,Nine Wet Umbrellas,|,|,|", "to First"),
        (0, 2, None, "Herring Waltz,Nine Wet Umbrellas,|,Herring Waltz,|,Tram Home,|", "to Late"),
        (1, 0, 0, "Tram Home,Herring Waltz,Nine Wet Umbrellas,|,Herring Waltz,|,|", "after Tram Home"),
    ],
)
def test_a_song_moves_to_any_place_and_back(
    site: Site, number: int, into: int, after: int | None, then: str, says: str
) -> None:
    before = site.text
    title = song(site, number).song.title
    answer = move(site, number, into, after)
    assert answer.status_code == 200, answer.text
    assert order(site) == then.split(",")
    assert answer.headers["x-notice"] == f"moved {title} {says}"
    followed = stack(site).marked(answer.headers["x-song"])
    assert followed is not None
    assert followed.song.title == title
    if site.text != before:
        site.ask("POST", "/undo", {})
    assert site.text == before


def test_a_comment_moves_with_its_song(site: Site) -> None:
    move(site, 0, 1, None)
    assert '- title: Tram Home   # ask Osbert\n        length: "3:40"\n' in site.text
    assert site.text.index("set: Second") < site.text.index("Tram Home")


def test_up_and_down_cross_the_boundaries_of_sets(site: Site) -> None:
    mark = song(site, 2).mark
    for then in ("Second", "Second", "Late"):
        mark = site.ask("POST", "/move", {"song": mark, "by": 1}).headers["x-song"]
        found = stack(site).marked(mark)
        assert found is not None
        assert found.song.title == "Nine Wet Umbrellas"
        assert stack(site).sets[found.set_at].one.name == then
    last = site.ask("POST", "/move", {"song": mark, "by": 1})
    assert last.status_code == 422
    assert "last already" in last.text
    for then in ("Second", "Second", "First"):
        mark = site.ask("POST", "/move", {"song": mark, "by": -1}).headers["x-song"]
        found = stack(site).marked(mark)
        assert found is not None
        assert stack(site).sets[found.set_at].one.name == then


def test_a_song_is_added_at_the_end_of_a_set(site: Site) -> None:
    into = stack(site).sets[2].mark
    assert site.ask("POST", "/add", {"into": into, "title": " Lamplighter "}).status_code == 200
    assert order(site)[-2:] == ["Lamplighter", "|"]
    for title in ("", "a\nb", "a" * 201):
        assert site.ask("POST", "/add", {"into": into, "title": title}).status_code == 422


def test_a_song_can_be_repeated_in_the_encore(tmp_path: Path) -> None:
    text = SHOW.replace('length: "3:40"', 'length: "3:40"\n        tempo: 112\n        known: 3\n        chart: no')
    site = Site(tmp_path, text)
    assert site.ask("POST", "/encore", {"song": song(site, 0).mark}).status_code == 200
    assert order(site)[-2:] == ["Tram Home", "|"]
    assert site.text.endswith(
        '  - set: Encore\n    songs:\n      - title: Tram Home\n        length: "3:40"\n        tempo: 112\n'
        "        known: 3\n        chart: no\n"
    )
    assert site.ask("POST", "/encore", {"song": song(site, 1).mark}).status_code == 200
    assert order(site)[-3:] == ["Tram Home", "Herring Waltz", "|"]
    for _ in range(2):
        site.ask("POST", "/undo", {})
    assert site.text == text


def test_a_removed_song_is_kept_and_comes_back_with_undo(site: Site) -> None:
    before = site.text
    answer = site.ask("POST", "/out", {"song": song(site, 0).mark})
    assert answer.status_code == 200
    assert order(site)[0] == "Herring Waltz"
    shelf = site.path.with_name("mill.dropped.yaml").read_text(encoding="utf-8")
    assert "title: Tram Home   # ask Osbert" in shelf
    site.ask("POST", "/undo", {})
    assert site.text == before


def test_a_song_or_set_that_no_longer_exists_is_reported(site: Site) -> None:
    mark, into = song(site, 0).mark, stack(site).sets[1].mark
    for path, body in [
        ("/move", {"song": "s0", "by": 1}),
        ("/move", {"song": mark, "into": "t0"}),
        ("/move", {"song": mark, "into": into, "after": "s0"}),
        ("/add", {"into": "t0", "title": "Lamplighter"}),
        ("/encore", {"song": "s0"}),
        ("/out", {"song": "s0"}),
    ]:
        answer = site.ask("POST", path, body)
        assert answer.status_code == 422
        assert "no longer in this" in answer.text
    assert site.text == SHOW + "  - set: Late\n"


def test_songs_in_brackets_move_too(tmp_path: Path) -> None:
    site = Site(tmp_path, "show: Mill\nsets:\n  - {set: A, songs: [One, Two]}\n  - {set: B, songs: [Three]}\n")
    assert move(site, 0, 1, None).status_code == 200
    assert order(site) == ["Two", "|", "One", "Three", "|"]


def test_a_show_without_sets_can_be_reordered(tmp_path: Path) -> None:
    site = Site(tmp_path, "show: Mill\nsongs:\n  - One\n  - Two\n")
    assert move(site, 0, 0, 1).status_code == 200
    assert order(site) == ["Two", "One", "|"]
