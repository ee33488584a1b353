"""One port that several words of the rig mean."""

from ports.tape import TapeSystem
from ports.test_watch import PIANO, Scene

from companion.ports.watch import REFUSED_LOOKS


def test_a_port_that_refuses_one_word_is_given_up_for_every_word_that_means_it() -> None:
    """Its wire is closed: whoever sent to it again would send to nobody."""
    scene = Scene(TapeSystem(outputs=[PIANO]), outputs=["Stage", "Piano"])
    scene.look()
    scene.system.wires[PIANO].dead = True
    scene.watch.outs["Stage"].send((b"\xc0\x01",))
    assert {port for port, _, why in scene.look() if not why.startswith("+")} == {"Stage", "Piano"}
    assert not scene.watch.outs["Piano"].send((b"\xc0\x02",))
    for _ in range(REFUSED_LOOKS):
        scene.look()
    assert scene.watch.outs["Stage"].send((b"\xc0\x03",))
    assert scene.watch.outs["Piano"].send((b"\xc0\x04",))
    assert scene.system.wires[PIANO].sent == [b"\xc0\x03", b"\xc0\x04"]
