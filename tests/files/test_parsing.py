"""From text to nodes: what YAML forgives and we do not, and what a hostile file may ask for."""

import json
import subprocess
import sys
import textwrap
from pathlib import Path

import pytest
import yaml
from files.written import faults_of, nodes
from hypothesis import example, given
from hypothesis import strategies as st

from companion.errors import FaultyFile
from companion.files import SourceFile, parse
from companion.files.nodes import plainly
from companion.files.parsing import LIMIT_DEPTH

QUOTE = "Write: quotes around a value that begins with !"
LOST = 'YAML reads &{0} at the start of a value as a label and drops it. Write: "&{0} ..." in quotes'
UNSET = 'YAML reads *{0} as a label, and no such label is set. Write: "*{0}" in quotes'
LIST_AS_KEY = "a key is a word, not a list or a table. Write: quotes around a text that begins with [ or {"
NOTHING = " there is nothing in this file. Write: a first line, such as key: value"


@pytest.mark.parametrize(
    ("text", "faults"),
    [
        ("a: 1\nb: 2\na: 3", ['3:1: "a" is here twice, first on line 1. Write: it once']),
        ("a: {b: 1, b: 2}", ['1:11: "b" is here twice, first on line 1. Write: it once']),
        ("a: 1\n---\nb: 2", ["2:1: a second document begins here (---). Write: one file for each"]),
        ("a: !wow", [f'1:4: "!wow" is read as a YAML tag, and tags are not allowed. {QUOTE}']),
        ("a: &Roses", [f"1:4: {LOST.format('Roses')}"]),
        ("a: *Roses", [f"1:4: {UNSET.format('Roses')}"]),
        ("a: &x [*x]", [f"1:4: {LOST.format('x')}", f"1:8: {UNSET.format('x')}"]),
        ("? [a, b]\n: c", [f"1:3: {LIST_AS_KEY}"]),
        ("", [NOTHING]),
        ("# nothing\n\n", [NOTHING]),
        ("---\n...\n", []),  # one empty value
        ("%TAG ! x:\n--- a", ["1:1: a line cannot begin with %. Write: quotes around the value that begins with %"]),
        ("a: b\n%c: d", ["2:1: a line cannot begin with %. Write: quotes around the value that begins with %"]),
        ("%YAML 1.2\n---\na: b", []),
    ],
)
def test_what_yaml_tolerates_is_a_fault(text: str, faults: list[str]) -> None:
    assert sorted(faults_of(text)) == sorted(faults)


@pytest.mark.parametrize("tag", ["!!python/object/apply:os.system", "!!int", "!!str", "!!binary", "!!set"])
def test_tags_are_refused_and_run_nothing(tag: str) -> None:
    (fault,) = faults_of(f"a: {tag} [x]")
    assert "is read as a YAML tag" in fault


def test_all_yaml_faults_of_a_file_are_reported_together() -> None:
    assert len(faults_of("a: 1\na: 2\nb: !x 1\nc: *y\nd: &z 1\n")) == 4


def test_an_alias_repeats_its_anchors_value() -> None:
    assert plainly(nodes("a: &x {b: [1, 2]}\nc: *x\nd: *x")) == {"a": {"b": ["1", "2"]}, "c": {"b": ["1", "2"]},
                                                                 "d": {"b": ["1", "2"]}}  # fmt: skip


def test_nesting_is_read_to_a_limit_and_refused_one_level_deeper() -> None:
    assert faults_of("[" * LIMIT_DEPTH + "]" * LIMIT_DEPTH) == []
    (fault,) = faults_of("[" * (LIMIT_DEPTH + 1) + "]" * (LIMIT_DEPTH + 1))
    assert fault.startswith("1:33: nested deeper than 32 levels")


def test_aliases_cannot_nest_deeper_than_brackets() -> None:
    chain = "a0: &a0 [x]\n" + "".join(f"a{n}: &a{n} [*a{n - 1}]\n" for n in range(1, 60)) + "z: *a59\n"
    (fault,) = faults_of(chain)
    assert fault.startswith("32:12: labels nest this deeper than 32 levels")


