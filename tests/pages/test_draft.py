"""A change that is still being typed: read as it would be on disk, written nowhere."""

import re
from pathlib import Path

import pytest
from examples import seldom
from pages.test_desk import TRICKS
from pages.visiting import SHOW, Site

from companion.edits import SetValue, SongNamed, applied
from companion.errors import CompanionError, FaultyFile
from companion.files import SourceFile
from companion.night.demo import demo_show
from companion.pages.desk import ShowDesk, Stack
from companion.pages.draft import drafted
from companion.pages.section_fields import SECTION_FIELDS
from companion.pages.song_fields import FIELDS
from companion.show.show_file import show_in

TRAM = SongNamed("Tram Home")


def test_a_draft_is_read_like_the_show_and_writes_nothing(tmp_path: Path) -> None:
    site = Site(tmp_path)
    assert site.workplace.desk is not None
    stack = site.workplace.desk.look()
    draft = drafted(stack, [SetValue((TRAM, "tempo"), 96), SetValue((TRAM, "title"), "Tram Back")])
    one = draft.song(TRAM)
    assert (one.song.title, one.song.tempo_bpm, one.set_at, one.song_at) == ("Tram Back", 96, 0, 0)
    assert draft.show.sets[0].songs[0] is one.song
    assert one.mark == stack.songs[0].mark
    assert site.text == SHOW
    assert drafted(stack, []) is stack


VALUES = (("tempo", 99), ("road_map", "Intro 4, Verse 8 | 1 | 4"), ("key", "Gb"))


@pytest.mark.parametrize(
    ("song", "key", "value"),
    [  # each song daily with one of them
        (song, *one) if song % len(VALUES) == number else seldom(song, *one)
        for song in range(28)
        for number, one in enumerate(VALUES)
    ],
)
def test_a_song_read_alone_equals_the_song_in_the_whole_show(stack: Stack, song: int, key: str, value: object) -> None:
    one = stack.songs[song]
    edit = SetValue((one.named, key), value)
    path = str(stack.file.path)
    whole = show_in(SourceFile(path, applied(stack.file.text or "", [edit], path))).show
    assert drafted(stack, [edit]).show == whole


@pytest.fixture(scope="module")
def stack() -> Stack:
    return ShowDesk(demo_show()).look()


@pytest.mark.parametrize(
    ("edit", "words"),
    [(SetValue((TRAM, "key"), "H"), "key"), (SetValue((SongNamed("Gone"), "key"), "C"), "is gone")],
)
def test_an_unreadable_draft_is_refused(tmp_path: Path, edit: SetValue, words: str) -> None:
    site = Site(tmp_path)
    assert site.workplace.desk is not None
    with pytest.raises((CompanionError, FaultyFile), match=words):
        drafted(site.workplace.desk.look(), [edit])


def label(site: Site, field: str, value: str, section: int | None = None) -> str:
    wanted = {"title": "Tram Home", "occurrence": 1, "field": field, "value": value, "was": "", "section": section}
    answer = site.ask("POST", "/try", wanted)
    assert answer.status_code == 200
    found = re.search(r'class="stage" role="img" aria-label="([^"]*)"', answer.text)
    return found[1] if found else ""


def test_the_picture_shows_every_field_while_it_is_typed(tmp_path: Path) -> None:
    site = Site(tmp_path)
    assert "Tram Back" in label(site, "title", "Tram Back")
    assert "A♭" in label(site, "key", "Ab")
    site.type("Tram Home", "road_map", "Intro 4, Verse 8")
    before = site.text
    assert "Opening" in label(site, "section", "Opening", 0)
    assert label(site, "bars", "16", 0)
    assert site.text == before


def test_an_unreadable_value_leaves_the_picture_unchanged(tmp_path: Path) -> None:
    site = Site(tmp_path)
    assert label(site, "key", "H") == label(site, "tempo", "fast") == label(site, "title", "") == ""
    assert site.ask("POST", "/try", {"title": "x", "occurrence": 1, "field": "key", "value": "C", "was": ""}).text


@pytest.mark.parametrize("trick", [" ".join(TRICKS[:3]), seldom(" ".join(TRICKS[3:6]))])
def test_typed_html_stays_text_on_pictures_and_sheet(tmp_path: Path, trick: str) -> None:
    site = Site(tmp_path, 'show: Mill\nsongs:\n  - title: "<i>x"\n    road_map: Intro 4, Verse 8\n')
    assert site.workplace.desk is not None
    one = site.workplace.desk.look().songs[0].mark
    fields = [*((each, None) for each in FIELDS if each != "title"), *((each, 0) for each in SECTION_FIELDS)]
    for field, section in [*fields, ("title", None)]:
        wanted = {"title": "<i>x", "occurrence": 1, "field": field, "value": trick, "was": "", "section": section}
        said = [site.ask("POST", "/try", wanted), site.ask("POST", "/edit", {**wanted, "open": one})]
        for page in (*said, site.ask("GET", f"/view?song={one}")):
            assert not re.search(r"<(script|img|iframe|i>|!--|/title|svg/)|<hx-partial hx-target=body", page.text), (
                field
            )
            assert not re.search(r"<[^>]* on\w+=", re.sub(r'"[^"]*"', '""', page.text)), field
    assert "onerror" in site.text or "onload" in site.text  # some fields take any text, and it was shown
