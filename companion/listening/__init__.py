"""Listening: recordings in set order, and road maps tapped along a recording."""
