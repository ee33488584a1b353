"""Pedals set up by pressing them. Pure."""
