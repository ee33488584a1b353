"""Set lists in every habit of bands, invented by someone who did not know the reader, the expected result first."""

import json
import re
from collections import Counter
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from companion.setlist import LineKind, Notation, SetList
from companion.setlist.list_reading import list_in
from companion.setlist.parsing.key_cells import plain_key
from companion.show import Song

LISTS: list[dict[str, Any]] = json.loads((Path(__file__).parent / "by_others" / "texts.json").read_text("utf-8"))


def read(one: dict[str, Any]) -> SetList:
    return _read(one["file"], "\n".join(one["text"]))


@cache
def _read(name: str, text: str) -> SetList:
    """Read a list once for all tests of this module."""
    return list_in(text.encode(), name)


def is_title(song: Song, told: dict[str, Any]) -> bool:
    return song.title.casefold() in {title.casefold() for title in (told["title"], *told.get("title_or", ()))}


def words(song: Song) -> str:
    said = (song.notes, song.starts_with, song.ending and song.ending.value, song.meter, song.artist, song.segue)
    return " ".join(str(one) for one in said if one).casefold()


def counted(one: dict[str, Any]) -> tuple[Counter[str], list[str]]:
    """Count what is right and wrong in a list; a mistake is silent if its line has no doubt."""
    found = read(one)
    doubted = {line.song for line in found.lines if line.song and line.doubts}
    numbered = [song for each in found.show.sets for song in each.songs]
    at_set = [at for at, each in enumerate(found.show.sets) for _ in each.songs]
    count: Counter[str] = Counter(lists=1)
    wrong: list[str] = []
    used: set[int] = set()
    for set_at, songs in enumerate(one["sets"]):
        for told in songs:
            count["songs"] += 1
            number = next((at for at, song in enumerate(numbered) if at not in used and is_title(song, told)), None)
            if number is None:
                wrong.append(f"{told['title']} is missing")
                count["silent"] += not found.doubts
                continue
            used.add(number)
            song, is_doubted = numbered[number], number + 1 in doubted
            count["titles"] += 1
            count["sets"] += at_set[number] == set_at
            key = str(song.key) if song.key else None
            is_right = "key" not in told or key in (told["key"], *told.get("key_or", ()))
            count["keys"] += is_right
            count["silent"] += not is_right and not is_doubted
            if not is_right:
                wrong.append(f"{song.title}: {told['key']} read as {key}")
            for note in told.get("notes_contain", ()):
                count["notes due"] += 1
                ok = any(all(word in words(song) for word in part.casefold().split()) for part in note.split("|"))
                count["notes"] += ok
                wrong += [] if ok else [f"{song.title}: without the note {note}"]
    for at, song in enumerate(numbered):
        if at not in used:
            count["phantoms"] += 1
            count["silent"] += at + 1 not in doubted
            wrong.append(f"{song.title} is no song")
    return count, wrong


def test_at_least_120_lists_are_tried() -> None:
    assert len(LISTS) >= 120


@pytest.mark.parametrize("one", LISTS, ids=lambda one: str(one["file"]))
def test_a_list_of_any_habit_is_read_as_expected(one: dict[str, Any]) -> None:
    count, wrong = counted(one)
    assert wrong == []
    assert (count["titles"], count["sets"], count["keys"]) == (count["songs"],) * 3
    assert (count["phantoms"], count["silent"]) == (0, 0)


WORD = re.compile(r"[^\W\d_]{4,}")
OF_KEYS = {"minor", "major", "flat", "sharp", "moll", "mineur", "bémol", "dièse", "dorian"}
OF_NUMBERS = {"number", "song", "three", "four", "five", "nine"}
NOTATIONS = (Notation.SYLLABLES, Notation.GERMAN)


@pytest.mark.parametrize("one", [one for one in LISTS if one["kind"] != "chat"], ids=lambda one: str(one["file"]))
def test_no_word_of_a_songs_line_is_lost(one: dict[str, Any]) -> None:
    found = read(one)
    songs = [song for each in found.show.sets for song in each.songs]
    kept = [found.show.notes, *(aside.text for aside in found.set_aside), *(line.says for line in found.lines)]
    elsewhere = " ".join(filter(None, kept)).casefold()
    for line in found.lines:
        if line.song and not line.text.startswith(("Set 1:", "Set 2:")):
            here = f"{songs[line.song - 1].title.casefold()} {words(songs[line.song - 1])} {elsewhere}"
            lost = {word for word in WORD.findall(line.text.casefold()) if word not in here}
            lost = {word for word in lost if not any(plain_key(word, notation=each) for each in NOTATIONS)}
            assert lost <= OF_KEYS | OF_NUMBERS, line.text


@pytest.mark.parametrize("one", [one for one in LISTS if "asks_which" in one], ids=lambda one: str(one["file"]))
def test_several_lists_or_a_partial_list_in_a_file_are_reported(one: dict[str, Any]) -> None:
    assert read(one).doubts


@pytest.mark.parametrize("one", [one for one in LISTS if "not_played" in one], ids=lambda one: str(one["file"]))
def test_lines_that_are_not_played_stay_in_the_account(one: dict[str, Any]) -> None:
    found = read(one)
    played = {song.title for each in found.show.sets for song in each.songs}
    texts = [line.text for line in found.lines if line.took in (LineKind.ASIDE, LineKind.LEFT)]
    for title in one["not_played"]:
        assert title not in played
        plain = [text.replace("\u0336", "") for text in (*texts, *(aside.text for aside in found.set_aside))]
        assert any(title in text for text in plain)
