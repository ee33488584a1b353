"""Run inside the virtual machine of boot.sh, as its only program: the stage on ALSA's sequencer and emulated USB-MIDI.

Each check prints one line, and the last line is the sum. No time is asserted: an emulator is slow. The bytes that are
expected are written by hand, by MIDI 1.0.
"""

import contextlib
import ctypes
import os
import signal
import subprocess
import sys
import threading
import time
import traceback
from collections.abc import Iterator
from pathlib import Path

from real.alsa.usb import CLIENTS, PATIENCE_S, Usb, until

WORK = Path(os.environ["WORK"])
HOME = Path("/home/player")
AUDIO, NOBODY = 29, 65534  # Debian's numbers for the group and the user
PR_CAPBSET_DROP, CAP_DAC_OVERRIDE, CAP_DAC_READ_SEARCH = 24, 1, 2  # linux/prctl.h, linux/capability.h
STILL_S = 2.0  # so long nothing may come where nothing should; several looks of the port watch

RIG = """\
rig: emulated
keyboards:
  lower:
    port: Stage Piano
    channel: 1
    bank_messages: [msb, lsb]
    clock: yes
    transpose: none
    change: at once
    sounds:
      grand piano: {program: 1, bank: [0, 32]}
      strings: {program: 49, bank: [0, 33]}
      own voice: {program: 5, bank: [0, 34], send: ["F0 7D 01 02 F7"]}
  upper:
    port: Foldaway Synth
    channel: 2
    bank_messages: msb
    transpose: none
    change: at once
    sounds:
      synth lead: {program: 81, bank: 4}
      warm pad: {program: 90, bank: 5}
sustain: {port: Stage Piano, control: damper}
pedals:
  right: {port: Foot Box, channel: 1, control: 64, press: next}
"""
GRAND_LEAD, STRINGS_PAD = "{lower: grand piano, upper: synth lead}", "{lower: strings, upper: warm pad}"
SHOW = """\
show: An emulated night
songs:
  - title: Gasworks Corner
    tempo: 120
    sound: {lower: grand piano, upper: synth lead}
    road_map:
      - {section: Intro, bars: 4}
      - {section: Verse, bars: 8, sound: {lower: strings, upper: warm pad}}
      - {section: Chorus, bars: 8, sound: own voice}
""" + "".join(
    f"      - {{section: {'Verse' if number % 2 else 'Bridge'} {number}, bars: 8, "
    f"sound: {GRAND_LEAD if number % 2 else STRINGS_PAD}}}\n"
    for number in range(1, 40)
)
GRAND, STRINGS, OWN = "b00000b02020c000", "b00000b02021c030", "b00000b02022c004"
LEAD, PAD = "b10004c150", "b10005c159"

TWINS_RIG = """\
rig: two alike
keyboards:
  left: {{port: "{left}", channel: 1, bank_messages: none, transpose: none, sounds: {{one: 1, two: 2}}}}
  right: {{port: "{right}", channel: 2, bank_messages: none, transpose: none, sounds: {{three: 3, four: 4}}}}
pedals:
  right: {{port: Foot Box, channel: 1, control: 64, press: next}}
"""
ONE_THREE, TWO_FOUR = "{left: one, right: three}", "{left: two, right: four}"
TWINS_SHOW = """\
show: Two alike
songs:
  - title: Kettle on the Jetty
    road_map:
""" + "".join(
    f"      - {{section: Part {number}, bars: 4, sound: {TWO_FOUR if number % 2 else ONE_THREE}}}\n"
    for number in range(40)
)


class Companion:
    """The program, playing."""

    def __init__(self, show: str, rig: str, *more: str) -> None:
        self.command = (
            sys.executable,
            "-P",
            "-m",
            "companion.cli",
            "play",
            show,
            "--rig",
            rig,
            "--screen",
            "none",
            *more,
        )
        self.lines: list[str] = []
        self.process = subprocess.Popen(
            self.command,
            cwd=HOME,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
        )
        threading.Thread(target=self._read, daemon=True).start()

    def _read(self) -> None:
        assert self.process.stdout is not None
        for line in self.process.stdout:
            self.lines.append(line.rstrip())
            print("   |", line.rstrip(), flush=True)  # noqa: T201

    def said(self, words: str, after: int = 0) -> None:
        until(lambda: any(words in line for line in self.lines[after:]), f"it says {words!r}")

    def end(self) -> None:
        self.process.terminate()
        assert self.process.wait(PATIENCE_S) == 0, "it ends in order"


