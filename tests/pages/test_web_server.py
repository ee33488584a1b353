"""The server as a process: where it listens, what it keeps for the next start, and a second copy."""

import http.client
import json
import os
import socket
import stat
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import msgspec
import psutil
import pytest
from pages.serving import Serving
from pages.visiting import SHOW

from companion.pages.gate import TOKEN_HEADER
from companion.pages.visitor import KeptDoor, kept_path

Start = Callable[..., Serving]


@pytest.fixture
def show(tmp_path: Path) -> Path:
    path = tmp_path / "mill.yaml"
    path.write_text(SHOW, encoding="utf-8")
    return path


@pytest.fixture
def start(tmp_path: Path) -> Iterator[Start]:
    started: list[Serving] = []

    def begin(*words: str) -> Serving:
        started.append(Serving(tmp_path, *words))
        return started[-1]

    yield begin
    for one in started:
        one.end()


@pytest.fixture(scope="module")
def running(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Serving, Path]]:
    """A server that nobody ends, and its show."""
    home = tmp_path_factory.mktemp("running")
    show = home / "mill.yaml"
    show.write_text(SHOW, encoding="utf-8")
    one = Serving(home, str(show))
    yield one, show
    one.end()


def ask(door: KeptDoor, path: str) -> tuple[int, str]:
    cookie = f"companion-{door.port}={door.cookie}"
    headers = {"Host": f"127.0.0.1:{door.port}", "Cookie": cookie, TOKEN_HEADER: door.token}
    with closing(http.client.HTTPConnection("127.0.0.1", door.port, timeout=10)) as line:
        line.request("GET", path, headers=headers)
        answer = line.getresponse()
        return answer.status, answer.read().decode()


def tell(door: KeptDoor, path: str, wanted: dict[str, str]) -> int:
    headers = {
        "Host": f"127.0.0.1:{door.port}",
        "Origin": f"http://127.0.0.1:{door.port}",
        "Cookie": f"companion-{door.port}={door.cookie}",
        "Content-Type": "application/json",
        TOKEN_HEADER: door.token,
    }
    with closing(http.client.HTTPConnection("127.0.0.1", door.port, timeout=10)) as line:
        line.request("POST", path, json.dumps(wanted), headers)
        return line.getresponse().status


def test_an_open_tab_survives_a_killed_server_an_ended_one_and_a_start_without_the_show_s_name(
    start: Start, show: Path
) -> None:
    first = start(str(show))
    door = first.door(show)
    assert door is not None
    assert ask(door, "/view")[0] == 200
    first.kill()
    second = start(str(show))
    assert second.port == first.port
    assert "Tram Home" in ask(door, "/view")[1]
    assert second.end() == 0
    third = start()
    assert third.port == first.port
    assert "Tram Home" in ask(door, "/view")[1]


@pytest.mark.skipif(os.name != "posix", reason="other systems have no modes")
def test_the_stored_secrets_are_private(running: tuple[Serving, Path]) -> None:
    serving, show = running
    kept = kept_path(serving.home / "data" / "companion", show)
    assert stat.S_IMODE(kept.stat().st_mode) == 0o600
    assert stat.S_IMODE(kept.parent.stat().st_mode) == 0o700


def test_if_the_last_port_is_in_use_another_is_used_with_new_secrets(start: Start, show: Path) -> None:
    first = start(str(show))
    door = first.door(show)
    first.kill()
    with socket.socket() as thief:
        thief.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        thief.bind(("127.0.0.1", first.port))
        thief.listen()
        second = start(str(show))
        assert second.port != first.port
        now = second.door(show)
        assert door is not None
        assert now is not None
        assert (now.cookie, now.token) != (door.cookie, door.token)
        assert ask(now, "/view")[0] == 200
        assert ask(KeptDoor(now.port, door.cookie, door.token), "/view")[0] == 403


@pytest.mark.skipif(not hasattr(psutil.Process, "num_ctx_switches"), reason="this system does not count them")
def test_it_sleeps_while_nobody_asks_and_still_hears_ctrl_c(start: Start, show: Path) -> None:
    serving = start(str(show))
    door = serving.door(show)
    assert door is not None
    assert ask(door, "/view")[0] == 200
    server = psutil.Process(serving.process)
    time.sleep(0.5)  # what the answer left to do is done
    before = server.num_ctx_switches().voluntary
    time.sleep(1.5)
    assert server.num_ctx_switches().voluntary - before < 5  # how often it woke; looking ten times a second is 15
    assert serving.end() == 0


