"""Listen to recordings: decode them, and draft key, tempo, form and chords."""
