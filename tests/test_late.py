"""What a start puts off: it is not loaded until it is used, and then works as if it had been."""

import json
import subprocess
import sys

import pytest

START = "import companion.cli, companion.night.ahead, companion.lean, companion.night.starting\n"
PUT_OFF = {
    *("ipaddress", "locale", "platform", "textwrap", "typing_extensions", "urllib.parse", "uuid"),
    *("msgspec.inspect", "msgspec.toml", "msgspec.yaml", "msgspec._json_schema"),
}


def run(code: str) -> str:
    done = subprocess.run((sys.executable, "-c", code), capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_a_start_loads_nothing_of_what_it_puts_off() -> None:
    loaded = set(json.loads(run(f"{START}import json, sys; print(json.dumps(list(sys.modules)))")))
    assert "msgspec" in loaded
    assert loaded & PUT_OFF == set()


@pytest.mark.parametrize(
    ("use", "result"),
    [
        ("import pathlib; print(pathlib.Path('/a b').as_uri())", "file:///a%20b"),
        ("import urllib.parse; print(urllib.parse.urlsplit('http://[::1]/').hostname)", "::1"),
        ("import subprocess, sys; print(subprocess.check_output(['echo', 'ö'], text=True), end='')", "ö"),
        ("import locale; print(locale.getlocale.__module__)", "locale"),
        ("import uuid; print(uuid.UUID(int=1).int)", "1"),
        ("import msgspec; print(msgspec.json.schema(int))", "{'type': 'integer'}"),
        ("import msgspec; print(msgspec.inspect.type_info(bool) == msgspec.inspect.BoolType())", "True"),
        ("import msgspec; print(msgspec.inspect.is_struct(1))", "False"),
        ("import msgspec; print(msgspec.yaml.decode('a: 1'))", "{'a': 1}"),
        ("import msgspec.toml; print(msgspec.toml.decode('a = 1'))", "{'a': 1}"),
    ],
)
def test_what_is_put_off_works_when_it_is_used(use: str, result: str) -> None:
    assert run(START + use) == f"{result}\n"


def test_what_is_loaded_already_stays() -> None:
    first = "import urllib.parse, uuid, locale, msgspec, msgspec.inspect\nbefore = msgspec.inspect, uuid, locale\n"
    after = "import sys\nprint([sys.modules[one.__name__] is one for one in before])"
    assert run(first + START + after) == "[True, True, True]\n"
