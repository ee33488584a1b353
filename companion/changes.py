"""When a change of sound reaches a keyboard: the words that the show file and the rig file share."""

import enum


class Change(enum.Enum):
    """When a change of sound reaches the keyboard."""

    AT_ONCE = "at once"
    WHEN_HANDS_LIFT = "when hands lift"
