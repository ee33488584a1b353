"""The band leader: what to ask in one short message, and what the reply says."""
