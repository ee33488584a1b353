"""The days before the gig: what to ask, what to learn first, the plan, listening, quiz, playlist and records."""
