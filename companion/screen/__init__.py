"""The window's process: layout and legibility (pure), and the painter. Start with ``python -m companion.screen``."""
