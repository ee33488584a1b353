"""What happens around the show is written down for the debrief: once, with its place, and only what was there."""

from night.evening import BOX, Evening

from companion.night.entries import EntryContext, notes_of
from companion.night.happenings import ScreenGone
from companion.ports import Direction, PortLost

PORT = "lower port"


def noted(evening: Evening) -> list[tuple[EntryContext, str, str]]:
    return [(one.what, one.port, one.mark.section) for one in notes_of(evening.notebook.notes)]


def lost(evening: Evening, port: str, direction: Direction) -> None:
    evening.night.take(PortLost(port, direction, f"{port} is gone", 0))


def test_a_lost_and_found_port_is_noted_once_for_both_directions() -> None:
    evening = Evening()
    for direction in Direction:
        evening.found(BOX, direction)
    evening.press()
    for direction in (*Direction, *Direction):
        lost(evening, BOX, direction)
    for direction in Direction:
        evening.found(BOX, direction)
    assert noted(evening) == [(EntryContext.PORT_LOST, BOX, "Intro"), (EntryContext.PORT_FOUND, BOX, "Intro")]


def test_a_port_never_seen_is_not_lost() -> None:
    evening = Evening()
    lost(evening, PORT, Direction.OUT)
    evening.found(PORT, Direction.OUT)
    assert noted(evening) == []


def test_a_fault_shared_by_several_ports_is_noted_once_until_it_is_over() -> None:
    evening = Evening()
    gone = "the MIDI server is not running"
    for _ in range(2):
        for port, direction in ((PORT, Direction.OUT), (BOX, Direction.IN), (PORT, Direction.OUT)):
            evening.night.take(PortLost(port, direction, gone, 0))
        for port, direction in ((PORT, Direction.OUT), (BOX, Direction.IN)):
            evening.found(port, direction)
    assert evening.said.count(gone) == 2


def test_a_crashed_screen_is_noted() -> None:
    evening = Evening()
    evening.night.take(ScreenGone("killed"))
    assert noted(evening) == [(EntryContext.SCREEN_GONE, "", "Intro")]


def test_an_unreadable_note_is_left_out() -> None:
    evening = Evening()
    evening.night.take(ScreenGone())
    assert len(notes_of([b"{}", *evening.notebook.notes, b"rubbish"])) == 1
