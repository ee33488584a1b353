"""The syntax of the package and of the tests, for the tests that look at how it is written."""

import ast
from collections.abc import Iterator
from functools import cache


@cache
def tree_of(text: str) -> ast.Module:
    """Return a module's tree; several tests look at each."""
    return ast.parse(text)


def statements(tree: ast.Module) -> Iterator[ast.AST]:
    """Yield every statement however deep it stands, and none of the expressions, which are ten times as many."""
    left: list[ast.AST] = [*tree.body]
    while left:
        yield (node := left.pop())
        for part in ("body", "orelse", "finalbody", "handlers", "cases"):
            left += getattr(node, part, ())
