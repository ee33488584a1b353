"""A program that watches ports and tells what it sees, so that a crash in a driver ends it and not the tests.

Its arguments are the words of the inputs, then ``--``, then those of the outputs. It prints a line for each arrival,
and reads lines: ``send WORD HEX ...``; ``often WORD NUMBER HEX`` sends one message so many times. It ends with its
input.
"""

import faulthandler
import queue
import sys
import threading

from companion.ports import Arrival, MidiReceived, PortFound, PortLost, PortWatch, open_system


def say(line: str) -> None:
    """Print a line in one piece, whichever thread prints."""
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


def tell(inbox: "queue.SimpleQueue[Arrival]") -> None:
    """Print what arrives."""
    while True:
        match inbox.get():
            case PortFound(port=port, direction=direction, name=name):
                say(f"found {direction.value} {port} = {name}")
            case PortLost(port=port, direction=direction, why=why):
                say(f"lost {direction.value} {port}: {why}")
            case MidiReceived(port=port, message=message, at_ns=at_ns):
                say(f"{at_ns} {port} {message.hex()}")


def main() -> None:
    """Watch until the input ends."""
    faulthandler.enable()
    cut = sys.argv.index("--")
    system = open_system("jack")
    if system is None:
        raise SystemExit("no JACK in RtMidi here")
    inbox: queue.SimpleQueue[Arrival] = queue.SimpleQueue()
    watch = PortWatch(system, inbox, inputs=sys.argv[1:cut], outputs=sys.argv[cut + 1 :])
    threading.Thread(target=tell, args=(inbox,), daemon=True).start()
    watch.start(wait_s=20)
    say("watching")
    for line in sys.stdin:
        match line.split():
            case ["send", word, *messages]:
                sent = watch.outs[word].send(tuple(map(bytes.fromhex, messages)))
            case ["often", word, number, message]:
                sent = [watch.outs[word].send((bytes.fromhex(message),)) for _ in range(int(number))][-1]
            case _:
                raise SystemExit(f"not understood: {line}")
        say(f"sent {sent}")
    watch.stop()
    say("stopped")


if __name__ == "__main__":
    main()