class Bench:
    """The checks, one after the other, on one stage."""

    def __init__(self) -> None:
        self.right, self.wrong = 0, 0
        self.piano, self.synth, self.box = (Usb(name) for name in ("Stage Piano", "Foldaway Synth", "Foot Box"))
        self.other = Usb("Audio Box")
        self.program: Companion | None = None

    @contextlib.contextmanager
    def check(self, words: str) -> Iterator[None]:
        """Count what happens inside as one check."""
        begun = time.monotonic()
        try:
            yield
        except Exception as fault:  # noqa: BLE001 - the next check may be right
            self.wrong += 1
            print(f"WRONG {words}: {fault!r}", flush=True)  # noqa: T201
            traceback.print_exc()
        else:
            self.right += 1
            print(f"right {words} ({time.monotonic() - begun:.1f} s)", flush=True)  # noqa: T201

    def press(self) -> None:
        self.box.play("b0407f")
        time.sleep(0.3)
        self.box.play("b04000")
        time.sleep(0.3)

    def steps_to(self, piano: str, synth: str) -> None:
        """Press until a step asks for these sounds, as every second section does; a first press may only be met."""
        for device in (self.piano, self.synth):
            device.took = ""
        for _ in range(3):
            self.press()
            with contextlib.suppress(AssertionError):
                until(lambda: piano in self.piano.sounds() and synth in self.synth.sounds(), "both", PATIENCE_S / 6)
                return
        raise AssertionError(f"piano has {self.piano.sounds()}, synth has {self.synth.sounds()}")


def modules() -> None:
    for module in (WORK / "sound.order").read_text().split():
        more = ("num=6",) if "dummy_hcd" in module else ()
        subprocess.run((WORK / "b/bin/busybox", "insmod", module, *more), check=False)
    subprocess.run((WORK / "b/bin/busybox", "mount", "-t", "configfs", "none", "/sys/kernel/config"), check=True)


def run(*words: str, rights: bool = True) -> subprocess.CompletedProcess[str]:
    """Run the program to its end; without ``rights`` as one who may open only what belongs to it."""

    def drop() -> None:
        if not rights:
            os.setgroups(())
            for capability in (CAP_DAC_OVERRIDE, CAP_DAC_READ_SEARCH):
                ctypes.CDLL(None).prctl(PR_CAPBSET_DROP, capability, 0, 0, 0)

    command = (sys.executable, "-P", "-m", "companion.cli", *words)
    return subprocess.run(command, cwd=HOME, preexec_fn=drop, capture_output=True, text=True, check=False)


def first_night(bench: Bench) -> None:
    """Sounds, pedal, sustain, clock and system exclusive."""
    piano, synth = bench.piano, bench.synth
    with bench.check("the ports are listed"):
        told = run("ports", "--rig", "rig.yaml")
        assert told.returncode == 0, told.stderr
        assert "ALSA" in told.stdout
        for name in ("Stage Piano", "Foldaway Synth", "Foot Box"):
            assert f"write port: {name}" in told.stdout, told.stdout
        assert "no instrument is behind it" in told.stdout, "the screen does not say that ALSA's own loop is one"
    bench.program = Companion("show.yaml", "rig.yaml")
    with bench.check("two instruments get bank and program, each on its channel"):
        piano.got(GRAND)
        synth.got(LEAD)
    if bench.wrong:
        return  # without a first sound there is nothing to wait for
    with bench.check("the pedal brings the next sounds"):
        time.sleep(1.5)
        bench.press()  # the song begins
        bench.press()
        piano.got(STRINGS)
        synth.got(PAD)
    with bench.check("the player's own sustain never steps the show"):
        before = piano.sounds()
        for value in ("7f", "00", "7f", "00"):
            piano.play(f"b040{value}")
            time.sleep(0.2)
        time.sleep(STILL_S)
        assert piano.sounds() == before, piano.sounds()
    with bench.check("clock is sent"):
        ticks = piano.took.count("f8")
        until(lambda: piano.took.count("f8") > ticks + 24, "a quarter of clock")
        assert "fa" in piano.took, "start"
    with bench.check("system exclusive is sent whole"):
        bench.press()
        piano.got(OWN)
        piano.got("f07d0102f7")


