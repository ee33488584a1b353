"""Enter while pedals are set up: a player presses it to go on, and some page turners send it."""

from soundcheck.test_pedal_setup import press, without_sustain

from companion.soundcheck.pedals.pedal_state import rig_after


def test_enter_pressed_to_go_on_is_no_pedal_and_a_page_turner_that_sends_it_presses_twice() -> None:
    talk = without_sustain()
    for number in range(2):
        before = rig_after(talk.state).pedals
        talk.wait(1000)
        talk.new()
        talk.key("enter")
        assert rig_after(talk.state).pedals == before
        assert "press it once more" in " ".join(talk.said())
        if number:
            break
        press(talk)
    talk.wait(1000)
    talk.key("enter")
    assert [one.key for one in rig_after(talk.state).pedals] == [None, "enter"]