LAUGHS = "a: &a [lol, lol, lol, lol, lol, lol, lol, lol, lol]\n" + "".join(
    f"{name}: &{name} [{', '.join([f'*{before}'] * 9)}]\n" for before, name in zip("abcdefgh", "bcdefghi", strict=True)
)
HOSTILE = {  # what a file may try, and part of what is reported
    "a billion laughs": (LAUGHS, ":5:4: more than 200,000 values, counting those that labels repeat"),
    "a nest of 100,000 lists": ("[" * 100_000, "nested too deep"),  # libyaml looks ahead and sees it first
    "a nest of 100,000 tables": ("{a: " * 100_000, ":1:129: nested deeper than 32 levels"),
    "a nest of 100,000 dashes": ("- " * 100_000, ":1:65: nested deeper than 32 levels"),
    "a nest of 100,000 questions": ("? " * 100_000, ":1:65: nested deeper than 32 levels"),
    "a chain of 20,000 labels": (
        "a0: &a0 [x]\n" + "".join(f"a{n}: &a{n} [*a{n - 1}]\n" for n in range(1, 20_000)),
        ":32:12: labels nest this deeper than 32 levels",
    ),
    "60,000 directives": ("".join(f"%TAG !{n}! b\n" for n in range(60_000)), ":2:1: a line cannot begin with %"),
    "half a million values": ("[" + "a," * 500_000 + "a]", ": more than 200,000 values"),
    "a title of a megabyte": ("a: '" + "x" * 1_000_000, ":1:4: this quote is not closed"),
    "90,000 unknown keys": ("".join(f"k{n}: 1\n" for n in range(90_000)), ":1000:1: too many faults"),
    "90,000 equal keys": ("k: 1\n" * 90_000, ":1001:1: too many faults"),
    "90,000 wrong values": (
        "show: x\nsets: [songs: [" + "{bars: 1}, " * 90_000 + "]]",
        ": more than 200,000 values",
    ),
    "half a megabyte of spaces": (f"a{' ' * 500_000}b\n@", ":1:1: a show is written as keys and values"),
    "a megabyte of spaces in quotes": ('a: "' + " " * 1_000_000 + "\\q", ":1:4: a backslash in double quotes"),
    "a megabyte of colons": ("a: b" + ": " * 500_000, ":1:5: a value with a colon and a space"),
}
# One process reads them all: 200 MiB at the most, and a second of the processor's time each on average.
IN_BOUNDS = """
    import json, pathlib, re, resource, sys, time
    from companion.errors import FaultyFile
    from companion.show import read_show

    def peak():  # on Linux getrusage also counts what the parent held when it started us
        status = pathlib.Path("/proc/self/status")
        if status.exists():
            return int(re.search(r"VmHWM:\\s+([0-9]+)", status.read_text())[1]) / 1024
        return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 2**20

    files = sorted(pathlib.Path(sys.argv[1]).iterdir())
    resource.setrlimit(resource.RLIMIT_CPU, (len(files), len(files) + 1))
    for file in files:
        begun = time.process_time()
        try:
            read_show(file)
            told = "nothing"
        except FaultyFile as error:
            told = str(error)[-400:] if "reading stops" in str(error) else str(error)[:400]
        peak_mib = peak()
        print(json.dumps([file.stem, told, peak_mib, time.process_time() - begun]))
"""


@pytest.mark.skipif(sys.platform == "win32", reason="this system has no limits for a process that it starts")
def test_hostile_files_give_a_clear_fault_within_bounds(tmp_path: Path) -> None:
    for name, (text, _) in HOSTILE.items():
        (tmp_path / f"{name}.yaml").write_text(text, encoding="utf-8")
    command = [sys.executable, "-c", textwrap.dedent(IN_BOUNDS), str(tmp_path)]
    done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=60)
    assert done.returncode == 0, done.stderr
    told = {name: (fault, peak_mib) for name, fault, peak_mib, _ in map(json.loads, done.stdout.splitlines())}
    assert set(told) == set(HOSTILE)
    for name, (fault, peak_mib) in told.items():
        assert str(tmp_path / f"{name}.yaml") in fault, (name, fault)
        assert HOSTILE[name][1] in fault, (name, fault)
        assert peak_mib < 200, name


@pytest.mark.parametrize(
    "text", ["a: {b: [1, 'x', \"y\"]}\nc: |\n  d\n", "- a\n- b: 1\n  c: &x 2\n- *x", "a: @b", "[" * 99]
)
def test_without_libyaml_the_slow_parser_reads_the_same(text: str, monkeypatch: pytest.MonkeyPatch) -> None:
    source = SourceFile("a.yaml", text)
    with_c = outcome(source)
    monkeypatch.delattr(yaml, "CBaseLoader")
    assert outcome(source) == with_c


def outcome(source: SourceFile) -> object:
    try:
        return parse(source, [])
    except FaultyFile as error:
        return [(fault.line, fault.column, fault.problem) for fault in error.faults]


@given(st.text(st.sampled_from("ab:-#'\"[]{},&*!|>%@` \n\t\\?1\x00\x85\u2028é"), max_size=60))
@example("? ")
@example("a: ? b")
def test_any_text_is_read_or_reported_as_a_fault(text: str) -> None:
    faults: list[object] = []
    try:
        parse(SourceFile("a.yaml", text), faults)  # type: ignore[arg-type]  # the list is only looked at here
    except FaultyFile as error:
        faults += error.faults
    assert all(str(fault).startswith("a.yaml:") for fault in faults)
