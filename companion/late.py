"""Lazy exports: a room's public names whose modules load on first use, because a start on stage needs few of them."""

import sys
from collections.abc import Callable, Sequence
from importlib import import_module


def late(room: str, modules: Sequence[str]) -> Callable[[str], object]:
    """Return a room's ``__getattr__``: it looks for a name of ``__all__`` in these modules.

    It imports them in this order and stops at the first that has the name. It raises AttributeError as Python does.
    """

    def bring(name: str) -> object:
        here = vars(sys.modules[room])
        if name in here["__all__"]:
            for module in modules:
                found = vars(import_module(f"{room}.{module}"))
                if name in found:
                    here[name] = found[name]  # later uses skip this function
                    return found[name]
        raise AttributeError(f"module {room!r} has no attribute {name!r}")

    return bring
