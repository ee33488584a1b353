"""One night: the loop that ties core, journal, keyboards and screen; all of the house meets here."""
