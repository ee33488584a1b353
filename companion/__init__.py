"""A keyboard player's companion, from the phone call to the debrief."""

import companion.lean_paths  # noqa: F401 - before anything that imports pathlib

__version__ = "0.1.0"
