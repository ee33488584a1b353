"""The quiz: what can be asked about a song, when a question comes up again, and whether an answer is right."""
