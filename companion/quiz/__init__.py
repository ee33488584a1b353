"""The quiz: what can be asked about a song, when a question is due, and whether an answer is right."""
