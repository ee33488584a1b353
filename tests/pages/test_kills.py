"""The server is killed at random moments while edits come in: what the page reported as kept is kept."""

import http.client
import json
import random
import sys
import threading
import time
from contextlib import closing
from pathlib import Path

import pytest
from pages.serving import Serving

from companion.pages.gate import TOKEN_HEADER
from companion.pages.visitor import KeptDoor
from companion.show import read_show

SONGS = 20


def edit(door: KeptDoor, title: str, value: str, was: str) -> bool:
    """Type a tempo; return whether the page reported it as kept."""
    host = f"127.0.0.1:{door.port}"
    headers = {
        "Host": host,
        "Origin": f"http://{host}",
        "Content-Type": "application/json",
        "Cookie": f"companion-{door.port}={door.cookie}",
        TOKEN_HEADER: door.token,
    }
    body = json.dumps({"title": title, "field": "tempo", "value": value, "was": was})
    try:
        with closing(http.client.HTTPConnection("127.0.0.1", door.port, timeout=20)) as line:
            line.request("POST", "/edit", body, headers)
            answer = line.getresponse()
            answer.read()
            return answer.status == 200
    except (OSError, http.client.HTTPException):
        return False


def one_life(tmp_path: Path, show: Path, chance: random.Random, known: dict[str, str]) -> int:
    """Start the server, type until it is killed, and compare the file with what the page reported.

    The kill comes a random moment after a random number of edits was kept, so that a slow machine has some to lose too.
    """
    serving = Serving(tmp_path, str(show))
    door = serving.door(show)
    assert door is not None
    assert serving.new_address(show)  # it has loaded, and answers
    killer = threading.Timer(chance.uniform(0, 0.1), serving.kill)  # within a later edit, or between two
    told, told_in_peace = 0, chance.randrange(1, 10)
    flying = ""
    while serving.is_running:
        title, value = f"Song {chance.randrange(SONGS)}", str(chance.randrange(60, 200))
        flying = title
        if not edit(door, title, value, known[title]):
            break
        known[title], told, flying = value, told + 1, ""
        if told == told_in_peace:
            killer.start()
    if killer.ident is not None:
        killer.join()
    serving.kill()
    for one in read_show(show).show.sets[0].songs:
        on_disk = f"{one.tempo_bpm:g}" if one.tempo_bpm else ""
        if one.title == flying:
            known[one.title] = on_disk  # the letter in flight: either is right
        assert on_disk == known[one.title], one.title
    return told


def lives(tmp_path: Path, many: int, seed: int = 4711) -> None:
    show = tmp_path / "mill.yaml"
    songs = "".join(f"  - title: Song {number}   # number {number}\n" for number in range(SONGS))
    show.write_text(f"show: Mill\nsongs:\n{songs}", encoding="utf-8")
    known = {f"Song {number}": "" for number in range(SONGS)}
    chance = random.Random(seed)  # noqa: S311  no secret
    begun = time.monotonic()
    told = sum(one_life(tmp_path, show, chance, known) for _ in range(many))
    assert told >= many  # something was kept in each life, however slow the machine
    assert [line for line in show.read_text(encoding="utf-8").splitlines() if "# number" in line]
    sys.stdout.write(f"{many} kills, {told} edits kept, {time.monotonic() - begun:.0f} s\n")


@pytest.mark.long
def test_three_kills_lose_nothing_reported_as_kept(tmp_path: Path) -> None:
    lives(tmp_path, 3)


@pytest.mark.long
@pytest.mark.parametrize("part", range(4))
def test_two_hundred_kills_lose_nothing_reported_as_kept(tmp_path: Path, part: int) -> None:
    lives(tmp_path, 50, part)
