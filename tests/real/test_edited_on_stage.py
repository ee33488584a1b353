"""On real ports: the show is edited while it is played, read again by a key, killed, and goes on; a drummer's clock."""

import time

import pytest
from real.jack import JackTap
from real.program import wait_until
from real.stage import Stage, children
from real.window import Display


def test_a_show_edited_on_stage_is_read_by_a_key_and_survives_a_kill(stage: Stage, display: Display) -> None:
    program = stage.start(screen="window", env=display.env)
    stage.first_program()
    stage.wait_for_the_foot()
    display.wait_for_window("companion")
    for _ in range(2):
        stage.press(64)
    stage.hears(1)
    written = stage.show.read_text(encoding="utf-8")
    stage.show.write_text(written.replace("section: Verse, bars: 1, sound: s1}", "section: Verse, sound: s100}", 1))
    wait_until(lambda: any("show edited" in line for line in program.lines), "a word about it", 15)
    assert stage.programs()[-1] == 1, "nothing changes by itself"
    display.key("F5")
    stage.hears(100)
    stage.press(64)
    stage.hears(2)
    stage.kill()
    stage.start()
    assert stage.first_program() == 2, "the same section of the edited show"
    assert stage.program is not None
    assert children(stage.program.process.pid) == []
    stage.show.write_text("show: [", encoding="utf-8")
    stage.wait_for_the_foot()
    stage.press(64)
    stage.hears(3)


@pytest.mark.long
def test_a_drummers_clock_on_a_real_port_steps_a_song_that_steps_by_its_bars(stage: Stage) -> None:
    show = stage.show.read_text(encoding="utf-8").replace("tempo: 120", "tempo: 20\n        steps: by bars")
    stage.show.write_text(show, encoding="utf-8")
    stage.rig.write_text(stage.rig.read_text(encoding="utf-8") + "clock_from: Drum Box\n", encoding="utf-8")
    with JackTap(stage.jack, "Drum Box") as drums:
        stage.start()
        stage.first_program()
        stage.wait_for_the_foot()
        wait_until(lambda: any(one == drums.output for one, _ in stage.jack.connections()), "the drummer's cable", 15)
        for _ in range(60):  # 300 a minute, or as fast as one message after another goes
            drums.send(b"\xf8")
            time.sleep(0.008)
        stage.press(64)
        for _ in range(110):
            drums.send(b"\xf8")
            time.sleep(0.008)
        stage.hears(1, 2)  # a bar of 96 ticks was over; by the song's own tempo it takes twelve seconds
