"""What to check: each sound once, where, in which order; and two names for one program."""

import msgspec
from soundcheck.scenes import LOWER, ORGAN, RIG, book_on, part

from companion.rig import Rig, Sound
from companion.show import Song, SoundCall
from companion.soundcheck.check.trials import doubles, fingerprint, trials_of


def names(rig: Rig = RIG, *, features_first: bool = False) -> list[str]:
    return [trial.sound.name for trial in trials_of(book_on(rig), features_first=features_first)]


def test_each_sound_is_heard_once_in_show_order() -> None:
    assert names() == ["grand piano", "organ", "strings", "lead", "choir"]


def test_with_little_time_sounds_of_features_come_first() -> None:
    assert names(features_first=True) == ["lead", "grand piano", "organ", "strings", "choir"]


def test_a_sound_is_listed_where_it_is_first_used_and_how_often() -> None:
    organ = next(trial for trial in trials_of(book_on()) if trial.sound is ORGAN)
    assert (organ.where, organ.places, organ.feature) == ("Gasworks Corner, Verse", 3, None)  # also on below the lead


def test_a_sound_is_listed_at_its_feature_rather_than_at_its_first_use() -> None:
    songs = (Song("A", road_map=(part("Verse", "organ"), part("Solo", "organ", feature="riff"))),)
    (organ,) = trials_of(book_on(songs=songs))
    assert (organ.where, organ.feature) == ("A, Solo", "riff")


def test_a_sound_under_another_sounds_feature_does_not_carry_it() -> None:
    trials = trials_of(book_on())
    assert [trial.sound.name for trial in trials if trial.feature] == ["lead"]


def test_a_feature_without_its_own_sound_is_carried_by_the_current_one() -> None:
    songs = (Song("A", sounds=(SoundCall("organ"),), road_map=(part("Intro", feature="alone"),)),)
    assert [trial.feature for trial in trials_of(book_on(songs=songs))] == ["alone"]


def test_a_name_in_another_case_is_the_same_sound() -> None:
    songs = (Song("A", sounds=(SoundCall("organ"),)), Song("B", sounds=(SoundCall("ORGAN"),)))
    assert len(trials_of(book_on(songs=songs))) == 1


def with_sounds(*sounds: Sound) -> tuple[Rig, tuple[Song, ...]]:
    board = msgspec.structs.replace(LOWER, sounds=sounds)
    return Rig("one", keyboards=(board,)), tuple(Song(one.name, sounds=(SoundCall(one.name),)) for one in sounds)


def doubles_of(*sounds: Sound) -> tuple[str, ...]:
    rig, songs = with_sounds(*sounds)
    return doubles(rig.keyboards, trials_of(book_on(rig, songs)))


def test_two_names_for_one_program_are_reported() -> None:
    assert doubles_of(Sound("a", 5), Sound("b", 6), Sound("c", 5)) == ('"a" and "c" are the same program of lower',)


def test_one_program_in_two_banks_is_two_sounds() -> None:
    assert doubles_of(Sound("a", 5, bank=(0, 1)), Sound("b", 5, bank=(0, 2))) == ()


def test_a_sound_without_a_bank_beside_one_in_bank_0_is_the_same() -> None:
    assert len(doubles_of(Sound("a", 5, bank=(0, 0)), Sound("b", 5))) == 1


def test_one_program_with_other_controls_says_so() -> None:
    (told,) = doubles_of(Sound("a", 5), Sound("b", 5, controls=((91, 80),)))
    assert told.endswith("with other controls")


def test_sounds_chosen_by_hand_are_never_doubles() -> None:
    assert doubles_of(Sound("a", by_hand="A1"), Sound("b", by_hand="A2")) == ()


def test_the_fingerprint_is_that_of_what_is_sent_but_for_the_level() -> None:
    def of(sound: Sound) -> str:
        rig, songs = with_sounds(sound)
        (trial,) = trials_of(book_on(rig, songs))
        return fingerprint(rig.keyboards[0], trial)

    assert of(Sound("a", 5, controls=((7, 90),))) == of(Sound("a", 5, controls=((7, 100),))) == of(Sound("a", 5))
    assert of(Sound("a", 5)) != of(Sound("a", 6))
    assert of(Sound("a", 5)) != of(Sound("a", 5, controls=((91, 1),)))
    assert of(Sound("a", by_hand="x")) != of(Sound("a", by_hand="y"))
