"""A sound check that was stopped continues: what was right and has not changed need not be heard again."""

from pathlib import Path

import msgspec
from soundcheck.conversation import Talking
from soundcheck.scenes import LOWER, RIG, begun

from companion.ports import Direction
from companion.rig import Sound
from companion.soundcheck.check.check_progress import count_right, file_for, forget, keep, kept_of, read_kept, resumed
from companion.soundcheck.check.check_state import SoundCheck, Verdict
from companion.soundcheck.check.checking import step

HOUR = 3600.0


def connected() -> Talking[SoundCheck]:
    talk = Talking(step, begun())
    for port in ("Stage Piano", "Foldaway Synth"):
        talk.found(port, Direction.OUT)
    talk.wait(1300)
    return talk


def stopped() -> SoundCheck:
    talk = connected()
    talk.key("enter", "enter", "w", "s", "enter")  # piano right, organ wrong, strings later, lead right
    talk.stop()
    return talk.state


def rights(check: SoundCheck) -> list[str]:
    pairs = zip(check.trials, check.answers, strict=True)
    return [trial.sound.name for trial, answer in pairs if answer.verdict is Verdict.RIGHT]


def test_sounds_marked_right_stay_right_and_the_rest_are_checked_again() -> None:
    again = resumed(begun(), kept_of(stopped(), 0), HOUR)
    assert rights(again) == ["grand piano", "lead"]
    assert count_right(again) == 2
    assert [answer.verdict for answer in again.answers].count(None) == 3
    talk = Talking(step, again)
    talk.wait(1300)
    talk.key("enter")
    assert talk.state.trial is not None
    assert talk.state.trial.sound.name == "organ"


def test_a_changed_sound_is_checked_again() -> None:
    sounds = tuple(Sound("grand piano", 3) if sound.name == "grand piano" else sound for sound in LOWER.sounds)
    rig = msgspec.structs.replace(RIG, keyboards=(msgspec.structs.replace(LOWER, sounds=sounds), RIG.keyboards[1]))
    assert rights(resumed(begun(rig), kept_of(stopped(), 0), HOUR)) == ["lead"]


def test_a_stored_level_does_not_make_it_another_sound() -> None:
    sounds = tuple(
        msgspec.structs.replace(sound, controls=((7, 80),)) if sound.name == "grand piano" else sound
        for sound in LOWER.sounds
    )
    rig = msgspec.structs.replace(RIG, keyboards=(msgspec.structs.replace(LOWER, sounds=sounds), RIG.keyboards[1]))
    assert rights(resumed(begun(rig), kept_of(stopped(), 0), HOUR)) == ["grand piano", "lead"]


def test_yesterdays_sound_check_does_not_count() -> None:
    kept = kept_of(stopped(), 0)
    assert rights(resumed(begun(), kept, 11 * HOUR)) == ["grand piano", "lead"]
    assert rights(resumed(begun(), kept, 13 * HOUR)) == []


def test_progress_from_a_later_version_does_not_count() -> None:
    kept = msgspec.structs.replace(kept_of(stopped(), 0), version=99)
    assert rights(resumed(begun(), kept, HOUR)) == []


def test_all_right_already_goes_straight_to_the_pedals() -> None:
    talk = connected()
    talk.key(*["enter"] * 6)
    again = Talking(step, resumed(begun(), kept_of(talk.state, 0), HOUR))
    again.wait(1300)
    assert again.state.stage.value == "pedals"


def test_progress_is_stored_in_a_file_and_deleted(tmp_path: Path) -> None:
    file = file_for(Path("a.yaml"), Path("rig.yaml"), tmp_path)
    assert read_kept(file) is None
    keep(file, kept_of(stopped(), 5))
    assert read_kept(file) == kept_of(stopped(), 5)
    forget(file)
    forget(file)
    assert read_kept(file) is None


def test_another_show_or_rig_has_another_file(tmp_path: Path) -> None:
    files = {file_for(Path(show), Path(rig), tmp_path) for show in ("a", "b") for rig in ("x", "y")}
    assert len(files) == 4


def test_a_damaged_file_is_ignored_and_a_failed_write_stops_nothing(tmp_path: Path) -> None:
    file = tmp_path / "kept.json"
    file.write_text('{"version": 1, "at_s": ')
    assert read_kept(file) is None
    (tmp_path / "no folder").write_text("")
    keep(tmp_path / "no folder" / "kept.json", kept_of(stopped(), 5))
