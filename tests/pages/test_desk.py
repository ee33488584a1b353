"""The show on the desk: only the lines of an edit change, others' changes stand, and undo gives the same bytes."""

from pathlib import Path

import pytest
from pages.visiting import SHOW, Site

from companion.edits import FileText, SetValue, SongNamed, open_text
from companion.errors import CompanionError, FaultyFile
from companion.pages.desk import NothingToRead, ShowDesk


@pytest.fixture
def site(tmp_path: Path) -> Site:
    return Site(tmp_path)


@pytest.mark.parametrize(
    ("title", "field", "typed", "line"),
    [
        ("Tram Home", "key", "bb", "        key: Bb"),
        ("Tram Home", "key", "F#m", "        key: F#m"),
        ("Tram Home", "tempo", "112", "        tempo: 112"),
        ("Tram Home", "tempo", "112.5", "        tempo: 112.5"),
        ("Tram Home", "known", "3", "        known: 3"),
        ("Tram Home", "hard", "0", "        hard: 0"),
        ("Tram Home", "sound", "grand piano", "        sound: grand piano"),
        ("Tram Home", "sound", "upper=lead @lower=strings", "        sound: {upper: lead, lower: strings}"),
        ("Tram Home", "ending", "cold", "        ending: cold"),
        ("Tram Home", "meter", "6/8", "        meter: 6/8"),
        ("Tram Home", "starts_with", "me", "        starts_with: me"),
        ("Herring Waltz", "key", "D", "        key: D"),
        ("Nine Wet Umbrellas", "known", "2", "known: 2"),
    ],
)
def test_a_typed_field_is_written_as_a_person_would(site: Site, title: str, field: str, typed: str, line: str) -> None:
    assert site.type(title, field, typed).status_code == 200
    new = [one for one in site.text.splitlines() if one not in SHOW.splitlines()]
    assert any(line in one for one in new), site.text
    kept = [one for one in SHOW.splitlines() if title not in one]
    assert [one for one in site.text.splitlines() if one in kept] == kept


def test_the_second_song_with_a_title_is_edited_separately(site: Site) -> None:
    assert site.type("Herring Waltz", "key", "Bb", was="A", occurrence=2).status_code == 200
    assert site.text == SHOW.replace("key: A", "key: Bb")


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("key", "H", "key"),
        ("key", "nonsense", "key"),
        ("tempo", "fast", "tempo"),
        ("tempo", "1000000", "tempo"),
        ("known", "6", "0 to 5"),
        ("hard", "-1", "0 to 5"),
        ("length", "3:99", "4:39"),
        ("ending", "bang", "one of these"),
        ("sound", "lead @strings", "keyboard"),
        ("key", "two\nlines", "one line"),
        ("artist", "a" * 201, "200"),
        ("notes", "a" * 5001, "5,000"),
        ("colour", "red", "no such field"),
    ],
)
def test_an_invalid_value_is_refused_with_a_reason_and_changes_nothing(
    site: Site, field: str, typed: str, words: str
) -> None:
    answer = site.type("Herring Waltz", field, typed)
    assert answer.status_code == 422
    assert words in answer.text
    assert site.text == SHOW


def test_a_removed_song_is_reported(site: Site) -> None:
    site.path.write_text(SHOW.replace("Tram Home", "Tram Home Again"), encoding="utf-8")
    answer = site.type("Tram Home", "key", "Bb")
    assert answer.status_code == 422
    assert "no longer in this show" in answer.text


def test_an_emptied_field_is_removed_from_the_file(site: Site) -> None:
    assert site.type("Herring Waltz", "key", "", was="A", occurrence=2).status_code == 200
    assert site.text == SHOW.replace("        key: A\n", "")


def test_changes_from_outside_and_from_the_page_both_survive(site: Site) -> None:
    site.ask("GET", "/view")
    site.path.write_text(site.text.replace("band: The Tidewater Nine", "band: The Tidewater Ten"), encoding="utf-8")
    assert site.type("Tram Home", "key", "Bb").status_code == 200
    assert "Tidewater Ten" in site.text
    assert "key: Bb" in site.text


