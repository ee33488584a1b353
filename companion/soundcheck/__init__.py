"""Before the doors: ports listed, pedals set up by pressing them, sounds captured, and the sound check itself."""

from companion.soundcheck.looking import ports_now
from companion.soundcheck.opening import capture_sounds, set_up_pedals, sound_check
from companion.soundcheck.report import Report

__all__ = ["Report", "capture_sounds", "ports_now", "set_up_pedals", "sound_check"]
