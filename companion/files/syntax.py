"""YAML syntax errors in a player's words, with what to write.

libyaml and the slow parser word the same error differently, so the typed text decides; their words are used only if it
does not.
"""

import re
from typing import Any

import yaml

from companion.errors import Fault
from companion.files.nearest import shown
from companion.files.nodes import SourceFile

VALUE = re.compile(r"(?P<before>\s*(?:- +)*)(?:(?P<key>[^\s\"'#:{\[-][^:#]*?) *: +|(?P<dash>(?<=- )))(?P<value>\S.*)$")
CONTROL = re.compile(
    "[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]"
)  # YAML 1.1, 5.1
HASH = re.compile(r"\s#")
NO_START = "@`%|>&*!?}],"  # YAML 1.1, 5.3: indicators; a value that begins with one is taken for something else
LONGEST = 2000  # characters of a line to examine, so that backtracking patterns stay fast
QUOTED_AT_MOST = 200
SPEAKS_OF_INDENT = ("not allowed", "expected key", "block end", "expected '-'", "document start")


def yaml_fault(error: yaml.YAMLError, source: SourceFile) -> Fault:
    """Turn a YAML error into a fault with a place."""
    mark: Any = getattr(error, "problem_mark", None)
    context: Any = getattr(error, "context_mark", None)
    problem = str(getattr(error, "problem", None) or error)
    within = str(getattr(error, "context", None) or "")
    if mark is None:
        return _control_character(source, problem)
    if "quoted scalar" in within:
        return _quotes(source, problem, context.line + 1, context.column + 1)
    line, column = mark.line + 1, mark.column + 1
    if "nesting" in problem:  # libyaml reads ahead, and may report it before our own limit does
        return Fault(source.path, line, column, "nested too deep", "fewer brackets or indents")
    raw = source.line(line)[:LONGEST]
    indent = raw[: len(raw) - len(raw.lstrip())]
    if "\t" in indent:
        return Fault(source.path, line, indent.index("\t") + 1, "a tab in front of a line", "spaces in its place")
    if within.startswith("while parsing a flow") and context.line != mark.line:
        return _braces(source, context.line + 1, context.column + 1, line)
    fault = _value(source, line, column, raw)
    if fault:
        return fault
    if "simple key" in within:
        line = context.line + 1
        text = shown(source.line(line).strip())
        return Fault(source.path, line, context.column + 1, f"{text} is neither a key with a value nor a list item",
                     "key: value; a text over several lines is indented deeper than its key")  # fmt: skip
    if any(words in problem for words in SPEAKS_OF_INDENT):
        write = "it with the same indent as the lines it belongs to"
        return Fault(source.path, line, column, "this line's indent matches no line above it", write)
    return Fault(source.path, line, column, f"not readable as YAML: {problem}", "quotes around a text with signs in it")


def _value(source: SourceFile, line: int, column: int, raw: str) -> Fault | None:
    """Check whether a value needs quotes: for its first character, a colon, or text after a closing quote."""
    found = VALUE.match(raw)
    if not found:
        return None
    value, at = found["value"].rstrip(), found.start("value") + 1
    if value[0] in "{[":
        return _value_in_braces(source, line, column, raw)
    quoted = value[0] in "\"'"
    bare = value if quoted else HASH.split(value)[0].rstrip()
    if quoted and len(value) > 2 and value[-1] == value[0]:
        bare = value[1:-1]  # quotes inside the same quotes
    write = (f"{found['key']}: " if found["key"] else "") + in_quotes(bare)
    if value[0] in NO_START:
        return Fault(source.path, line, at, f"a value that begins with {value[0]} needs quotes", write)
    if value.startswith("- "):
        return Fault(source.path, line, at, "a list starts on its own line", f"{found['key']}: and the list below it")
    if quoted and column > at:
        if value.count(value[0]) == 1:  # it closes one opened above
            return Fault(source.path, line, at, "this quote is not closed", write)
        return Fault(source.path, line, column, "there is text after the closing quote", write)
    if ": " in bare + " ":
        column = at + (bare + " ").index(": ")
        return Fault(source.path, line, column, "a value with a colon and a space in it needs quotes", write)
    return None


def _value_in_braces(source: SourceFile, line: int, column: int, raw: str) -> Fault:
    """Report the fault between braces on one line."""
    sign = raw[column - 1 : column]
    if sign and sign in NO_START and sign not in "}],":
        return Fault(
            source.path, line, column, f"a value that begins with {sign} needs quotes", "quotes around the value"
        )
    problem = "inside braces each key has one value, with commas between"
    return Fault(source.path, line, column, problem, "quotes around a value that has : , [ ] { or } in it")


def _quotes(source: SourceFile, problem: str, line: int, column: int) -> Fault:
    """Report what is wrong with a quoted text, at its opening quote."""
    raw = source.line(line)[:LONGEST]
    found = VALUE.match(raw)
    if "escape" in problem or "hex" in problem:
        write = "two backslashes for one, or single quotes"
        return Fault(source.path, line, column, "a backslash in double quotes means something else here", write)
    whole = HASH.split(raw[column - 1 :])[0].rstrip()
    key = f"{found['key']}: " if found and found["key"] and found.start("value") == column - 1 else ""
    return Fault(source.path, line, column, "this quote is not closed", key + in_quotes(whole))


def _braces(source: SourceFile, line: int, column: int, seen: int) -> Fault:
    """Report an unclosed brace, and whether a # hides its end."""
    sign = source.line(line)[column - 1 : column]
    closing = "]" if sign == "[" else "}"
    for number in range(line, seen):
        raw = source.line(number)[:LONGEST]
        found = HASH.search(raw, column if number == line else 0)
        if found and closing in raw[found.end() :]:
            problem = f"the # starts a comment, which hides the {closing}"
            return Fault(source.path, number, found.start() + 2, problem, "quotes around the value that has the #")
    return Fault(
        source.path, line, column, f"this {sign} is not closed", f"{closing} at its end, or quotes around a text"
    )


def _control_character(source: SourceFile, problem: str) -> Fault:
    found = CONTROL.search(source.text)
    if not found:
        return Fault(source.path, 0, 0, f"not readable as YAML: {problem}", "a plain text file")
    before = SourceFile(source.path, source.text[: found.start()]).lines
    problem = f"the control character U+{ord(found[0]):04X}"
    return Fault(source.path, len(before), len(before[-1]) + 1, problem, "the text without it")


def in_quotes(text: str) -> str:
    """Quote a text for YAML, in double quotes if that needs no escapes.

    >>> print(in_quotes("'90s tune"), in_quotes('"Hi" they said'))
    "'90s tune" '"Hi" they said'
    """
    if len(text) > QUOTED_AT_MOST:
        return "quotes around all of it"
    return "'" + text.replace("'", "''") + "'" if '"' in text or "\\" in text else f'"{text}"'
