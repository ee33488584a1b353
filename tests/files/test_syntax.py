"""What YAML refuses: the place, in a player's words, and a line to write that is then read."""

import pytest
import yaml
from files.written import faults_of, nodes

from companion.files.nodes import plainly

# What was typed; where the fault is; the line to write (its indent and dash stay); what is read then.
MENDED = [
    ("title: Wait: what", "1:12", 'title: "Wait: what"', "Wait: what"),
    ("title: x - y: z # so", "1:13", 'title: "x - y: z"', "x - y: z"),
    ("title: a:", "1:9", 'title: "a:"', "a:"),
    ("title: @home", "1:8", 'title: "@home"', "@home"),
    ("title: `home", "1:8", 'title: "`home"', "`home"),
    ("title: %", "1:8", 'title: "%"', "%"),
    ("title: *Roses and rain", "1:8", 'title: "*Roses and rain"', "*Roses and rain"),
    ("title: | 1 | 4", "1:8", 'title: "| 1 | 4"', "| 1 | 4"),
    ("title: > so", "1:8", 'title: "> so"', "> so"),
    ("title: ? so", "1:8", 'title: "? so"', "? so"),
    ("title: }", "1:8", 'title: "}"', "}"),
    ("title: 'til dawn", "1:8", 'title: "\'til dawn"', "'til dawn"),
    ("title: '90s tune # old", "1:8", 'title: "\'90s tune"', "'90s tune"),
    ('title: "Hi" they said', "1:13", "title: '\"Hi\" they said'", '"Hi" they said'),
    ("title: 'don't'", "1:13", 'title: "don\'t"', "don't"),
    ('title: "What\'s "up""', "1:17", "title: 'What''s \"up\"'", 'What\'s "up"'),
    ('title: "open', "1:8", "title: '\"open'", '"open'),
]
# Where no line is surely meant: the place, and the beginning of the message.
TOLD = [
    ("a:\n\tb: 1", "2:1: a tab in front of a line. Write: spaces"),
    ("a:\n  \tb: 1", "2:3: a tab in front of a line. Write: spaces"),
    ("a: {b: 1, c\nd: 1", "1:4: this { is not closed."),
    ("a: [b, c\nd: 1", "1:4: this [ is not closed."),
    ("a:\n - {b: 1 | #4o, c: 2}\n - {d: 3}", "2:12: the # starts a comment, which hides the }."),
    ("a: {b: @x}", "1:8: a value that begins with @ needs quotes."),
    ("a: {b: x: y}", "1:9: inside braces each key has one value, with commas between."),
    ("a: {b: 1}}", "1:10: inside braces each key has one value, with commas between."),
    ("a: - b", "1:4: a list starts on its own line."),
    ("a: b\nc d\ne: 1", '2:1: "c d" is neither a key with a value nor a list item.'),
    ("a: 1\n  b: 2", "2:4: this line's indent matches no line above it."),
    ("a:\n  - b\n - c", "3:2: this line's indent matches no line above it."),
    ("- a\nb: 1", "2:1: this line's indent matches no line above it."),
    ("  a: 1\nb: 2", "2:1: this line's indent matches no line above it."),
    ('a: "x\\q"', "1:4: a backslash in double quotes means something else here."),
    ("a: 1\nb: \x07c", "2:4: the control character U+0007."),
    ("a: &", '1:4: a value that begins with & needs quotes. Write: a: "&"'),
]


@pytest.fixture(params=["libyaml", "the slow parser"])
def parser(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    if request.param != "libyaml":
        monkeypatch.delattr(yaml, "CBaseLoader")


@pytest.mark.usefixtures("parser")
@pytest.mark.parametrize(("typed", "place", "write", "read"), MENDED)
def test_the_proposed_line_reads_as_meant(typed: str, place: str, write: str, read: str) -> None:
    (fault,) = faults_of(f"{typed}\nkey: Bb\n")
    assert fault.startswith(f"{place}: "), fault
    assert fault.endswith(f" Write: {write}"), fault
    assert plainly(nodes(f"{write}\nkey: Bb\n")) == {"title": read, "key": "Bb"}


@pytest.mark.parametrize(("typed", "place", "write", "read"), MENDED[:10])
def test_the_proposed_list_item_reads_as_meant(typed: str, place: str, write: str, read: str) -> None:
    line, column = map(int, place.split(":"))
    (fault,) = faults_of(f"songs:\n  - {typed}\n    key: Bb\n")
    assert fault.startswith(f"{line + 1}:{column + 4}: "), fault
    assert fault.endswith(f" Write: {write}"), fault
    assert plainly(nodes(f"songs:\n  - {write}\n    key: Bb\n")) == {"songs": [{"title": read, "key": "Bb"}]}


@pytest.mark.usefixtures("parser")
@pytest.mark.parametrize(("typed", "told"), TOLD)
def test_an_unclear_syntax_error_is_reported_with_place_and_cause(typed: str, told: str) -> None:
    (fault,) = faults_of(typed)
    assert fault.startswith(told), fault


def test_a_quote_closed_by_the_next_one_is_reported_there() -> None:
    (fault,) = faults_of("- title: 'til dawn\n- title: 'til dusk\n")
    assert fault == '2:10: this quote is not closed. Write: title: "\'til dusk"'
