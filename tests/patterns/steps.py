"""How many steps a backtracking matcher takes: counted, not timed, so that growth is the same on every machine.

It walks the tree that Python's own parser makes of a pattern, as its engine does, without that engine's shortcuts.
"""

import re
from collections.abc import Callable, Iterator
from importlib import import_module
from typing import Any

Tree = Any
sre: Any = import_module("re._constants")  # the tree has no public face
parser: Any = import_module("re._parser")

On = Callable[[int], bool]
MANY = 12  # a repeat that may go on so often is looked at
LONGEST_PUMP = 16


class TooManyError(Exception):
    """The count went over its bound."""


class Counter:
    """Matches one pattern against texts and counts; at most ``bound`` steps a text."""

    def __init__(self, pattern: re.Pattern[str], bound: int) -> None:
        self.tree = parser.parse(pattern.pattern, pattern.flags & ~re.DEBUG)
        self.flags = pattern.flags
        self.bound = bound
        self.text, self.steps = "", 0
        self.groups: dict[int, tuple[int, int]] = {}

    def count(self, text: str, *, search: bool) -> int:
        """Return the steps until the pattern is found in the text, or known not to be in it."""
        self.text, self.steps = text, 0
        for start in range(len(text) + 1 if search else 1):
            if self.sequence(list(self.tree), start, lambda _at: True):
                break
        return self.steps

    def sequence(self, nodes: Tree, at: int, on: On) -> bool:
        if not nodes:
            return on(at)
        return self.one(nodes[0], at, lambda after: self.sequence(nodes[1:], after, on))

    def one(self, node: Tree, at: int, on: On) -> bool:  # a row for each kind of node
        self.steps += 1
        if self.steps > self.bound:
            raise TooManyError
        kind, of = node
        if kind is sre.BRANCH:
            return any(self.sequence(list(branch), at, on) for branch in of[1])
        if kind is sre.SUBPATTERN:
            group, inner = of[0], list(of[3])

            def closed(after: int) -> bool:
                before = self.groups.get(group)
                self.groups[group] = (at, after)
                if on(after):
                    return True
                if before is not None:
                    self.groups[group] = before
                return False

            return self.sequence(inner, at, closed)
        if kind in (sre.MAX_REPEAT, sre.MIN_REPEAT):
            return self.repeated(of[0], of[1], list(of[2]), at, on, lazy=kind is sre.MIN_REPEAT)
        if kind in (sre.POSSESSIVE_REPEAT, sre.ATOMIC_GROUP):
            ends: list[int] = []

            def ended(end: int) -> bool:
                ends.append(end)
                return True

            whole = [(sre.MAX_REPEAT, of)] if kind is sre.POSSESSIVE_REPEAT else list(of)
            return self.sequence(whole, at, ended) and on(ends[0])
        if kind in (sre.ASSERT, sre.ASSERT_NOT):
            return self.looked(of, at) is (kind is sre.ASSERT) and on(at)
        if kind is sre.AT:
            return self.is_at(of, at) and on(at)
        if kind is sre.GROUPREF:
            begin, end = self.groups.get(of, (0, 0))
            again = self.text[begin:end]
            return self.text.startswith(again, at) and on(at + len(again))
        return at < len(self.text) and self.fits(node, self.text[at]) and on(at + 1)

    def repeated(self, least: int, most: int, body: Tree, at: int, on: On, *, lazy: bool) -> bool:
        def again(after: int, times: int) -> bool:
            def more() -> bool:
                return times < most and self.sequence(
                    body, after, lambda end: (end > after or times < least) and again(end, times + 1)
                )

            if times < least:
                return more()
            return on(after) or more() if lazy else more() or on(after)

        return again(at, 0)

    def looked(self, of: Tree, at: int) -> bool:
        direction, inner = of
        if direction > 0:
            return self.sequence(list(inner), at, lambda _end: True)
        wide = inner.getwidth()[1]
        return at >= wide and self.sequence(list(inner), at - wide, lambda end: end == at)

    def is_at(self, where: Tree, at: int) -> bool:
        match where:
            case sre.AT_BEGINNING | sre.AT_BEGINNING_STRING:
                lines = bool(self.flags & re.MULTILINE) and where is sre.AT_BEGINNING
                return at == 0 or (lines and self.text[at - 1] == "\n")
            case sre.AT_END | sre.AT_END_STRING:
                return at == len(self.text)
            case _:
                is_word = [0 <= one < len(self.text) and bool(re.match(r"\w", self.text[one])) for one in (at - 1, at)]
                return (is_word[0] != is_word[1]) is (where is sre.AT_BOUNDARY)

    def same(self, one: str, other: str) -> bool:
        return one == other or (bool(self.flags & re.IGNORECASE) and one.casefold() == other.casefold())

    def fits(self, node: Tree, letter: str) -> bool:
        kind, of = node
        match kind:
            case sre.ANY:
                return letter != "\n" or bool(self.flags & re.DOTALL)
            case sre.LITERAL:
                return self.same(chr(of), letter)
            case sre.NOT_LITERAL:
                return not self.same(chr(of), letter)
            case sre.RANGE:
                return any(
                    of[0] <= ord(one) <= of[1] for one in {letter, letter.lower(), letter.upper()} if len(one) == 1
                )
            case sre.CATEGORY:
                name = str(of).removeprefix("CATEGORY_").removeprefix("UNI_")
                sign = {"DIGIT": r"\d", "SPACE": r"\s", "WORD": r"\w"}[name.removeprefix("NOT_")]
                return bool(re.match(sign, letter)) is not name.startswith("NOT_")
            case sre.IN:
                negated = of[0][0] is sre.NEGATE
                return any(self.fits(one, letter) for one in of[1 if negated else 0 :]) is not negated
        raise AssertionError(kind)


