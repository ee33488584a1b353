"""Planning: what to learn first, which day has room for it, and how ready the player is."""

from companion.planning.plan import Plan, plan
from companion.planning.priority import Group, Ranked, rank

__all__ = ["Group", "Plan", "Ranked", "plan", "rank"]
