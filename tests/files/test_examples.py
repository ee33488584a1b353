"""The examples in the documentation of these rooms are true."""

import doctest
import importlib
import pkgutil

import pytest

import companion.files
import companion.show

MODULES = [
    found.name
    for package in (companion.files, companion.show)
    for found in pkgutil.iter_modules(package.__path__, f"{package.__name__}.")
    if not found.ispkg
]


@pytest.mark.parametrize("module", MODULES)
def test_the_examples_of_a_module_run_as_written(module: str) -> None:
    outcome = doctest.testmod(importlib.import_module(module))
    assert outcome.failed == 0
