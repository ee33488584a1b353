"""Choose the computer's MIDI system, through RtMidi.

RtMidi is imported here and nowhere else.
"""

import contextlib
import os
import sys
import warnings
from collections.abc import Sequence
from typing import Any, Final

from companion.ports.outside import NO_SERVER, MidiSystem

ENVIRONMENT: Final = "COMPANION_MIDI_API"
NO_SYSTEM: Final = "none"
ALSA_SEQUENCER: Final = "/dev/snd/seq"


def open_system(preferred: str | None = None) -> MidiSystem | None:
    """Return the MIDI system to use, or None if there is none (a dry run). Never raises.

    ``preferred``, or else the variable COMPANION_MIDI_API, may name one: alsa, core, jack, winmm, or none. A name that
    this computer does not support is ignored. Without a name it is the platform's own system; on Linux ALSA's sequencer
    if it is available, else JACK, whose server may start later.
    """
    chosen = (preferred or os.environ.get(ENVIRONMENT, "")).strip().lower()
    if chosen == NO_SYSTEM:
        return None
    try:
        import rtmidi
    except ImportError:
        return None
    compiled = tuple(rtmidi.get_api_name(api) for api in rtmidi.get_compiled_api())
    word = choose_system(chosen, compiled, alsa_is_there=os.access(ALSA_SEQUENCER, os.R_OK | os.W_OK))
    if word is None:
        return None
    # RtMidi's minor problems arrive as Python warnings; they do not help anybody on stage.
    warnings.filterwarnings("ignore", message=r"Midi(In|Out)", category=UserWarning)
    api = rtmidi.get_compiled_api_by_name(word)
    if word == "jack":
        return _jack(rtmidi, no_permission(ALSA_SEQUENCER) if chosen != "jack" and "alsa" in compiled else "")
    from companion.ports.rt_system import AlsaSystem, NamedSystem

    return AlsaSystem(rtmidi, api) if word == "alsa" else NamedSystem(rtmidi, api, word)


def no_permission(device: str) -> str:
    """Return why ALSA's sequencer is present but unusable, and what helps; "" if it is usable or absent."""
    if not os.path.exists(device) or os.access(device, os.R_OK | os.W_OK):  # noqa: PTH110 - before pathlib is there
        return ""
    import grp

    group = "audio"
    with contextlib.suppress(OSError, KeyError):
        group = grp.getgrgid(os.stat(device).st_gid).gr_name  # noqa: PTH116 - same
    return (
        f"no permission to use this computer's MIDI ({device}, open to the group {group}): "
        f'run "sudo usermod -aG {group} $USER", log out and back in'
    )


def _jack(rtmidi: Any, no_permission: str) -> MidiSystem | None:  # noqa: ANN401 - untyped
    from companion.ports.jack_server import JackServer
    from companion.ports.jack_system import JackSystem

    try:
        server = JackServer(sys.modules[rtmidi.MidiIn.__module__].__file__ or "")
        return JackSystem(rtmidi, server, no_permission or NO_SERVER)
    except (OSError, AttributeError, TypeError):
        return None  # without JACK's own report of the server's health, a dead server would hang the show


def choose_system(chosen: str, compiled: Sequence[str], *, alsa_is_there: bool) -> str | None:
    """Choose among the systems that RtMidi was built with.

    >>> choose_system("", ("alsa", "jack"), alsa_is_there=False)
    'jack'
    """
    if chosen in compiled:
        return chosen
    usable = [word for word in compiled if word != "dummy" and (word != "alsa" or alsa_is_there)]
    return next((word for word in ("core", "winmm", "alsa", "jack") if word in usable), None)
