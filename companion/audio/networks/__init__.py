"""Two small published networks, run in numpy."""
