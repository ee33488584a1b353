"""The strips of tape: what is on, what waits, what is set by hand, what is gone."""

import pytest
from msgspec.structs import replace
from view.test_view import CALM, CHORUS, PIANO, RIG, SOLO, VERSE, after, playing, song

from companion.rig import Rig
from companion.screen.layout import lay_out
from companion.screen.page import page_of
from companion.screen.screen_fonts import typeface
from companion.show import Set, Show, Song, SoundCall
from companion.stage import Next, Surroundings, make_book
from companion.view import LineMark, LineRole, ViewLine, view


def test_a_waiting_sound_is_circled() -> None:
    seen = playing(VERSE, around=Surroundings(waiting=(PIANO,)), sounds=(SoundCall("grand piano"),))
    assert seen.of(LineRole.SOUND) == ViewLine(LineRole.SOUND, "grand piano", "lift hands:", mark=LineMark.CIRCLE)


def test_of_two_keyboards_a_waiting_sound_names_the_one_where_the_hands_lift() -> None:
    boards = (RIG.keyboards[0], replace(RIG.keyboards[0], name="upper", port="Foldaway Synth"))
    calls = (SoundCall("grand piano", "lower"), SoundCall("tonewheel organ", "upper"))
    book, _ = make_book(
        Show("Pier", sets=(Set("First", songs=(song(VERSE, CHORUS, sounds=calls),)),)), Rig("two", boards)
    )
    seen = view(after(book, Next), Surroundings(waiting=(None, PIANO)))
    (told,) = [line for line in seen.lines if line.part is LineRole.SOUND and line.mark is LineMark.CIRCLE]
    assert told == ViewLine(LineRole.SOUND, "tonewheel organ", "upper, lift hands:", mark=LineMark.CIRCLE)
    for size, width_mm, label in (((1920, 1080), 345, "upper, lift hands:"), ((640, 360), 150, "lift hands:")):
        blocks = lay_out(seen, page_of(size, size, width_mm, 1.2), typeface())
        assert label in [block.text for block in blocks], "on a small page, the board's name goes before the hands"


@pytest.mark.parametrize(
    ("sound", "lost", "told"),
    [
        (
            "choir",
            (),
            ViewLine(LineRole.SOUND, "choir: bank B, button 4", shorter=("bank B, button 4",), mark=LineMark.CIRCLE),
        ),
        (
            "choir",
            ("Stage Piano",),
            ViewLine(LineRole.SOUND, "choir: bank B, button 4", shorter=("bank B, button 4",), mark=LineMark.CIRCLE),
        ),
        ("grand piano", ("Stage Piano",), ViewLine(LineRole.SOUND, "grand piano", mark=LineMark.RIPPED)),
        ("grand piano", (), ViewLine(LineRole.SOUND, "grand piano", mark=LineMark.TAPE)),
    ],
)
def test_sounds_set_by_hand_are_named_and_a_lost_keyboards_strip_is_torn(
    sound: str, lost: tuple[str, ...], told: ViewLine
) -> None:
    road_map = (VERSE, replace(CHORUS, sounds=(SoundCall(sound),)))
    seen = playing(*road_map, steps=2, around=Surroundings(lost=lost), sounds=(SoundCall("tonewheel organ"),))
    assert [line for line in seen.lines if line.part is LineRole.SOUND] == [told]


def test_a_sound_set_by_hand_is_circled_until_confirmed_or_the_next_step() -> None:
    road_map = (VERSE, replace(CHORUS, sounds=(SoundCall("choir"),)), SOLO)
    plain = ViewLine(LineRole.SOUND, "choir", mark=LineMark.TAPE)
    asked = [
        playing(*road_map, steps=2).of(LineRole.SOUND),
        playing(*road_map, steps=2, around=Surroundings(by_hand_done=frozenset((0,)))).of(LineRole.SOUND),
        playing(*road_map, steps=3).of(LineRole.SOUND),
    ]
    assert [line.mark for line in asked if line] == [LineMark.CIRCLE, LineMark.TAPE, LineMark.TAPE]
    assert asked[1:] == [plain, plain]


def test_of_two_keyboards_the_sections_sound_is_on_tape_and_the_leftover_in_pencil() -> None:
    rig = Rig("two", (RIG.keyboards[0], replace(RIG.keyboards[0], name="upper", port="Foldaway Synth")))
    both = (SoundCall("grand piano", "lower"), SoundCall("tonewheel organ", "upper"))
    one = Song("Kettle", road_map=(VERSE, CHORUS), sounds=(SoundCall("tonewheel organ", "lower"),))
    book, _ = make_book(Show("Pier", sets=(Set("First", songs=(song(VERSE, sounds=both), one)),)), rig)
    first, second = (view(after(book, *[Next] * steps), CALM) for steps in (1, 3))
    assert [line for line in first.lines if line.part is LineRole.SOUND] == [
        ViewLine(LineRole.SOUND, "grand piano", "lower", mark=LineMark.TAPE),
        ViewLine(LineRole.SOUND, "tonewheel organ", "upper", mark=LineMark.TAPE),
    ]
    assert [line for line in second.lines if line.part is LineRole.SOUND] == [
        ViewLine(LineRole.SOUND, "tonewheel organ", "lower", mark=LineMark.TAPE),
        ViewLine(LineRole.SOUND, "tonewheel organ", "upper"),
    ]


TWO = Rig("two", (RIG.keyboards[0], replace(RIG.keyboards[0], name="upper", port="Foldaway Synth")))
LOWER, UPPER = SoundCall("grand piano", "lower"), SoundCall("tonewheel organ", "upper")


@pytest.mark.parametrize(
    ("of_song", "of_sections", "played"),
    [
        # Each of the four steps of 'Which sound is on' (the guide's page on show files), as a player reads them.
        ((LOWER,), {"Intro": (UPPER,), "Verse": (), "Chorus": ()}, "upper, lower, lower"),
        ((LOWER,), {"Verse": (UPPER,), "Chorus": (), "verse": ()}, "upper, lower, upper"),
        ((), {"Intro": (UPPER,), "Verse": (), "Solo": (LOWER,), "Chorus": ()}, "upper, upper, lower, lower"),
        ((LOWER, UPPER), {"Intro": (), "Solo": (UPPER,), "Chorus": ()}, "lower upper, upper, lower upper"),
    ],
)
def test_of_two_keyboards_only_those_that_the_section_calls_for_are_on_tape(
    of_song: tuple[SoundCall, ...], of_sections: dict[str, tuple[SoundCall, ...]], played: str
) -> None:
    road_map = [replace(VERSE, name=name, sounds=calls) for name, calls in of_sections.items()]
    one = Song("Kettle", road_map=tuple(road_map), sounds=of_song)
    book, _ = make_book(Show("Pier", sets=(Set("First", songs=(one,)),)), TWO)
    seen = [view(after(book, *[Next] * steps), CALM) for steps in range(1, len(road_map) + 1)]
    taped = [" ".join(line.label for line in one.lines if line.mark is LineMark.TAPE) for one in seen]
    assert ", ".join(taped) == played
    assert view(after(book), CALM).of(LineRole.SOUND) == seen[0].of(LineRole.SOUND), "up next says it as well"
