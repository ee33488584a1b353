"""The first run without a show: a set list brought in, the invented engagement, an empty show."""

from pathlib import Path

import pytest
from pages.visiting import Answer, Site

from companion.show import read_show

pytestmark = pytest.mark.usefixtures("reads_here")

LIST = b"Set 1\n1. Postbox Tango - Bb - 3:40 keys intro\n2. Nine Wet Umbrellas (Gm)\n3. Tram Home\n"


@pytest.fixture
def site(tmp_path: Path) -> Site:
    return Site(tmp_path, text=None)


def bring(site: Site, raw: bytes, name: str) -> Answer:
    return site.ask("POST", f"/bring?name={name}", raw, Content_Type="application/octet-stream")


def shows(site: Site) -> list[Path]:
    return sorted(one for one in (site.path.parent / "shows").rglob("*") if one.is_file())


def test_the_first_page_offers_three_ways(site: Site) -> None:
    page = site.ask("GET", "/view").text
    assert all(words in page for words in ("Bring a set list in", "invented engagement", "Begin an empty show"))


def test_an_empty_show_is_created_under_its_name(site: Site) -> None:
    page = site.ask("POST", "/begin", {"title": "Night at the Mill"})
    assert page.status_code == 200
    assert "Night at the Mill" in page.text
    (path,) = shows(site)
    assert path.name == "night-at-the-mill.yaml"
    assert read_show(path).show.title == "Night at the Mill"


@pytest.mark.parametrize("title", ["", "  ", "a\nb", "a" * 201])
def test_a_show_needs_a_name(site: Site, title: str) -> None:
    assert site.ask("POST", "/begin", {"title": title}).status_code == 422
    assert shows(site) == []


@pytest.mark.parametrize("title", ["../../etc/passwd", "..", "/root/x", "C:\\x", "con", "a\u202eb", "."])
def test_a_name_never_leads_out_of_the_folder(site: Site, title: str) -> None:
    site.ask("POST", "/begin", {"title": title})
    outside = [one for one in site.path.parent.rglob("*.yaml") if one.parent != site.path.parent / "shows"]
    assert outside == []


def test_two_shows_with_one_name_get_two_files(site: Site) -> None:
    for _ in range(2):
        site.ask("POST", "/begin", {"title": "Mill"})
    assert [one.name for one in shows(site)] == ["mill-2.yaml", "mill.yaml"]


def test_a_set_list_becomes_a_show_with_a_report(site: Site) -> None:
    answer = bring(site, LIST, "pasted.txt")
    assert answer.status_code == 200
    assert "3 songs in 1 set, 1 without a key" in answer.headers["x-notice"]
    assert "Postbox Tango" in answer.text
    (path,) = shows(site)
    assert [song.title for song in read_show(path).show.sets[0].songs][2] == "Tram Home"


def test_a_new_show_takes_what_the_songbook_in_its_folder_knows(site: Site) -> None:
    book = site.path.parent / "shows" / "songbook.yaml"
    book.parent.mkdir(exist_ok=True)
    book.write_text("tram-home:\n  title: Tram Home\n  key: Eb\n", encoding="utf-8")
    answer = bring(site, LIST, "pasted.txt")
    assert "1 song known from your songbook: no key is missing any more" in answer.headers["x-notice"]
    (path,) = (one for one in shows(site) if one != book)
    assert str(read_show(path).show.sets[0].songs[2].key) == "Eb"


def test_a_pasted_show_is_named_by_what_its_message_says_and_told_apart_from_others(site: Site) -> None:
    text = b"The Paper Nine, Saturday 19 June 2027, Boathouse\n\n" + LIST
    answer = bring(site, text, "message.txt")
    assert answer.status_code == 200, answer.text
    (path,) = shows(site)
    title = read_show(path).show.title
    assert title != "message"
    site.workplace.close()
    page = site.ask("GET", "/view").text
    assert f"{title} · Saturday 19 June 2027 · " in page
    assert " songs</button>" in page


def test_a_pasted_show_that_names_nothing_is_asked_for_a_name(site: Site) -> None:
    answer = bring(site, LIST, "message.txt")
    assert answer.status_code == 422
    assert "Type what the gig is called" in answer.text
    assert shows(site) == []
    assert bring(site, LIST, "Harbour%20wedding.txt").status_code == 200
    assert [read_show(path).show.title for path in shows(site)] == ["Harbour wedding"]


@pytest.mark.parametrize("name", ["..%2F..%2Fevil.yaml", "%2Fetc%2F%00passwd", "C:%5C%3Cscript%3E.csv", "a" * 3000])
def test_an_uploaded_files_name_never_becomes_a_path(site: Site, name: str) -> None:
    answer = bring(site, LIST, name)
    assert answer.status_code == 200
    assert "<script>" not in answer.text
    assert [path.parent for path in shows(site)] == [site.path.parent / "shows"]


@pytest.mark.parametrize("raw", [b"", b"%PDF-1.4 nonsense", b"PK\x03\x04 nonsense", b"\x89PNG\r\n\x1a\n"])
def test_a_file_that_is_not_a_set_list_is_refused_whatever_its_name(site: Site, raw: bytes) -> None:
    answer = bring(site, raw, "list.csv")
    assert answer.status_code == 422
    assert shows(site) == []


def test_the_demo_engagement_is_opened_as_a_copy(site: Site) -> None:
    page = site.ask("POST", "/demo", {})
    assert page.status_code == 200
    assert "Kettle on the Jetty" in page.text
    assert site.type("Seventeen Umbrellas", "key", "Bb").status_code == 200


def test_a_show_prepared_earlier_is_offered_again(site: Site, tmp_path: Path) -> None:
    site.ask("POST", "/begin", {"title": "Night at the Mill"})
    site.workplace.close()
    again = Site(tmp_path, text=None)
    assert "Night at the Mill" in again.ask("GET", "/view").text
    assert again.ask("POST", "/choose", {"show": "0"}).status_code == 200
    for wrong in ("1", "-1", "../x", "²"):
        assert again.ask("POST", "/choose", {"show": wrong}).status_code == 422


def test_a_show_open_in_another_copy_is_refused_with_that_copys_address(site: Site, tmp_path: Path) -> None:
    site.ask("POST", "/begin", {"title": "Night at the Mill"})
    second = Site(tmp_path, text=None)
    answer = second.ask("POST", "/choose", {"show": "0"})
    assert answer.status_code == 422
    assert "http://127.0.0.1:4711/" in answer.text


def test_an_unwritable_folder_is_reported(site: Site, tmp_path: Path) -> None:
    (tmp_path / "shows").write_text("a file is in the way")
    for answer in (
        site.ask("POST", "/begin", {"title": "Mill"}),
        site.ask("POST", "/demo", {}),
        bring(site, LIST, "a"),
    ):
        assert answer.status_code == 422
        assert "cannot be written" in answer.text


def test_a_named_show_that_does_not_exist_is_created(site: Site, tmp_path: Path) -> None:
    wanted = tmp_path / "kiln.yaml"
    site.workplace.open(wanted)
    assert "Begin an empty show" in site.ask("GET", "/view").text
    assert site.ask("POST", "/begin", {"title": "Night at the Kiln"}).status_code == 200
    assert read_show(wanted).show.title == "Night at the Kiln"
    assert shows(site) == []
