"""A keyboard player's companion, from the call to the debrief."""

__version__ = "0.1.0"
