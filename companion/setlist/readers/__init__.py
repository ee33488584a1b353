"""Readers: a file of one kind to pages of rows. They know nothing of songs."""
