"""The debrief: what was played, read from the journal, and what was learned from it."""