LETTERS = " a1-,.:;()[]|*_#>/?!\t'\"=+&<^x\nA☆→éñ\u2014"


def sample(tree: Tree, counter: Counter, pick: int = 0) -> str:
    """Return a text that a tree fits, as a rule: the branch and the letter are chosen by ``pick``."""
    out = ""
    for node in tree:
        kind, of = node
        if kind is sre.BRANCH:
            out += sample(of[1][pick % len(of[1])], counter, pick // 2)
        elif kind is sre.SUBPATTERN:
            out += sample(of[3], counter, pick)
        elif kind in (sre.MAX_REPEAT, sre.MIN_REPEAT, sre.POSSESSIVE_REPEAT):
            out += sample(of[2], counter, pick) * max(of[0], min(of[1], 1))
        elif kind in (sre.LITERAL, sre.NOT_LITERAL, sre.ANY, sre.IN):
            fitting = [
                letter for letter in [*LETTERS, *(chr(of) if kind is sre.LITERAL else "")] if counter.fits(node, letter)
            ]
            out += fitting[pick % len(fitting)] if fitting else ""
    return out


def repeats(tree: Tree) -> Iterator[Tree]:
    """Yield the body of every repeat that may go on."""
    for kind, of in tree:
        if kind in (sre.MAX_REPEAT, sre.MIN_REPEAT, sre.POSSESSIVE_REPEAT):
            if of[1] > MANY:
                yield of[2]
            yield from repeats(of[2])
        elif kind is sre.BRANCH:
            for branch in of[1]:
                yield from repeats(branch)
        elif kind is sre.SUBPATTERN:
            yield from repeats(of[3])
        elif kind in (sre.ASSERT, sre.ASSERT_NOT):
            yield from repeats(of[1])


def prefixes(tree: Tree, counter: Counter) -> Iterator[str]:
    """Yield what a pattern, or each of its branches, begins with: one node of it, two, three ..."""
    if len(tree) == 1 and tree[0][0] is sre.BRANCH:
        for branch in tree[0][1][1]:
            yield from prefixes(list(branch), counter)
        return
    for end in range(1, 8):
        for pick in (0, 1):
            yield sample(tree[:end], counter, pick)


def texts(counter: Counter, times: int, *, thorough: bool) -> Iterator[str]:
    """Yield texts on which a pattern may have to try much: what it repeats or begins with, many times, and then no."""
    tree = list(counter.tree)
    pumps = {sample(body, counter, pick) for body in repeats(tree) for pick in range(3)}
    heads = {""}
    if thorough and pumps:
        heads |= {sample(tree, counter, pick) for pick in range(2)}
        pumps |= {start + space for start in prefixes(tree, counter) for space in ("", " ")}
    for pump in sorted(one for one in pumps if 0 < len(one) <= LONGEST_PUMP):
        for head in sorted(heads):
            for tail in ("", "\0"):
                yield head + pump * (times * 2 // (1 + min(len(pump), 5))) + tail