def test_a_field_also_changed_outside_is_asked_about_and_not_written(site: Site) -> None:
    site.ask("GET", "/view")
    outside = SHOW.replace("key: A", "key: C")
    site.path.write_text(outside, encoding="utf-8")
    answer = site.type("Herring Waltz", "key", "Bb", was="A", occurrence=2)
    assert answer.status_code == 409
    assert "changed elsewhere to C" in answer.text
    assert site.text == outside
    assert site.type("Herring Waltz", "key", "Bb", was="C", occurrence=2).status_code == 200
    assert "key: Bb" in site.text


def test_the_same_text_typed_in_two_tabs_is_not_a_conflict(site: Site) -> None:
    assert site.type("Tram Home", "key", "Bb").status_code == 200
    assert site.type("Tram Home", "key", "Bb").status_code == 200


def test_undo_restores_the_first_bytes_and_redo_the_last(site: Site) -> None:
    site.type("Tram Home", "key", "Bb")
    site.type("Herring Waltz", "tempo", "112")
    site.type("Nine Wet Umbrellas", "known", "2")
    after = site.text
    for _ in range(3):
        assert site.ask("POST", "/undo", {}).status_code == 200
    assert site.text == SHOW
    assert "nothing to undo" in site.ask("POST", "/undo", {}).text
    for _ in range(3):
        assert site.ask("POST", "/redo", {}).status_code == 200
    assert site.text == after
    assert "nothing to redo" in site.ask("POST", "/redo", {}).text
    site.ask("POST", "/undo", {})
    assert "known" not in site.text


def test_undo_and_redo_can_alternate_without_end(site: Site) -> None:
    site.type("Tram Home", "key", "Bb")
    for _ in range(3):
        site.ask("POST", "/undo", {})
        assert site.text == SHOW
        site.ask("POST", "/redo", {})
        assert "key: Bb" in site.text


def test_a_new_change_ends_redo(site: Site) -> None:
    site.type("Tram Home", "key", "Bb")
    site.ask("POST", "/undo", {})
    site.type("Tram Home", "known", "1")
    assert site.ask("POST", "/redo", {}).status_code == 422
    assert "key: Bb" not in site.text


def test_undo_names_what_it_undid(site: Site) -> None:
    site.type("Tram Home", "key", "bb")
    assert "Tram Home: key Bb" in site.ask("GET", "/view").text
    assert site.ask("POST", "/undo", {}).headers["x-notice"] == "Undone: Tram Home: key Bb"


def test_a_faulty_file_is_never_overwritten_and_the_last_good_reading_stays(site: Site) -> None:
    site.ask("GET", "/view")
    faulty = SHOW.replace("minutes: 10", "minutes: ten").replace("key: A", "kye: A")
    site.path.write_text(faulty, encoding="utf-8")
    page = site.ask("GET", "/view").text
    assert "Line 6, column 14" in page
    assert "kye" in page
    assert "Tram Home" in page
    for path in ("/undo", "/redo"):
        assert site.ask("POST", path, {}).status_code == 422
    assert site.type("Tram Home", "key", "Bb").status_code == 422
    assert site.text == faulty
    site.path.write_text(SHOW, encoding="utf-8")
    assert "kye" not in site.ask("GET", "/view").text
    assert site.type("Tram Home", "key", "Bb").status_code == 200


