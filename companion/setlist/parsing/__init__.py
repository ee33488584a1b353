"""Parsing: rows to lines of a known kind, lines to songs and sets. It reads no file."""
