"""The guide: one Markdown page a topic, read in the terminal with ``companion guide``."""

from importlib import resources
from typing import Final

TOPICS: Final = ("show", "chords", "rig", "prepare", "paper", "soundcheck", "stage", "debrief", "commands", "trouble")
"""The topics, ordered as a gig goes; each is the name of a page beside this file."""


def page(topic: str) -> str:
    """Return a topic's page as Markdown. Raises FileNotFoundError if there is no such topic."""
    return resources.files(__name__).joinpath(f"{topic}.md").read_text(encoding="utf-8")


def topic_about(command: str) -> str | None:
    """Return the topic that says most about a command; None if no page but the list of commands names it."""
    counts = {topic: page(topic).count(f"companion {command}") for topic in TOPICS if topic != "commands"}
    most = max(counts, key=lambda topic: counts[topic])
    return most if counts[most] else None


def title(topic: str) -> str:
    """Return the heading of a topic's page."""
    return page(topic).partition("\n")[0].removeprefix("# ")
