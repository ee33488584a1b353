"""A sound that no program change reaches: asked for until the keyboard answers, or the player does."""

import msgspec
from night.evening import PEDALS, Evening
from stage.scenes import book_of, rig_of, song

from companion.rig import Rig, Sound
from companion.view import LineMark, LineRole


def choir_evening() -> Evening:
    """Return an evening whose second section needs a sound that is set by hand."""
    rig = msgspec.structs.replace(rig_of("lower"), pedals=PEDALS)
    board = rig.keyboards[0]
    choir = Sound("choir", by_hand="bank B, button 4")
    here: Rig = msgspec.structs.replace(
        rig, keyboards=(msgspec.structs.replace(board, sounds=(*board.sounds, choir)), *rig.keyboards[1:])
    )
    return Evening(book_of([song("A", "Intro @organ, Verse @choir, Chorus @choir")], rig=here), rig=here)


def is_asked(evening: Evening) -> bool:
    return any(line.part is LineRole.SOUND and line.mark is LineMark.CIRCLE for line in evening.wall.views[-1].lines)


def test_a_sound_chosen_by_hand_is_asked_for_until_the_keyboard_reports_it() -> None:
    evening = choir_evening()
    evening.press()
    evening.press()
    assert is_asked(evening)
    evening.midi("90 3C 40", port="lower port")
    assert is_asked(evening), "a note is no answer"
    evening.midi("CF 03", port="lower port")
    assert is_asked(evening), "nor is another channel"
    evening.midi("C0 03", port="lower port")
    assert not is_asked(evening)


def test_sound_now_confirms_a_sound_chosen_by_hand() -> None:
    evening = choir_evening()
    evening.press()
    evening.press()
    evening.key("h")
    assert not is_asked(evening)


def test_the_request_ends_with_the_next_step_and_returns_at_another_place() -> None:
    evening = choir_evening()
    evening.press()
    evening.press()
    evening.key("h")
    evening.press()
    assert not is_asked(evening), "it is on already"
    evening.press(67)
    evening.press(67)
    evening.press()
    assert is_asked(evening)
