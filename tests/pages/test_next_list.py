"""A second version of the set list, brought in from the page: questions, differences, each taken or left, one undo."""

import html
import re
from pathlib import Path
from urllib.parse import unquote

import msgspec
import pytest
from pages.visiting import Answer, Site

from companion.practice_log.records import read_records
from companion.setlist import Difference, import_list
from companion.setlist.kept_answers import answers_of
from companion.show import read_show
from companion.show.model import Song

pytestmark = pytest.mark.usefixtures("reads_here")

SHOW = """\
show: Night at the Mill
sets:
  - set: First
    songs:
      - title: Tram Home   # ask Osbert
        key: D
        road_map: Intro 4*, Verse 16
      - title: Herring Waltz
        key: A
        notes: mine
      - title: Lamplighter
      - title: Gravel Hour
        key: C
"""
NEWER = b"Set 1\n1. Tram Home - Eb\n2. Lamplighter (F)\n3. Nine Wet Umbrellas (Gm)\n4. Gravel Hours - C\n"
IN_DOUBT = b"1. Tram Home - D\n2. Salt Parade C\n3. Herring Waltz (A)\n4. Lamplighter\n5. Gravel Hour (G or A)\n"


@pytest.fixture
def site(tmp_path: Path) -> Site:
    return Site(tmp_path, SHOW)


def bring(site: Site, raw: bytes = NEWER, name: str = "new%20list.txt") -> Answer:
    answer = site.ask("POST", f"/bring?name={name}", raw, Content_Type="application/octet-stream")
    assert answer.status_code == 200, answer.text
    return answer


def decide(site: Site, does: str, name: str = "", word: str = "") -> Answer:
    return site.ask("POST", "/list", {"does": does, "name": name, "word": word})


def differences(site: Site) -> dict[str, Difference]:
    assert site.workplace.next_list is not None
    return {f"{one.differs.value} {one.title}": one for one in site.workplace.next_list.look().imported.differences}


def songs(site: Site) -> dict[str, Song]:
    return {song.title: song for one in read_show(site.path).show.sets for song in one.songs}


def test_a_newer_list_changes_nothing_until_it_is_taken(site: Site) -> None:
    page = bring(site)
    assert "Nothing is changed yet" in page.headers["x-notice"]
    assert site.text == SHOW
    heads = re.findall(r"<h3>([^<]+) \(\d+\)</h3>", page.text)
    assert heads == ["Keys", "No longer in the list", "New", "Renamed"]  # by weight, as companion import groups them
    assert "Tram Home (D → Eb)" in html.unescape(page.text)
    assert "new list.txt" in page.text
    assert site.ask("GET", "/view").text == page.text
    assert decide(site, "put-away").status_code == 200
    assert site.text == SHOW
    assert "Tram Home" in site.ask("GET", "/view").text
    assert decide(site, "write").status_code == 422


def test_all_taken_is_what_the_command_writes_and_one_undo_takes_it_back(site: Site, tmp_path: Path) -> None:
    other = tmp_path / "by command"
    other.mkdir()
    (other / "mill.yaml").write_text(SHOW, encoding="utf-8")
    (other / "new list.txt").write_bytes(NEWER)
    import_list(other / "new list.txt", other / "mill.yaml", folder=tmp_path / "kept")
    bring(site)
    answer = decide(site, "write")
    assert answer.status_code == 200
    assert "Undo takes all of it back" in answer.headers["x-notice"]
    assert site.text == (other / "mill.yaml").read_text(encoding="utf-8")
    assert (tmp_path / "mill.dropped.yaml").read_bytes() == (other / "mill.dropped.yaml").read_bytes()
    assert "# ask Osbert" in site.text
    assert site.ask("POST", "/undo", {}).status_code == 200
    assert site.text == SHOW


def test_what_is_left_stays_and_can_be_taken_after_all(site: Site) -> None:
    bring(site)
    found = differences(site)
    for name in ("key Tram Home", "dropped Herring Waltz", "new Nine Wet Umbrellas"):
        assert decide(site, "leave", found[name].name).status_code == 200
    page = decide(site, "take", found["new Nine Wet Umbrellas"].name).text
    assert f"Take {len(found) - 2} of {len(found)} changes" in page
    decide(site, "write")
    now = songs(site)
    assert (str(now["Tram Home"].key), str(now["Lamplighter"].key)) == ("D", "F")
    assert "Herring Waltz" in now
    assert "Nine Wet Umbrellas" in now


