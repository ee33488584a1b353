"""A song's own chart in place of the view: turned by the pedal that steps, and a step can always be had."""

from msgspec.structs import replace
from night.evening import Evening
from stage.scenes import book_of, rig_of, song

from companion.night.chart_up import NO_CHART
from companion.night.happenings import ShowRead
from companion.rig import Action, Pedal
from companion.view import ChartIs, ChartView

PRESS = "B0 40 7F"


def evening(*pedals: Pedal, chart: str | bool | None = "kettle.pdf") -> Evening:
    rig = replace(rig_of("lower"), pedals=pedals) if pedals else None
    kettle = replace(song("Kettle", "Intro @organ, Verse @lead, Chorus @strings"), chart=chart)
    one = Evening(rig=rig)
    book = book_of([kettle, song("Harbour", "Intro @pad")], rig=one.book.rig)
    found = Evening(book, rig=rig)
    found.new()
    return found


def chart(one: Evening) -> ChartView | None:
    return one.wall.views[-1].chart


def section(one: Evening) -> str:
    here = one.night.state.section
    assert here is not None
    return here.section.name


def with_chart(turns: int, *pedals: Pedal) -> Evening:
    one = evening(*pedals)
    one.key("page down") if not pedals else one.press()
    one.key("tab")
    one.night.take(ChartIs("kettle.pdf", turns))
    return one


def test_one_key_shows_and_hides_the_chart() -> None:
    one = evening()
    assert chart(one) is None
    one.key("tab")
    assert chart(one) == ChartView("kettle.pdf")
    one.key("tab")
    assert chart(one) is None


def test_next_turns_the_chart_to_its_end_and_then_steps() -> None:
    one = with_chart(3)
    for turn in (1, 2):
        one.press()
        assert (chart(one), section(one), one.new()) == (ChartView("kettle.pdf", turn), "Intro", [])
    one.press()
    assert (chart(one), section(one)) == (ChartView("kettle.pdf", 2), "Verse")
    assert one.new()


def test_back_turns_the_same_way_back() -> None:
    one = with_chart(3)
    for _ in range(4):
        one.press()
    assert section(one) == "Chorus"
    seen = []
    for _ in range(5):
        one.press(67)
        up = chart(one)
        seen.append((section(one), up.turn if up else None))
    assert seen == [("Verse", 2), ("Intro", 2), ("Intro", 1), ("Intro", 0), ("Intro", 0)]


def test_skip_steps_whatever_is_left_to_turn() -> None:
    one = with_chart(3)
    one.new()
    one.key("s")
    assert (chart(one), section(one)) == (ChartView("kettle.pdf"), "Verse")
    assert one.new()


def test_next_steps_while_the_charts_length_is_unknown() -> None:
    one = evening()
    one.key("page down")
    one.key("tab")
    one.press()
    assert section(one) == "Verse"


def test_the_chart_closes_with_its_song() -> None:
    one = with_chart(1)
    for _ in range(3):
        one.press()
    assert one.night.state.song is not None
    assert one.night.state.song.song.title == "Harbour"
    assert chart(one) is None
    one.key("p")
    assert chart(one) is None


def test_a_hold_undoes_the_turn_of_its_own_press() -> None:
    single = Pedal("one", port="Foot Box", channel=1, control=64, press=Action.NEXT)
    one = with_chart(3, single)
    one.press()
    one.midi(PRESS)
    assert chart(one) == ChartView("kettle.pdf", 2)
    one.now_ms += 900
    one.night.take(None)
    assert (chart(one), section(one)) == (ChartView("kettle.pdf", 0), "Intro")


def test_an_unreadable_chart_is_reported_and_the_view_stays() -> None:
    one = evening()
    one.key("tab")
    one.night.take(ChartIs("kettle.pdf", problem="the chart is broken"))
    assert chart(one) is None
    assert "the chart is broken" in one.said
    assert any(line.text == "the chart is broken" for line in one.wall.views[-1].lines)


def test_news_of_another_chart_changes_nothing() -> None:
    one = with_chart(2)
    one.night.take(ChartIs("other.pdf", problem="the chart is broken"))
    one.night.take(ChartIs("other.pdf", 9))
    one.press()
    one.press()
    assert (chart(one), section(one)) == (ChartView("kettle.pdf", 1), "Verse")


def test_a_song_without_a_chart_file_says_so() -> None:
    for nothing in (None, True, False, "https://example.org/kettle.pdf"):
        one = evening(chart=nothing)
        one.key("tab")
        assert chart(one) is None
        assert one.said == [NO_CHART]


def test_the_number_of_turns_follows_the_size_of_the_screen() -> None:
    one = with_chart(4)
    for _ in range(3):
        one.press()
    one.night.take(ChartIs("kettle.pdf", 2))
    assert chart(one) == ChartView("kettle.pdf", 1)
    assert section(one) == "Intro"


def test_the_page_of_keys_and_the_call_box_cover_the_chart_and_it_returns() -> None:
    one = with_chart(2)
    one.key("?")
    assert chart(one) is None
    one.key("?")
    one.key("l")
    assert chart(one) is not None
    one.key("f")
    assert chart(one) is None
    one.key("escape")
    assert chart(one) is not None


def test_a_pedal_can_show_the_chart() -> None:
    one = evening(
        Pedal("chart", port="Foot Box", channel=1, control=64, press=Action.CHART),
        Pedal("right", key="page down", press=Action.NEXT),
    )
    one.press()
    assert chart(one) == ChartView("kettle.pdf")


def test_the_chart_does_not_turn_behind_the_page_of_keys() -> None:
    one = with_chart(3)
    one.new()
    one.key("?")
    one.press()
    assert section(one) == "Verse"
    assert one.new()


def test_a_chart_removed_from_the_edited_show_closes_at_once() -> None:
    one = with_chart(3)
    one.night.take(ShowRead(book_of([song("Kettle", "Intro @organ, Verse @lead")], rig=one.book.rig)))
    assert chart(one) is None
    one.press()
    assert section(one) == "Verse"
