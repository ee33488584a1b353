"""The days before the gig: questions, priorities, the plan, listening, quiz, playlist and records."""

from companion.prep.features import Feature, features_of
from companion.prep.plan import Plan, plan
from companion.prep.priority import Group, Ranked, rank
from companion.prep.questions import Message, ask

__all__ = ["Feature", "Group", "Message", "Plan", "Ranked", "ask", "features_of", "plan", "rank"]
