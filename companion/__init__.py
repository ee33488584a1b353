"""A keyboard player's companion, from the phone call to the debrief."""

__version__ = "0.1.0"
