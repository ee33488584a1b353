"""Revising: a newer list against a show with work in it, which is kept."""
