"""A neighbour that floods its MIDI output on request: ten thousand messages a second."""

import sys

from real.jack import JackServer
from real.program import Program

PORT = "Flood"
_PROGRAM = """
import sys, time, rtmidi
flood = rtmidi.MidiOut(rtmidi.API_UNIX_JACK, name="{port}")
flood.open_virtual_port("out")
print("ready", flush=True)
sys.stdin.readline()
due = time.perf_counter()
while True:
    for value in range(20):
        flood.send_message({message})
    due += 0.002
    time.sleep(max(0, due - time.perf_counter()))
"""


def flood(jack: JackServer, message: str) -> Program:
    """Start it; a line from ``tell`` lets it begin.

    ``message`` is a Python expression of three bytes, in which ``value`` counts from 0 to 19.
    """
    program = Program((sys.executable, "-c", _PROGRAM.format(port=PORT, message=message)), env=jack.env)
    program.wait_for(lambda line: line == "ready")
    return program
