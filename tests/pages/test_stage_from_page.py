"""The stage is started by a click on the page; then a pedal on a real port changes the sound of a real synthesizer."""

from collections.abc import Iterator
from pathlib import Path

import psutil
import pytest
from pages.browsing import chromium, opened
from pages.serving import Serving
from playwright.sync_api import Browser, expect
from real.jack import JackServer, JackTap
from real.playing import press
from real.program import wait_until
from real.synth import Synth
from real.window import Display

SHOW = """\
show: Night at the Mill
songs:
  - title: Tram Home
    sound: strings
    road_map: Intro 4, Verse 8 @organ, Outro 4 @brass
"""
RIG = """\
rig: Mill
keyboards:
  board: {port: Synth, channel: 1, sounds: {strings: 49, organ: 17, brass: 62}}
pedals:
  right: {port: Foot Box, channel: 1, control: 64, press: next}
"""
pytestmark = [pytest.mark.xdist_group("browser"), pytest.mark.long]
START_S = 60  # a machine that is shared


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as one:
        yield one


def test_a_click_starts_the_stage_and_the_foot_has_the_sound(
    browser: Browser, jack: JackServer, synth: Synth, foot_box: JackTap, display: Display, tmp_path: Path
) -> None:
    for name, text in (("shows/mill.yaml", SHOW), ("config/rig.yaml", RIG)):
        (tmp_path / name).parent.mkdir()
        (tmp_path / name).write_text(text, encoding="utf-8")
    serving = Serving(tmp_path, str(tmp_path / "shows" / "mill.yaml"), env={**jack.env, **display.env})
    stages: list[psutil.Process] = []
    try:
        tab = opened(serving, browser)
        tab.page.get_by_role("button", name="Start it for tonight").click()
        tab.wait_for_notice("The stage is starting")
        stages = psutil.Process(serving.process).children()
        assert ["play" in one.cmdline() for one in stages] == [True]
        expect(tab.page.get_by_role("button", name="Start it for tonight")).to_be_disabled()
        wait_until(lambda: program(synth) == 48, "the first song's sound", START_S)  # 49 on the panel, from 1
        display.wait_for_window("companion", seconds=START_S)
        wait_until(lambda: any(one == foot_box.output for one, _ in jack.connections()), "the pedal's cable", START_S)
        for wanted in (48, 16, 61):  # into the song, the verse, the outro
            press(foot_box, 64)
            wait_until(lambda wanted=wanted: program(synth) == wanted, f"program {wanted}", START_S)  # type: ignore[misc]
        assert serving.end() == 0  # the pages end, and the stage continues
        press(foot_box, 64)
        assert stages[0].is_running()
        assert stages[0].status() != psutil.STATUS_ZOMBIE
        assert tab.wrong == []
    finally:
        serving.end()
        for one in stages:
            one.terminate()
        psutil.wait_procs(stages, timeout=10)


def program(synth: Synth) -> int:
    """The program on the board's channel, counted from 0 as MIDI does."""
    return synth.channels()[1].program
