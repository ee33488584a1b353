"""A key that changes the order of the show says what it did and what takes it back, and takes no other word's place."""

import msgspec
import pytest
from night.evening import PEDALS, Evening
from stage.scenes import book_of, rig_of, song

from companion.night.happenings import KeyReceived
from companion.rig import Action, Pedal, Rig
from companion.screen.layout import lay_out
from companion.screen.page import PageSize, page_of
from companion.screen.screen_fonts import typeface
from companion.show import Section, Set, Show, Song
from companion.stage import Book, make_book
from companion.view import LineRole

RIG = msgspec.structs.replace(rig_of("lower"), pedals=PEDALS)
SONGS = [
    song("A", "Intro @organ, Verse @lead, Bridge, Chorus @strings"),
    song("Kettle on the Jetty (the long version)", "Intro @pad"),
    song("Seven Steps Down to the Old Slipway by the Harbour", "Intro @pad"),
    song("D"),
]


def show(rig: Rig = RIG, *, encore: bool = True) -> Book:
    sets = [Set("First", songs=tuple(SONGS)), *([Set("Encore", songs=(song("E"),))] if encore else [])]
    return make_book(Show("test", sets=tuple(sets)), rig)[0]


def notices(evening: Evening) -> list[str]:
    return [line.text for line in evening.wall.views[-1].lines if line.part is LineRole.NOTICE]


@pytest.mark.parametrize(
    ("key", "words"),
    [
        ("delete", "dropped: Kettle on the Jetty; to undo: backspace"),
        ("w", "swapped: Seven Steps Down to… before Kettle on the Jetty; to undo: backspace"),
        ("m", "to the encore: Kettle on the Jetty; to undo: backspace"),
        ("x", "left out: Verse; to undo: backspace"),
    ],
)
def test_a_key_that_changes_the_order_says_so_and_what_takes_it_back(key: str, words: str) -> None:
    evening = Evening(show())
    evening.press()
    evening.key(key)
    assert notices(evening) == [words]
    assert words in evening.said, "the terminal has it too"
    assert len([word for word in words.split() if word != "…"]) <= 14
    evening.key("backspace")
    assert notices(evening) == [], "it is undone"


@pytest.mark.parametrize("key", ["delete", "w", "m", "x"])
def test_it_goes_with_the_next_step_since_backspace_would_then_take_that_back(key: str) -> None:
    evening = Evening(show())
    evening.press()
    evening.key(key)
    evening.press()
    assert notices(evening) == []


def test_it_goes_by_itself_after_a_while() -> None:
    evening = Evening(show())
    evening.key("delete")
    evening.now_ms += 6100
    evening.night.take(None)
    assert notices(evening) == []


@pytest.mark.parametrize("key", ["delete", "w", "m", "x"])
def test_where_nothing_can_be_changed_nothing_is_said(key: str) -> None:
    evening = Evening(book_of([song("A", "Intro")], rig=RIG))
    evening.press()
    evening.key(key)
    assert notices(evening) == []


def test_without_an_encore_the_song_goes_to_the_end() -> None:
    evening = Evening(show(encore=False))
    evening.press()
    evening.key("m")
    assert notices(evening) == ["to the end: Kettle on the Jetty; to undo: backspace"]


@pytest.mark.parametrize(
    ("pedal", "undo"),
    [
        (Pedal("third", port="Foot Box", channel=1, control=66, press=Action.TAKE_BACK), "; to undo: third"),
        (Pedal("turner", key="backspace", press=Action.BACK), ""),
    ],
)
def test_the_rigs_own_switch_is_named(pedal: Pedal, undo: str) -> None:
    evening = Evening(show(msgspec.structs.replace(RIG, pedals=(*PEDALS, pedal))))
    evening.press()
    evening.key("x")
    assert notices(evening) == [f"left out: Verse{undo}"]


@pytest.mark.parametrize("key", ["delete", "w", "m", "x"])
@pytest.mark.parametrize("size", [(1024, 600), (1366, 768), (1080, 1920)])
def test_section_next_title_and_sound_keep_their_places(key: str, size: tuple[int, int]) -> None:
    evening = Evening(show())
    evening.press()
    page = page_of(size, size)
    before = words_on(evening, page)
    evening.night.take(KeyReceived(key, down=True))
    after = words_on(evening, page)
    for part in (LineRole.SECTION, LineRole.TITLE, LineRole.SOUND, LineRole.NEXT):
        assert after[part] == before[part] or (part is LineRole.NEXT and key == "x")
    assert "undo" in after[LineRole.NOTICE]


def words_on(evening: Evening, page: PageSize) -> dict[LineRole, str]:
    words: dict[LineRole, str] = {}
    for block in lay_out(evening.wall.views[-1], page, typeface()):
        words[block.part] = f"{words.get(block.part, '')} {block.text}".strip()
    return words


@pytest.mark.parametrize("size", [(1024, 600), (1280, 800), (1366, 768)])
def test_each_of_several_drops_names_its_song(size: tuple[int, int]) -> None:
    songs = [song(title) for title in ("A", "Disco on the Slipway Tonight", "Last Orders at Eight", "Old Rope", "Z")]
    evening = Evening(make_book(Show("test", sets=(Set("First", songs=tuple(songs)),)), RIG)[0])
    evening.press()
    for named in ("Disco on", "Last Orders", "Old Rope"):
        evening.key("delete")
        assert words_on(evening, page_of(size, size))[LineRole.NOTICE].startswith(f"dropped: {named}")


CUE = "two fingers from the drummer, then all stop together, then in again at once"
FULL = Section("Solo", 8, feature="solo", open=True, watch="drummer", cue=CUE)


@pytest.mark.parametrize(
    ("section", "words"),
    [
        (Section("Solo", 8), "swapped: Marigold Lane before Slow Boat to the…; to undo: backspace"),
        (FULL, "next: Marigold Lane; to undo: backspace"),
    ],
)
@pytest.mark.parametrize("size", [(1280, 720), (1366, 768), (1920, 1080)])
def test_a_swap_names_its_songs_and_takes_no_room_from_a_cue(
    size: tuple[int, int], section: Section, words: str
) -> None:
    songs = (Song("Anvil", road_map=(section,)), Song("Slow Boat to the Lighthouse"), Song("Marigold Lane"))
    evening = Evening(make_book(Show("test", sets=(Set("First", songs=songs),)), RIG)[0])
    evening.press()
    page = page_of(size, size, 345, 1.8)
    before = words_on(evening, page)
    evening.key("w")
    after = words_on(evening, page)
    assert after[LineRole.NOTICE] == words
    assert [after.get(part) for part in (LineRole.CUE, LineRole.WATCH)] == [
        before.get(part) for part in (LineRole.CUE, LineRole.WATCH)
    ]
