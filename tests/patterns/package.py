"""Every pattern of the package: those with a name, and those written where they are used."""

import ast
import importlib
import pkgutil
import re
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import companion

SEARCHED = {"search", "sub", "subn", "finditer", "findall", "split"}
MATCHED = {"match", "fullmatch"}


def modules() -> Iterator[ModuleType]:
    for found in pkgutil.walk_packages(companion.__path__, "companion."):
        if not found.name.endswith("__main__"):
            yield importlib.import_module(found.name)


def compiled(value: object) -> Iterator[re.Pattern[str]]:
    """Yield the patterns in a module's value, in tables too."""
    if isinstance(value, re.Pattern):
        if isinstance(value.pattern, str):
            yield value
    elif isinstance(value, dict):
        for one in value.values():
            yield from compiled(one)
    elif isinstance(value, list | tuple):
        for one in value:
            yield from compiled(one)


def patterns() -> dict[str, tuple[re.Pattern[str], bool]]:
    """Return each pattern by its place, and whether it is searched for from every letter."""
    calls: list[tuple[ModuleType, ast.Call]] = []
    for module in modules():
        tree = ast.parse(Path(str(module.__file__)).read_text(encoding="utf-8"))
        calls += [(module, node) for node in ast.walk(tree) if isinstance(node, ast.Call)]
    matched, searched, inline = set[str](), set[str](), dict[str, tuple[re.Pattern[str], bool]]()
    for module, call in calls:
        if not isinstance(call.func, ast.Attribute) or call.func.attr not in SEARCHED | MATCHED:
            continue
        how, on = call.func.attr, call.func.value
        named = call.args[0] if isinstance(on, ast.Name) and on.id == "re" and call.args else on
        if isinstance(named, ast.Subscript):  # a table of patterns
            named = named.value
        if isinstance(named, ast.Name | ast.Attribute):
            (searched if how in SEARCHED else matched).add(named.id if isinstance(named, ast.Name) else named.attr)
        elif isinstance(on, ast.Name) and on.id == "re" and not _is_of_bytes(named):
            text = _text(named, module)
            flags = re.IGNORECASE if "IGNORECASE" in ast.dump(call) else 0
            inline[f"{module.__name__}:{call.lineno}"] = (re.compile(text, flags), how in SEARCHED)
    found = dict(inline)
    for module in modules():
        for name, value in vars(module).items():
            texts = _written(value) if name in searched | matched and name.isupper() else ()
            for at, pattern in enumerate((*compiled(value), *texts)):
                found.setdefault(f"{module.__name__}.{name}[{at}]", (pattern, name in searched or name not in matched))
    unique: dict[tuple[str, int], str] = {}
    for place, (pattern, _) in found.items():
        unique.setdefault((pattern.pattern, pattern.flags), place)
    return {place: found[place] for place in unique.values()}


def _is_of_bytes(named: ast.expr) -> bool:
    return isinstance(named, ast.Constant) and isinstance(named.value, bytes)


def _written(value: object) -> tuple[re.Pattern[str], ...]:
    """Return the patterns that a constant has as texts; none where only its name is that of a pattern elsewhere."""
    listed = value.values() if isinstance(value, dict) else (value,)
    try:
        return tuple(re.compile(one) for one in listed if isinstance(one, str))
    except re.error:
        return ()


def _text(node: ast.expr, module: ModuleType) -> str:
    """Return a pattern that is written where it is used; what is put into it is a word."""
    match node:
        case ast.Constant(value=str(text)):
            return text
        case ast.Constant(value=bytes(text)):
            return text.decode("latin-1")
        case ast.JoinedStr(values=values):
            return "".join(_text(one, module) for one in values)
        case ast.FormattedValue(value=ast.Name(id=name)):
            value = vars(module).get(name, "1")
            return value if isinstance(value, str) else "1"
        case ast.FormattedValue():
            return "1"
    raise AssertionError(ast.dump(node))
