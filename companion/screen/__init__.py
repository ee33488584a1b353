"""The window's process: layout and legibility (pure), and the painter. Start it with ``python -m companion.screen``."""
