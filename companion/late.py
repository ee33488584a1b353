"""Names that a room has for the others and that are brought in when one asks: a foot that waits needs few of them."""

import sys
from collections.abc import Callable, Sequence
from importlib import import_module


def late(room: str, modules: Sequence[str]) -> Callable[[str], object]:
    """Give a room its ``__getattr__``: what it lists in ``__all__`` and has not is looked for in these modules.

    They are looked into in this order, and none behind the one that has the name. Raises AttributeError as Python does.
    """

    def bring(name: str) -> object:
        here = vars(sys.modules[room])
        if name in here["__all__"]:
            for module in modules:
                found = vars(import_module(f"{room}.{module}"))
                if name in found:
                    here[name] = found[name]  # from now on it is there at once
                    return found[name]
        raise AttributeError(f"module {room!r} has no attribute {name!r}")

    return bring
