"""The sound check: each sound heard once, each pedal pressed once, one page at the end. Pure but for its file."""