def test_another_time_of_a_set_is_left_until_it_is_ticked_and_stays_ticked(tmp_path: Path) -> None:
    text = SHOW.replace("  - set: First\n", '  - set: First\n    starts: "20:00"\n')
    site = Site(tmp_path, text)
    bring(site, b"Set 1 (21:15)\n1. Tram Home - D\n2. Herring Waltz - A\n3. Lamplighter\n4. Gravel Hour - C\n")
    found = differences(site)["set starts First"]
    row = re.search(rf'<input[^>]*data-name="{re.escape(found.name)}"[^>]*>', site.ask("GET", "/view").text)
    assert row
    assert "checked" not in row[0]
    seen = site.ask("GET", "/view").text
    assert "First: starts 21:15 (was 20:00)" in seen
    assert 'class="left"' not in seen, "nothing of the show is taken away"
    page = decide(site, "take", found.name).text
    row = re.search(rf'<input[^>]*data-name="{re.escape(found.name)}"[^>]*>', page)
    assert row
    assert "checked" in row[0]
    site.workplace.close()
    again = Site(tmp_path, text)
    assert again.ask("GET", "/view").text == page
    assert decide(again, "write").status_code == 200
    assert read_show(again.path).show.sets[0].starts_min == 1275


def test_a_whole_group_is_left_at_once(site: Site) -> None:
    bring(site)
    decide(site, "leave", "keys")
    decide(site, "write")
    assert str(songs(site)["Tram Home"].key) == "D"
    assert "Nine Wet Umbrellas" in songs(site)


def test_a_renamed_song_may_be_another_song_or_the_same_after_all(site: Site) -> None:
    bring(site)
    renamed = differences(site)["renamed Gravel Hours"]
    page = decide(site, "another", renamed.name).text
    assert "Gravel Hour and Gravel Hours are two songs" in page
    assert {"dropped Gravel Hour", "new Gravel Hours"} <= set(differences(site))
    decide(site, "together", renamed.old_title, renamed.title)
    assert "renamed Gravel Hours" in differences(site)
    decide(site, "another", renamed.name)
    decide(site, "write")
    assert "Gravel Hours" in songs(site)
    assert "Gravel Hour" in (site.path.parent / "mill.dropped.yaml").read_text(encoding="utf-8")


def test_doubts_ask_the_same_questions_as_the_command_and_answers_are_kept(site: Site, tmp_path: Path) -> None:
    asked: list[str] = []
    (tmp_path / "list.txt").write_bytes(IN_DOUBT)
    import_list(
        tmp_path / "list.txt",
        site.path,
        ask=lambda question: asked.append(question.doubt.question),
        agree=lambda _: False,
    )
    page = bring(site, IN_DOUBT)
    assert site.workplace.next_list is not None
    questions = {one.doubt.question: one for one, _ in site.workplace.next_list.look().questions}
    assert asked
    assert asked[0] in questions
    assert all(html.escape(one) in page.text for one in questions)
    salt = next(one for one in questions if "Salt Parade" in one)
    assert "does not answer" in decide(site, "answer", salt, "purple").headers["x-notice"]
    assert decide(site, "answer", salt, "yes").status_code == 200
    assert answers_of(site.path) == ()  # nothing is written before the player says so
    decide(site, "write")
    assert [(one.question, one.word) for one in answers_of(site.path)] == [(salt, "yes")]
    assert str(songs(site)["Salt Parade"].key) == "C"
    bring(site, IN_DOUBT + b"6. Postbox Tango (E)\n")
    assert site.workplace.next_list is not None
    again = site.workplace.next_list.look()
    assert salt not in [one.doubt.question for one, _ in again.questions]
    assert again.imported.answered_before == 1


def test_a_show_changed_meanwhile_is_looked_at_again_before_anything_is_written(site: Site) -> None:
    bring(site)
    outside = SHOW.replace("key: A", "key: G")
    site.path.write_text(outside, encoding="utf-8")
    answer = decide(site, "write")
    assert "changed meanwhile" in answer.headers["x-notice"]
    assert site.text == outside
    assert "Undo takes all of it back" in decide(site, "write").headers["x-notice"]


def test_a_list_of_which_nothing_is_taken_writes_nothing(site: Site) -> None:
    bring(site)
    for group in ("keys", "dropped", "new", "moved", "renamed", "sets", "notes", "details"):
        decide(site, "leave", group)
    assert "changes</button>" not in site.ask("GET", "/view").text
    assert decide(site, "write").status_code == 422
    assert site.text == SHOW


def test_a_change_message_is_read_again_when_the_show_has_changed(site: Site) -> None:
    bring(site, b"Same as last time but drop Lamplighter\n")
    assert set(differences(site)) == {"dropped Lamplighter"}
    site.path.write_text(SHOW + "      - title: Pier Song\n", encoding="utf-8")
    assert set(differences(site)) == {"dropped Lamplighter"}