def test_a_file_read_while_half_of_it_was_written_is_read_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "mill.yaml"
    path.write_text(SHOW, encoding="utf-8")
    one = ShowDesk(path, tmp_path / "kept")
    one.look()
    whole = SHOW.replace("key: A", "key: C")

    def read_half(file: Path, folder: Path | None = None) -> FileText:
        text = open_text(file, folder)
        path.write_text(whole, encoding="utf-8")  # the other program writes the rest meanwhile
        return text

    path.write_text(SHOW[: len(SHOW) // 2] + "[", encoding="utf-8")
    monkeypatch.setattr("companion.pages.desk.open_text", read_half)
    assert one.look().faults
    assert not one.look().faults
    assert str(one.look().songs[-1].song.key) == "C"


def test_a_show_faulty_from_the_start_shows_its_faults(tmp_path: Path) -> None:
    site = Site(tmp_path, "show: [\n")
    page = site.ask("GET", "/view")
    assert page.status_code == 200
    assert "Line" in page.text


def test_a_deleted_show_is_reported_and_not_written_again(site: Site) -> None:
    site.ask("GET", "/view")
    site.path.unlink()
    page = site.ask("GET", "/view").text
    assert "Tram Home" in page
    assert 'id="faults"' in page
    assert site.type("Tram Home", "key", "Bb").status_code == 422
    assert not site.path.exists()


def test_the_faults_of_a_show_changed_by_hand_are_listed_once(site: Site) -> None:
    site.ask("GET", "/view")
    site.path.write_text(SHOW.replace("key: A", "key: H"), encoding="utf-8")
    page = site.ask("GET", "/view").text
    assert page.count("<li>Line ") == 1
    assert page.count("is no key") + page.count("not a key") == 1
    assert "These would stop the show" not in page
    assert "It can start once the show can be read again" in page
    assert "These would stop the show" not in site.ask("GET", "/door").text


def test_a_text_that_the_reader_refuses_is_not_written(tmp_path: Path) -> None:
    path = tmp_path / "mill.yaml"
    path.write_text(SHOW, encoding="utf-8")
    desk = ShowDesk(path, tmp_path / "kept")
    with pytest.raises(FaultyFile):
        desk.edit("nonsense", lambda _: [SetValue((SongNamed("Tram Home"), "meter"), "4/5")])
    with pytest.raises(CompanionError):
        desk.edit("nobody", lambda _: [SetValue((SongNamed("Nobody"), "key"), "A")])
    assert path.read_text(encoding="utf-8") == SHOW


def test_without_a_good_reading_the_faults_are_raised(tmp_path: Path) -> None:
    with pytest.raises(NothingToRead) as nothing:
        ShowDesk(tmp_path / "none.yaml", tmp_path / "kept").look()
    assert nothing.value.faults


TRICKS = [
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "' onfocus='alert(1)' autofocus='",
    "</title><svg/onload=alert(1)>",
    "<hx-partial hx-target=body>gone</hx-partial>",
    "<!-- --><iframe srcdoc=x>",
    "{{7*7}} ${7*7} javascript:alert(1)",
    "&lt;script&gt;",
]


@pytest.mark.parametrize("trick", TRICKS)
def test_html_in_any_field_stays_text(tmp_path: Path, trick: str) -> None:
    quoted = trick.replace("'", "''")
    text = f"""\
show: '{quoted}'
band: '{quoted}'
venue: '{quoted}'
sets:
  - set: '{quoted}'
    songs:
      - title: '{quoted}'
        sound: '{quoted}'
        notes: 'organ solo {quoted}'
        road_map: [{{section: '{quoted}', bars: 4, feature: '{quoted}'}}]
"""
    site = Site(tmp_path, text)
    for column in ("key", "sound"):
        page = site.ask("GET", f"/view?column={column}").text
        for tag in ("<script", "<img", "<svg", "<iframe", "<hx-partial", "<!--", "</title"):
            assert tag not in page
        assert " onfocus='" not in page.replace("&#x27;", "") or "onfocus=&#x27;" in page
    refused = site.type(trick, "known", trick)
    assert refused.status_code == 422
    for tag in ("<script", "<img", "<svg", "<iframe", "<!--"):
        assert tag not in refused.text


def test_an_overlong_field_is_refused(site: Site) -> None:
    for field in ("notes", "artist", "key", "road_map"):
        answer = site.type("Herring Waltz", field, "word " * 12_500)
        assert answer.status_code == 422, field
    assert site.type("Herring Waltz", "notes", "word " * 60_000).status_code == 413
    assert site.text == SHOW
