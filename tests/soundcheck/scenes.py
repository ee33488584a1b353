"""A small show on two keyboards, ready for its sound check."""

from stage.scenes import show_of

from companion.rig import Action, Keyboard, Pedal, Rig, Sound, Sustain
from companion.show import Section, Song, SoundCall
from companion.soundcheck.check.check_state import SoundCheck, at_start
from companion.stage import Book, make_book

PIANO = Sound("grand piano", 0, panel="1")
ORGAN = Sound("organ", 16, controls=((7, 110),), panel="17")
STRINGS = Sound("strings", 48, panel="49")
LEAD = Sound("lead", 81, panel="82")
CHOIR = Sound("choir", by_hand="bank B, button 4")
LOWER = Keyboard("lower", port="Stage Piano", sounds=(PIANO, ORGAN, STRINGS, CHOIR))
UPPER = Keyboard("upper", port="Foldaway Synth", channel=2, sounds=(LEAD,))
RIG = Rig(
    "Home",
    keyboards=(LOWER, UPPER),
    pedals=(
        Pedal("right", port="Foot Box", channel=1, control=64, press=Action.NEXT),
        Pedal("left", port="Foot Box", channel=1, control=67, press=Action.BACK),
        Pedal("turner", key="page down", press=Action.NEXT),
    ),
    sustain=(Sustain("Stage Piano"),),
)


def part(name: str, *sounds: str, feature: str | None = None) -> Section:
    return Section(name, bars=8, sounds=tuple(SoundCall(sound) for sound in sounds), feature=feature)


SONGS = (
    Song("Gasworks Corner", road_map=(part("Intro", "grand piano"), part("Verse", "organ"), part("Chorus", "strings"))),
    Song("Kettle on the Jetty", road_map=(part("Verse", "organ"), part("Solo", "lead", feature="solo"))),
    Song("Wet Paint", sounds=(SoundCall("choir"),)),
)


def book_on(rig: Rig = RIG, songs: tuple[Song, ...] = SONGS) -> Book:
    book, missed = make_book(show_of(songs), rig)
    assert not missed
    return book


def begun(rig: Rig = RIG, *, minutes: float | None = None) -> SoundCheck:
    return at_start(book_on(rig), minutes=minutes)
