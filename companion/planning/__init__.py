"""Planning: what to learn first, which day has room for it, and how ready the player is."""

from companion.planning.plan_model import Plan
from companion.planning.priority import rank

__all__ = ["Plan", "rank"]
