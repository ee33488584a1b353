"""What stays on the page whatever else is there: open, the ending, a missing sound, and what enter does in a call."""

import pytest
from msgspec.structs import replace
from view.test_view import CALM, RIG, SOLO, VERSE, after, book_of, playing, shown, song

from companion.music import read_key
from companion.rig import Rig
from companion.show import Ending, Section, Set, Show, Song, SoundCall
from companion.stage import Again, Next, Surroundings, make_book
from companion.view import LineMark, LineRole, view


def test_titles_that_only_resemble_the_text_are_offered_below_what_enter_does() -> None:
    seen = playing(VERSE, around=Surroundings(typed="zoo", found_songs=("Zoom Town", "Igloo"), found_near=True))
    chosen = [line.mark is LineMark.CHOSEN for line in seen.lines if line.part is LineRole.CHOICE]
    assert shown(seen, LineRole.CHOICE) == ["enter new song: zoo", "1 Zoom Town", "2 Igloo"]
    assert chosen == [True, False, False]
    assert shown(seen, LineRole.HINT) == ["not on the list; 1 or 2 takes one like it"]


def test_open_stays_beside_the_round_even_where_words_run_out() -> None:
    crowded = replace(SOLO, name="Double-time ending solo", watch="the tall drummer")
    state = after(
        book_of(song(crowded, Section("Half-time shout chorus"), sounds=(SoundCall("tonewheel organ"),))),
        *[Next],
        *[Again] * 2,
    )
    assert shown(view(state, CALM), LineRole.COUNT) == ["open, 3rd"]


@pytest.mark.parametrize("ending", [Ending.COLD, Ending.RITARD, Ending.FADE])
def test_how_the_song_ends_stays_beside_an_open_outro_and_a_long_next_title(ending: Ending) -> None:
    outro = Section("Outro", 8, open=True)
    known = song(VERSE, outro, ending=ending, key=read_key("F"), sounds=(SoundCall("tonewheel organ"),))
    follows = Song("Postcard to the Harbourmaster")
    seen = view(after(book_of(known, follows), Next, Next), CALM)
    assert shown(seen, LineRole.ENDING) == [f"ends {ending.value.replace('_', ' ')}"]


def test_a_song_without_a_sound_says_so_beside_the_one_that_stays_on() -> None:
    with_one = song(VERSE, sounds=(SoundCall("tonewheel organ"),))
    book = book_of(with_one, Song("Kettle"), Song("Rest", tacet=True))
    up_next, playing_it, tacet = (view(after(book, *[Next] * steps), CALM) for steps in (2, 3, 4))
    for seen in (up_next, playing_it):
        assert [(line.text, line.mark) for line in seen.lines if line.part is LineRole.SOUND] == [
            ("no sound written: still tonewheel organ", LineMark.CIRCLE)
        ]
    assert shown(tacet, LineRole.SOUND) == ["tonewheel organ"], "nothing to play"
    begins = view(after(book_of(Song("Kettle"), with_one)), CALM)
    assert shown(begins, LineRole.SOUND) == ["no sound written"], "and none is on"


def test_a_show_without_any_sound_does_not_say_so() -> None:
    assert shown(playing(VERSE), LineRole.SOUND) == []


@pytest.mark.parametrize(
    ("follows", "whom", "seen"),
    [
        ("Chorus", "whoever has the tambourine", "whoever has the tambourine"),
        ("Chorus", "the bass player, then the whole horn section", "the bass player, then the…"),
        ("Half-time shout chorus", "whoever has the tambourine", "whoever has the…"),  # words run out
    ],
)
def test_whom_to_watch_is_whole_while_there_are_words_for_it(follows: str, whom: str, seen: str) -> None:
    section = Section("Solo", 16, open=True, watch=whom)
    known = song(section, Section(follows), sounds=(SoundCall("tonewheel organ"),))
    assert shown(view(after(book_of(known), Next), CALM), LineRole.WATCH) == [f"watch {seen}"]


def test_what_people_listen_for_comes_before_a_sound_that_only_stays_on() -> None:
    rig = Rig("two", (RIG.keyboards[0], replace(RIG.keyboards[0], name="upper", port="Foldaway Synth")))
    solo = replace(SOLO, feature="keys solo", sounds=(SoundCall("tonewheel organ", "upper"),))
    after_it = replace(VERSE, name="Verse again")
    one = song(VERSE, solo, after_it, key=read_key("Bb"), sounds=(SoundCall("grand piano", "lower"),))
    book, _ = make_book(Show("Pier", sets=(Set("First", songs=(one,)),)), rig)
    seen = view(after(book, Next, Next), CALM)
    assert [line.text for line in seen.lines if line.part is LineRole.FEATURE] == ["★ keys solo"]
    assert [line.label for line in seen.lines if line.mark is LineMark.TAPE] == ["upper"]
