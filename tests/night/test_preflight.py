"""What is wrong before the first note, said so that it can be read."""

from pathlib import Path

from companion.night.preflight import examine


def test_a_sound_that_the_rig_lacks_is_one_fault_however_many_songs_ask_for_it(tmp_path: Path) -> None:
    show, rig = tmp_path / "supper.yaml", tmp_path / "rig.yaml"
    songs = "".join(f"  - {{title: Song {number}, sound: organ}}\n" for number in range(12))
    show.write_text(f"show: Supper\nsongs:\n{songs}  - {{title: Last, sound: choir}}\n", encoding="utf-8")
    rig.write_text("rig: Hired board\nkeyboards:\n  stage:\n    port: Hired\n    sounds: {}\n", encoding="utf-8")
    first, second = examine(show, rig).faults
    assert str(first) == (
        f'{show}:3:28: the rig "Hired board" has no sound "organ" (asked for in 12 places). '
        "Write: add organ to the sounds of stage"
    )
    assert (second.line, second.problem) == (15, 'the rig "Hired board" has no sound "choir"')
