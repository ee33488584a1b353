"""When a change of sound reaches a keyboard: the one word list that show file and rig file share."""

import enum


class Change(enum.Enum):
    """When a change of sound reaches the keyboard."""

    AT_ONCE = "at once"
    WHEN_HANDS_LIFT = "when hands lift"
