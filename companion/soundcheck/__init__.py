"""Before the doors: ports listed, pedals set up by pressing them, sounds captured, and the sound check itself."""

from companion.soundcheck.looking import ports_now
from companion.soundcheck.starting_check import capture_sounds, set_up_pedals, sound_check

__all__ = ["capture_sounds", "ports_now", "set_up_pedals", "sound_check"]
