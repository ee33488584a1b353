"""One night: the loop that connects core, journal, keyboards and screen; every other room meets here."""
