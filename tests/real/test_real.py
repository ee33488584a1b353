"""The real components that the tests stand on: they do what the tests take for granted."""

import os
import sys
import time

import pytest
from real.jack import REGISTRY, JackServer, JackTap
from real.program import NotThere, Program, needs, wait_until
from real.synth import Playing, Synth, presets
from real.window import Display


def test_a_silent_program_is_reported_with_its_output() -> None:
    with (
        Program((sys.executable, "-c", "print('hello', flush=True); input()")) as program,
        pytest.raises(TimeoutError, match="hello"),
    ):
        program.wait_for(lambda line: line == "goodbye", seconds=0.5)


def test_a_program_that_ends_early_is_not_waited_for() -> None:
    with (
        Program((sys.executable, "-c", "raise SystemExit(3)")) as program,
        pytest.raises(TimeoutError, match="ended with 3"),
    ):
        program.wait_for(lambda line: line == "never", seconds=60)


def test_a_program_that_ignores_the_request_to_end_is_killed() -> None:
    stop_hearing = "import signal, time; signal.signal(15, signal.SIG_IGN); print('up', flush=True); time.sleep(60)"
    program = Program((sys.executable, "-c", stop_hearing))
    program.wait_for(lambda line: line == "up")
    program.end(seconds=0.2)
    assert not program.runs()


def test_a_missing_program_is_named() -> None:
    with pytest.raises(NotThere, match="no-such-program"):
        needs("no-such-program")


def test_a_message_sent_arrives_once_and_with_its_time(jack: JackServer, foot_box: JackTap) -> None:
    with JackTap(jack, "Stage Piano") as piano:
        jack.connect(foot_box.output, piano.input)
        before = time.monotonic_ns()
        foot_box.send(b"\xb0\x40\x7f")
        piano.wait_for([b"\xb0\x40\x7f"])
        ((at_ns, message),) = piano.heard()
        assert message == b"\xb0\x40\x7f"
        assert before <= at_ns <= time.monotonic_ns()


def test_messages_arrive_in_order_and_a_wait_for_another_order_fails(jack: JackServer, foot_box: JackTap) -> None:
    with JackTap(jack, "Stage Piano") as piano:
        jack.connect(foot_box.output, piano.input)
        foot_box.press(control=66, channel=16)
        piano.wait_for([b"\xbf\x42\x7f", b"\xbf\x42\x00"])
        assert [message for _, message in piano.heard()] == [b"\xbf\x42\x7f", b"\xbf\x42\x00"]
        with pytest.raises(TimeoutError, match=r"heard bf 42 7f \| bf 42 00"):
            piano.wait_for([b"\xbf\x42\x00", b"\xbf\x42\x7f"], seconds=0.1)
        piano.forget()
        assert piano.heard() == ()


def test_an_unplugged_cable_is_gone_and_comes_back(jack: JackServer) -> None:
    box = JackTap(jack, "Foot Box")
    box.kill()
    wait_until(lambda: not any("Foot Box" in port for port in jack.ports()), "the port to go", 5)
    with JackTap(jack, "Foot Box") as again:
        assert again.output in jack.ports()


def test_a_killed_server_starts_again_and_leaves_nothing_behind(jack: JackServer) -> None:
    jack.kill()
    assert not jack.answers()
    jack.restart()
    assert jack.answers()
    jack.kill()
    jack.close()
    assert f":{jack.name}:".encode() not in REGISTRY.read_bytes()
    assert not [left for left in os.listdir("/dev/shm") if jack.name in left]  # noqa: PTH208, S108


def test_two_servers_stay_separate(jack: JackServer, foot_box: JackTap) -> None:
    with JackServer() as other:
        assert foot_box.output in jack.ports()
        assert foot_box.output not in other.ports()


def test_the_synth_says_what_each_channel_plays(jack: JackServer, synth: Synth, foot_box: JackTap) -> None:
    jack.connect(foot_box.output, synth.port)

    def arrived() -> dict[int, Playing] | None:
        """Send again: the server makes the connection known in its own time, and what is sent before is lost."""
        foot_box.send(b"\xc0\x10")
        foot_box.send(b"\xcf\x7f")
        time.sleep(0.1)
        now = synth.channels()
        return now if (now[1].program, now[16].program) == (16, 127) else None

    playing = wait_until(arrived, "both programs", 5)
    assert [playing[channel].program for channel in (1, 2, 16)] == [16, 0, 127]


def test_the_font_names_the_same_presets_as_the_synth_does(synth: Synth) -> None:
    told = {(int(line[:3]), int(line[4:7])): line[8:].strip() for line in synth.ask("inst 1") if line[:3].isdigit()}
    assert presets() == told
    assert {program for bank, program in told if bank == 0} == set(range(128))


WINDOW = """
import pygame
pygame.display.init()
window = pygame.display.set_mode((1920, 1080), pygame.FULLSCREEN)
pygame.display.set_caption("a window of the tests")
colours = {pygame.K_PAGEDOWN: "white", pygame.K_PAGEUP: "black"}
window.fill("navy")
pygame.display.flip()
print("up", flush=True)
while (event := pygame.event.wait()).type != pygame.QUIT:
    if event.type == pygame.KEYDOWN and event.key in colours:
        window.fill(colours[event.key])
        pygame.display.flip()
print("closed", flush=True)
"""


def test_a_window_can_be_photographed_sent_keys_and_closed(display: Display) -> None:
    with Program((sys.executable, "-W", "ignore", "-c", WINDOW), env=display.env) as program:
        program.wait_for(lambda line: line == "up")
        window = display.wait_for_window("a window of the tests")
        wait_until(lambda: display.photograph().getpixel((960, 540)) == (0, 0, 128), "the window", 5)
        before = display.photograph()
        assert before.size == (1920, 1080)
        memory = display.framebuffer()
        assert bytes(memory[:3]) == bytes(memory[-4:-1]) == b"\x80\x00\x00"  # blue, green, red
        display.key("Next")
        white = display.wait_for_change(before)
        assert white.getpixel((5, 5)) == (255, 255, 255)
        display.key("Prior")
        assert display.wait_for_change(white).getpixel((960, 540)) == (0, 0, 0)
        display.close_window(window)
        program.wait_for(lambda line: line == "closed")