def test_a_fault_in_the_show_leaves_the_page_in_place_and_the_list_waits(site: Site) -> None:
    bring(site)
    site.path.write_text(SHOW.replace("key: D", "key: H#x"), encoding="utf-8")
    page = site.ask("GET", "/view")
    assert page.status_code == 200
    assert "H#x" in page.text
    site.path.write_text(SHOW, encoding="utf-8")
    assert "No longer in the list" in site.ask("GET", "/view").text


@pytest.mark.parametrize("raw", [b"", b"%PDF-1.4 nonsense", b"PK\x03\x04 nonsense"])
def test_a_file_that_is_not_a_list_is_refused_and_the_show_stays_open(site: Site, raw: bytes) -> None:
    answer = site.ask("POST", "/bring?name=x.txt", raw, Content_Type="application/octet-stream")
    assert answer.status_code == 422
    assert site.workplace.next_list is None
    assert site.text == SHOW
    assert "Tram Home" in site.ask("GET", "/view").text


def test_what_a_list_says_is_never_html(site: Site) -> None:
    page = bring(site, b"1. <script>alert(1)</script> Waltz C\n2. Tram Home - D\n", "%3Cscript%3E.txt").text
    assert "<script" not in page


def test_the_newer_list_goes_with_the_show(site: Site) -> None:
    bring(site)
    site.ask("POST", "/leave", {})
    assert site.workplace.next_list is None


def test_what_was_practised_goes_on_under_a_song_s_new_name(site: Site) -> None:
    bring(site)
    decide(site, "write")
    assert [(one.title, one.to) for one in read_records(site.path).kept] == [("Gravel Hour", "Gravel Hours")]


def test_a_list_and_its_decisions_are_there_again_after_the_program_was_killed(site: Site, tmp_path: Path) -> None:
    bring(site, IN_DOUBT)
    assert site.workplace.next_list is not None
    decide(site, "leave", next(one.name for one in differences(site).values() if one.is_choice))
    question = site.workplace.next_list.look().questions[0][0].doubt.question
    assert decide(site, "answer", question, "G").status_code == 200
    page = site.ask("GET", "/view").text
    site.workplace.close()
    again = Site(tmp_path, SHOW)  # another start on the same folders
    assert again.ask("GET", "/view").text == page
    assert decide(again, "put-away").status_code == 200
    again.workplace.close()
    assert Site(tmp_path, SHOW).workplace.next_list is None


@pytest.mark.parametrize("damage", [b"", b"{}", b'{"name":"a","raw":"!"}', b"\xff" * 40])
def test_a_kept_list_that_cannot_be_read_is_ignored(site: Site, tmp_path: Path, damage: bytes) -> None:
    bring(site)
    kept = next((tmp_path / "kept" / "pages").glob("*.list"))
    assert kept.stat().st_mode & 0o077 == 0
    site.workplace.close()
    kept.write_bytes(damage)
    again = Site(tmp_path, SHOW)
    assert again.workplace.next_list is None
    assert "Tram Home" in again.ask("GET", "/view").text


def test_a_kept_list_that_no_reader_takes_any_more_is_put_away(site: Site, tmp_path: Path) -> None:
    bring(site)
    kept = next((tmp_path / "kept" / "pages").glob("*.list"))
    site.workplace.close()
    kept.write_bytes(msgspec.json.encode({"name": "list.pdf", "raw": b"%PDF-1.7 nothing"}))
    again = Site(tmp_path, SHOW)
    assert 'id="newer-title"' not in again.ask("GET", "/view").text
    assert not kept.exists()


def test_ticking_a_group_does_not_say_that_it_is_taken(site: Site) -> None:
    bring(site)
    for does, words in (("leave", "Not ticked"), ("take", "nothing is changed yet")):
        assert words in unquote(decide(site, does, "keys").headers["x-notice"])
    assert site.text == SHOW


LONG_SHOW = "show: Night at the Mill\nsongs:\n" + "".join(
    f"  - {{title: Tune of Mill {at}, key: G}}\n" for at in range(12)
)


def test_two_songs_beside_a_long_show_are_asked_about_first_and_drop_nothing(tmp_path: Path) -> None:
    site = Site(tmp_path, LONG_SHOW)
    page = html.unescape(bring(site, b"Copper Hill (A)\nWet Paint Tango (G)\n").text)
    question = "Is this message only about changes, rather than the whole list?"
    assert page.index(question) < page.index("What differs")
    assert "No longer in the list" not in page
    assert not [one for one in differences(site).values() if one.differs.value == "dropped"]
    decide(site, "answer", question, "no")
    assert sum(one.differs.value == "dropped" for one in differences(site).values()) == 12
    decide(site, "answer", question, "yes")
    assert not differences(site)