def cables(bench: Bench) -> None:
    """Check what happens to cables, and to the program."""
    piano, synth, box = bench.piano, bench.synth, bench.box
    if bench.program is None or bench.wrong:
        return
    with bench.check("a pulled cable is reported"):
        at, number = len(bench.program.lines), piano.number()
        piano.pull()
        bench.program.said("Stage Piano", at)
    with bench.check("back under another number it gets its sound, and is stepped"):
        bench.other.plug()  # takes the number that was free
        until(bench.other.is_listed, "the other device")
        piano.plug()
        until(piano.is_listed, "the piano")
        assert piano.number() != number
        piano.got(OWN)
        bench.steps_to(STRINGS, PAD)
    for device in (piano, box):
        device.replug()  # each side of the device takes the lowest number that is free: from now on the same ones
    for pause_s in (0.2, 0.5, 1.0):
        with bench.check(f"pulled and back under the same number after {pause_s} s, both ways"):
            for device in (piano, box):
                number = device.number()
                device.replug(pause_s)
                assert device.number() == number, "the number is the same"
            piano.got("c0")
            time.sleep(1.5)
            bench.steps_to(STRINGS, PAD)
    with bench.check("a program that was stopped while a keyboard was plugged anew finds it"):
        bench.program.process.send_signal(signal.SIGSTOP)
        piano.pull()
        time.sleep(0.5)
        piano.plug()
        until(piano.is_listed, "the piano")
        bench.program.process.send_signal(signal.SIGCONT)
        piano.got("c0")
        bench.steps_to(STRINGS, PAD)
    with bench.check("a killed program continues where it was, with its sound"):
        bench.steps_to(STRINGS, PAD)
        bench.program.process.kill()
        bench.program.process.wait()
        piano.took = synth.took = ""
        bench.program = Companion("show.yaml", "rig.yaml")
        piano.got(STRINGS)
        synth.got(PAD)
        time.sleep(1.5)
        bench.steps_to(GRAND, LEAD)
    with bench.check("it ends in order"):
        bench.program.end()
    bench.other.pull()


def two_alike(bench: Bench) -> None:
    """Two keyboards of one name, each by its number; one leaves and returns."""
    left, right = Usb("Synth"), Usb("Synth")
    for number, device in enumerate((left, right), 1):
        device.plug()
        until(lambda: CLIENTS.read_text().count('"Synth"') == number, "it is listed behind the other")  # noqa: B023
    names = [line.strip().strip('"') for line in run("ports").stdout.splitlines() if line.strip().startswith('"Synth:')]
    outputs = list(dict.fromkeys(names))
    with bench.check("two of one name are listed with their numbers"):
        assert len(outputs) == 2, names
    (HOME / "two.yaml").write_text(TWINS_RIG.format(left=outputs[0], right=outputs[1]))
    program = Companion("two-show.yaml", "two.yaml")
    with bench.check("each of two alike gets its own sounds"):
        left.got("c000")
        right.got("c102")
    with bench.check("when one leaves, the other never gets its sounds, and keeps its own"):
        time.sleep(1.5)
        left.pull()
        time.sleep(STILL_S)
        right.took = ""
        bench.press()
        bench.press()
        right.got("c103")
        assert "c0" not in right.sounds(), right.sounds()
    with bench.check("and when it is back it gets them again"):
        left.plug()
        left.got("c00")
        assert "c0" not in right.sounds(), right.sounds()
    program.end()
    for device in (left, right):
        device.pull()


def no_rights(bench: Bench) -> None:
    """Without the group audio the sequencer cannot be opened."""
    sequencer = Path("/dev/snd/seq")
    os.chown(sequencer, NOBODY, AUDIO)
    sequencer.chmod(0o660)
    with bench.check("without the right to the sequencer the group audio is named"):
        told = run("ports", rights=False)
        assert "group audio" in told.stdout, told.stdout + told.stderr


def main() -> None:
    modules()
    for name, text in (("show", SHOW), ("rig", RIG), ("two-show", TWINS_SHOW)):
        (HOME / f"{name}.yaml").write_text(text)
    HOME.chmod(0o777)
    bench = Bench()
    for device in (bench.piano, bench.synth, bench.box):
        device.plug()
    until(lambda: all(device.is_listed() for device in (bench.piano, bench.synth, bench.box)), "all are listed")
    for part in (first_night, cables, two_alike, no_rights):
        try:
            part(bench)
        except Exception:  # noqa: BLE001 - the other parts may be right
            traceback.print_exc()
            bench.wrong += 1
    print(f"RESULT: {bench.right} right, {bench.wrong} wrong", flush=True)  # noqa: T201


main()
