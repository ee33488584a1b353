"""The message to the leader on the page is the command's, and the reply is read by the numbers that were copied."""

import html
from pathlib import Path

import pytest
from pages.visiting import Site

from companion.cli import main
from companion.leader.reply_records import read_replies
from companion.show import read_show

pytestmark = pytest.mark.usefixtures("reads_here")

SHOW = "show: Night at the Mill\nsongs:\n  - Tram Home\n  - {title: Herring Waltz, key: A}\n  - Lamplighter\n"


@pytest.fixture
def site(tmp_path: Path) -> Site:
    return Site(tmp_path, SHOW)


def page(site: Site) -> str:
    answer = site.ask("GET", "/questions")
    assert answer.status_code == 200, answer.text
    return html.unescape(answer.text)


def test_the_message_is_the_commands(site: Site, capsys: pytest.CaptureFixture[str]) -> None:
    found = page(site)
    assert 'data-copy="asks-text"' in found
    assert main(["questions", str(site.path)]) == 0
    assert capsys.readouterr().out.strip() in found


def test_looking_keeps_no_numbers_and_copying_does(site: Site) -> None:
    page(site)
    assert read_replies(site.path).kept == ()
    answer = site.ask("POST", "/list", {"does": "asked"})
    assert answer.headers["x-notice"] == "Copied. When the reply comes, paste it under 'A newer set list'"
    site.path.write_text(SHOW.replace("songs:\n", "songs:\n  - New Opener\n"), encoding="utf-8")
    page(site)  # looking again does not count as asking again
    assert site.ask("POST", "/reply", {"text": "1 Bb, 3 Gm"}).status_code == 200
    songs = [song for one in read_show(site.path).show.sets for song in one.songs]
    assert [(song.title, str(song.key)) for song in songs] == [
        ("New Opener", "None"),
        ("Tram Home", "Bb"),
        ("Herring Waltz", "A"),
        ("Lamplighter", "Gm"),
    ]


def test_what_only_the_player_can_settle_stands_beside_the_message(site: Site) -> None:
    site.ask("POST", "/reply", {"text": "1 Bb\nJo has a cold"})
    assert "not understood: Jo has a cold" in page(site)


def test_where_all_is_known_nothing_is_asked(site: Site) -> None:
    song = "{title: Tram Home, key: D, starts_with: keys, ending: cold, chart: no, recording: tram.mp3}"
    site.path.write_text(
        f"show: Night at the Mill\ndate: 2099-06-19\nvenue: The Mill\nband: Nine\nsets:\n  - set: First\n"
        f'    starts: "20:00"\n    minutes: 45\n    songs:\n      - {song}\n',
        encoding="utf-8",
    )
    assert "Nothing needs to be asked." in page(site)
