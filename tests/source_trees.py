"""The syntax of the package and of the tests, for the tests that look at how it is written."""

import ast
import gc
from collections.abc import Iterator
from functools import cache


@cache
def tree_of(text: str) -> ast.Module:
    """Return a module's tree; several tests look at each."""
    gc.disable()  # else it looks through all trees again and again, which takes longer than parsing
    tree = ast.parse(text)
    gc.freeze()  # it stays as long as the process
    gc.enable()
    return tree


def statements(tree: ast.Module) -> Iterator[ast.AST]:
    """Yield every statement however deep it stands, and none of the expressions, which are ten times as many."""
    left: list[ast.AST] = [*tree.body]
    while left:
        yield (node := left.pop())
        for part in ("body", "orelse", "finalbody", "handlers", "cases"):
            left += getattr(node, part, ())
