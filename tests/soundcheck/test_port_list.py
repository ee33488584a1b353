"""The system's ports as a player reads them: names, what to write, what the rig uses each for."""

import pytest
from stage.scenes import rig_of

from companion.ports import Direction, Health, find
from companion.ports.outside import NO_SERVER
from companion.rig import Keyboard, Pedal, Rig, Sustain
from companion.soundcheck import port_list
from companion.soundcheck.looking import look
from companion.soundcheck.port_list import PortLine, as_yaml, word_for

RIG = Rig(
    "Home",
    keyboards=(Keyboard("lower", port="Stage Piano", channel=3), Keyboard("upper", port="Foldaway Synth")),
    pedals=(Pedal("right", port="Foot Box", control=64), Pedal("turner", key="page down")),
    sustain=(Sustain("Stage Piano"),),
)


@pytest.mark.parametrize(
    ("system", "name", "word"),
    [
        # RtMidi.cpp, MidiInAlsa::getPortName: client name, port name, client and port number
        ("alsa", "Stage Piano:Stage Piano MIDI 1 24:0", "Stage Piano"),
        # Windows: the socket in front (from memory)
        ("winmm", "2- Stage Piano", "Stage Piano"),
        ("core", "Stage Piano", "Stage Piano"),
        # JACK: client and port; the bridge from ALSA puts the client's number in brackets
        ("jack", "a2j:Stage Piano [16] (capture): Stage Piano MIDI 1", "Stage Piano"),
        ("jack", "Foot Box-01:out", "Foot Box"),
    ],
)
def test_what_to_write_is_short_and_finds_the_port_also_when_the_system_counts_anew(
    system: str, name: str, word: str
) -> None:
    assert word_for(name, [name, "Other:Other 1 99:0"], system) == word
    assert find(word, [name], system).name == name


def test_the_advice_distinguishes_two_ports_of_one_box() -> None:
    names = ["Box:Box MIDI 1 28:0", "Box:Box MIDI 2 28:1"]
    assert [word_for(name, names, "alsa") for name in names] == ["Box MIDI 1", "Box MIDI 2"]


def test_two_ports_with_one_name_are_listed_by_full_name_with_a_warning() -> None:
    names = ["Twin:Twin MIDI 1 32:0", "Twin:Twin MIDI 1 36:0"]
    ports = port_list.port_list("alsa", names, ()).ports
    assert [(port.write, port.numbered) for port in ports] == [(name, True) for name in names]
    assert "may change" in "\n".join(port_list.lines(port_list.port_list("alsa", names, ())))


def test_a_short_piece_that_another_port_has_in_its_name_is_not_proposed() -> None:
    names = ["Piano:out", "Piano Room:out"]
    assert find(word_for("Piano:out", names, "jack"), names, "jack").name == "Piano:out"


def test_each_port_is_listed_with_what_the_rig_uses_it_for() -> None:
    told = port_list.port_list("core", ["Stage Piano", "Foot Box"], ["Stage Piano"], RIG)
    assert told.ports == (
        PortLine(
            "Stage Piano",
            Direction.IN,
            "Stage Piano",
            ("your own sustain on Stage Piano: never a step", "the hands on lower"),
        ),
        PortLine("Foot Box", Direction.IN, "Foot Box", ("pedal right: nothing",)),
        PortLine("Stage Piano", Direction.OUT, "Stage Piano", ("lower, channel 3",)),
    )
    assert [missing.used_for for missing in told.not_found] == ["upper, channel 1"]
    assert 'no MIDI output has "Foldaway Synth"' in told.not_found[0].why


def test_a_keyboard_without_a_port_is_the_only_output_there_is_and_of_two_neither() -> None:
    rig = Rig("one", keyboards=(Keyboard("keyboard"),))
    (only,) = port_list.port_list("core", (), ["Lights"], rig).ports
    assert only.used_for == ("keyboard, channel 1",)
    assert port_list.port_list("core", (), ["Lights", "Piano"], rig).not_found


def test_our_own_ports_are_left_out_and_a_loop_is_marked() -> None:
    told = port_list.port_list("alsa", ["companion:from X 128:0", "Midi Through:Midi Through Port-0 14:0"], ())
    assert [(port.name, port.loops) for port in told.ports] == [("Midi Through:Midi Through Port-0 14:0", True)]


def test_without_a_midi_system_it_says_so() -> None:
    assert "dry run" in next(iter(port_list.lines(port_list.port_list(None, (), ()))))


@pytest.mark.parametrize(
    ("word", "written"),
    [("Stage Piano", "Stage Piano"), ("USB-MIDI 2.0", "USB-MIDI 2.0"), ("A: B", '"A: B"'), ("#1", '"#1"')],
)
def test_what_yaml_would_read_otherwise_is_given_with_quotes(word: str, written: str) -> None:
    assert as_yaml(word) == written


class Gone:
    """A MIDI system whose server is not there."""

    word = "jack"
    gone = NO_SERVER

    def begin(self) -> None: ...

    def end(self) -> None: ...

    def health(self) -> Health:
        return Health.GONE

    def listed(self, direction: Direction) -> tuple[str, ...]:
        del direction
        return ()


def test_a_server_that_is_not_running_is_reported() -> None:
    listed = look(Gone())  # type: ignore[arg-type]  # the parts that listing needs
    assert listed.trouble == "the MIDI server is not running"


def test_the_demo_rigs_boards_are_all_asked_for() -> None:
    told = port_list.port_list("core", (), (), rig_of("lower", "upper"))
    assert [missing.used_for for missing in told.not_found] == ["lower, channel 1", "upper, channel 1"]
