"""The practice log: what was heard, practised, run and answered, and how far each song is."""
