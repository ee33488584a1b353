"""Where YAML itself gives up: its error in a player's words, with what to write."""

from typing import Any

import yaml

from companion.errors import Fault
from companion.files.nodes import Source


def in_a_players_words(error: yaml.YAMLError, source: Source) -> Fault:
    """Turn a YAML error into a fault with a place."""
    mark: Any = getattr(error, "problem_mark", None)
    problem = getattr(error, "problem", None) or str(error)
    line, column = (mark.line + 1, mark.column + 1) if mark else (0, 0)
    return Fault(source.path, line, column, f"not readable as YAML: {problem}", "")
