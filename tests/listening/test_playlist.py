"""Playlists in set order, read back by an independent XML parser."""

import os
import xml.etree.ElementTree as ET
from pathlib import Path
from urllib.parse import quote, unquote

import pytest
from planning.shows import show, song

from companion.listening.playlist import XSPF_NAMESPACE, is_link, m3u8, playlist_of, uri, write_playlists, xspf

SPACE = f"{{{XSPF_NAMESPACE}}}"
SONGS = (
    song("Gasworks Corner", "Bb", length_s=220, recording="audio/gasworks corner.ogg", artist="The Nine"),
    song("Kettle & Co <live>", recording="https://example.org/a b?x=1&y=2"),
    song("Moth"),
    song("Weeds", recording="audio/gone.mp3"),
)


def test_the_playlists_hold_files_and_links_in_set_order_and_report_what_is_missing() -> None:
    made = playlist_of(show(*SONGS), lambda path: "gone" not in path)
    assert [track.song.title for track in made.tracks] == ["Gasworks Corner", "Kettle & Co <live>"]
    assert [one.title for one in made.without] == ["Moth"]
    assert [one.song.title for one in made.missing] == ["Weeds"]
    # M3U as commonly described: whole seconds, -1 where unknown
    assert m3u8(made) == (
        "#EXTM3U\n#EXTINF:220,The Nine - Gasworks Corner\naudio/gasworks corner.ogg\n"
        "#EXTINF:-1,Kettle & Co <live>\nhttps://example.org/a b?x=1&y=2\n"
    )


def test_an_independent_parser_reads_the_xspf() -> None:
    root = ET.fromstring(xspf(playlist_of(show(*SONGS), lambda _: True)))  # noqa: S314  our own text
    assert (root.tag, root.get("version")) == (f"{SPACE}playlist", "1")
    tracks = root.findall(f"{SPACE}trackList/{SPACE}track")
    assert [track.findtext(f"{SPACE}title") for track in tracks] == ["Gasworks Corner", "Kettle & Co <live>", "Weeds"]
    assert tracks[0].findtext(f"{SPACE}location") == "audio/gasworks%20corner.ogg"
    assert tracks[0].findtext(f"{SPACE}duration") == "220000"  # XSPF 1: milliseconds; 3:40
    assert tracks[1].findtext(f"{SPACE}location") == "https://example.org/a%20b?x=1&y=2"
    # XSPF 1: of playlist's children trackList is the only one required, and it comes last here
    assert [child.tag.removeprefix(SPACE) for child in root] == ["title", "trackList"]


@pytest.mark.parametrize("title", ["🎹", "שיר", "a\x0bb", "]]>", "&amp;", '"quoted"', "\ud800"])
def test_any_title_gives_well_formed_xml(title: str) -> None:
    text = xspf(playlist_of(show(song(title, recording="a.ogg")), lambda _: True))
    root = ET.fromstring(text.encode("utf-8", "replace"))  # noqa: S314  our own text
    assert root.findtext(f"{SPACE}trackList/{SPACE}track/{SPACE}location") == "a.ogg"


def test_a_playlist_can_be_limited_to_one_set() -> None:
    made = playlist_of(show(*SONGS, sets=2), lambda _: True, only="set 2")
    assert [track.song.title for track in made.tracks] == ["Weeds"]


def test_a_path_of_another_folder_is_relative_to_the_list(tmp_path: Path) -> None:
    (tmp_path / "audio").mkdir()
    (tmp_path / "audio" / "gasworks corner.ogg").write_bytes(b"x")
    (tmp_path / "lists").mkdir()
    _, (m3u, xml) = write_playlists(show(*SONGS), tmp_path / "pier.yaml", tmp_path / "lists")
    assert "../audio/gasworks corner.ogg" in Path(m3u).read_text()
    location = ET.parse(xml).findtext(f"{SPACE}trackList/{SPACE}track/{SPACE}location")  # noqa: S314  our own file
    assert location is not None
    assert (tmp_path / "lists" / unquote(location)).is_file()


def test_links_and_paths_are_distinguished() -> None:
    assert [is_link(where) for where in ("https://x.org/a", "audio/a.ogg", r"C:\music\a.ogg", "file:///a.ogg")] == [
        True,
        False,
        False,
        True,
    ]
    letter = quote(os.fsencode("ä"))  # %C3%A4 wherever file names are UTF-8
    assert (uri("a:b.ogg"), uri("50%.ogg"), uri("ä b.ogg")) == ("a%3Ab.ogg", "50%25.ogg", f"{letter}%20b.ogg")


def test_an_empty_show_gives_an_empty_playlist() -> None:
    made = playlist_of(show(), lambda _: True)
    assert m3u8(made) == "#EXTM3U\n"
    ET.fromstring(xspf(made))  # noqa: S314  our own text


def test_a_folder_with_an_undecodable_name_is_referenced_by_its_bytes() -> None:
    assert uri(os.fsdecode(b"caf\xe9/moth.ogg")) == "caf%E9/moth.ogg"