def test_ctrl_c_ends_it_in_good_order_while_it_is_still_loading(start: Start, show: Path) -> None:
    serving = start(str(show))
    assert serving.end() == 0
    assert "Stopped." in serving.told


def test_ctrl_c_ends_quietly_while_a_tab_waits_for_changes(start: Start, show: Path) -> None:
    serving = start(str(show))
    door = serving.door(show)
    assert door is not None
    headers = {"Cookie": f"companion-{door.port}={door.cookie}", TOKEN_HEADER: door.token}
    with closing(http.client.HTTPConnection("127.0.0.1", door.port, timeout=10)) as line:
        line.request("GET", "/changes", headers=headers)
        answer = line.getresponse()
        assert answer.readline().startswith(b"event:")
        before = serving.told
        assert serving.end() == 0
    assert serving.told.removeprefix(before).splitlines()[-1] == "Stopped."
    assert "task" not in serving.told
    assert "Traceback" not in serving.told


def test_the_server_listens_only_on_this_computer(running: tuple[Serving, Path]) -> None:
    serving, _show = running
    others = {found[4][0] for found in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)} - {"127.0.0.1"}
    others |= {"127.0.0.2"}  # the whole of 127.0.0.0/8 leads here, and only one address listens
    for other in others:
        with pytest.raises(OSError), socket.create_connection((str(other), serving.port), timeout=2):  # noqa: PT011  any refusal
            pass


def test_a_second_copy_gives_the_first_ones_address(running: tuple[Serving, Path]) -> None:
    first, show = running
    second = Serving(first.home, str(show))
    assert second.end() == 1
    assert f"running already, at http://127.0.0.1:{first.port}/" in second.told
    path = second.told.partition(f"127.0.0.1:{first.port}")[2].partition("open it with ")[2]
    key = path.partition("?key=")[2].partition(" ")[0]
    assert ask(KeptDoor(first.port), f"/?key={key}")[0] == 200


@pytest.mark.long
def test_a_show_opened_later_in_another_copy_is_refused_too(start: Start, show: Path) -> None:
    start(str(show)).end()  # known from now on
    first = start()
    second = start(str(show))
    assert second.end() == 1
    assert f"running already, at http://127.0.0.1:{first.port}/" in second.told


@pytest.mark.long
def test_plain_companion_and_a_named_start_are_one_place(start: Start, show: Path) -> None:
    """A tab that one of them opened goes on when the other one runs."""
    first = start()
    nowhere = first.door(None)
    assert nowhere is not None
    first.end()
    named = start(str(show))  # its own: nothing was known of it
    door = named.door(show)
    assert door is not None
    named.end()
    plain = start()
    assert (plain.port, plain.door(show)) == (door.port, msgspec.structs.replace(door, process=plain.process))
    assert "Tram Home" in ask(door, "/view")[1]
    plain.end()
    start(str(show))
    assert "Tram Home" in ask(door, "/view")[1]


@pytest.mark.long
def test_a_show_that_a_page_goes_to_is_found_at_that_page_s_address(start: Start, show: Path, tmp_path: Path) -> None:
    """Begun on the page of a plain start, named the next time; and while it is open, a second copy leads there."""
    first = start()
    door = first.door(None)
    assert door is not None
    assert tell(door, "/begin", {"title": "Kiln night"}) == 200
    (begun,) = tmp_path.rglob("kiln-night.yaml")
    second = start(str(begun))
    assert second.end() == 1
    assert f"running already, at http://127.0.0.1:{first.port}/" in second.told
    assert "open it with" in second.told
    first.end()
    third = start(str(begun))
    assert third.port == first.port
    assert "Kiln night" in ask(door, "/view")[1]
    third.end()
    other = start(str(show))
    assert other.port != first.port
    assert ask(KeptDoor(other.port, door.cookie, door.token), "/view")[0] == 403


@pytest.mark.long
def test_if_the_last_show_is_open_elsewhere_the_others_are_offered(start: Start, show: Path) -> None:
    start(str(show))
    second = start()
    door = second.door(None)
    assert door is not None
    status, page = ask(door, "/view")
    assert status == 200
    assert "Continue with" in page
    assert "Night at the Mill" in page


@pytest.mark.long
def test_the_log_holds_no_secret(start: Start, show: Path) -> None:
    serving = start(str(show))
    door = serving.door(show)
    assert door is not None
    for path in ("/view", "/view?column=x", "/no", "/%ff"):
        ask(door, path)
    assert serving.end() == 0
    later = serving.told.replace(serving.address, "")
    assert door.token not in later
    assert door.cookie not in later
    assert later.count("key=") == 0
