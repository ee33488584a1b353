"""Loading on first use, because a start on stage needs little: a room's public names, and modules of libraries."""

import contextlib
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from importlib import import_module
from types import MappingProxyType, ModuleType


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


class PutOff(ModuleType):
    """Placeholder for a module: loads it on first use, then passes its attributes on."""

    def __getattr__(self, name: str) -> object:
        if name.startswith("__"):  # the import system asks for these
            raise AttributeError(name)
        if sys.modules.get(self.__name__) is self:
            del sys.modules[self.__name__]
        return getattr(import_module(self.__name__), name)


NO_FUNCTIONS: Mapping[str, Sequence[str]] = MappingProxyType({})


@contextlib.contextmanager
def put_off(*modules: str, functions: Mapping[str, Sequence[str]] = NO_FUNCTIONS) -> Iterator[None]:
    """Keep these modules from loading while another is imported that rarely uses them.

    ``functions`` are what the other takes from a module by name, by module. A module that is loaded already stays.
    """
    stand_ins: dict[str, ModuleType] = {}
    for name in (*modules, *functions):
        if name not in sys.modules:
            stand_ins[name] = PutOff(name)
            for function in functions.get(name, ()):
                setattr(stand_ins[name], function, _passing_on(name, function))
    sys.modules.update(stand_ins)
    try:
        yield
    finally:
        for name, stand_in in stand_ins.items():
            if sys.modules.get(name) is stand_in:
                del sys.modules[name]


def _passing_on(module: str, function: str) -> Callable[..., object]:
    def call(*values: object, **named: object) -> object:
        return getattr(import_module(module), function)(*values, **named)

    return call
