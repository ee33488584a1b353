"""Times of day and lengths as people write and say them in the languages of leaders."""

import pytest

from companion.leader.clock_grammar import TimedText, clock_at
from companion.leader.length_grammar import length_said
from companion.leader.reply_words import words_of

# Common practice in each language, no source.
CLOCKS = [
    ("19:30", "19:30"), ("19.30", "19:30"), ("19h30", "19:30"), ("19u30", "19:30"), ("7.30pm", "19:30"),
    ("7 pm", "19:00"), ("8:30 in the morning", "8:30"), ("0:30", "0:30"), ("23 h", "23:00"), ("20 órakor", "20:00"),
    ("nyolctól", "8:00"),
    ("half eight", "8:30"), ("half past eight", "8:30"), ("halb acht", "7:30"), ("half acht", "7:30"),
    ("halv ni", "8:30"), ("půl osmé", "7:30"), ("wpół do ósmej", "7:30"), ("fél nyolc", "7:30"),
    ("puoli kahdeksan", "7:30"), ("dos quarts de vuit", "7:30"), ("osam i pol", "8:30"), ("ocho y media", "8:30"),
    ("otto e mezza", "8:30"), ("oito e meia", "8:30"), ("huit heures et demie", "8:30"),
    ("quarter to ten", "9:45"), ("a quarter past eight", "8:15"), ("kwart voor tien", "9:45"),
    ("kvart på ni", "8:45"), ("kvart över åtta", "8:15"), ("huit heures et quart", "8:15"),
    ("nueve menos cuarto", "8:45"), ("za kwadrans ósma", "7:45"), ("varttia vaille kahdeksan", "7:45"),
    ("čtvrt na osm", "7:15"), ("tři čtvrtě na osm", "7:45"), ("negyed nyolc", "7:15"), ("viertel acht", "7:15"),
    ("twenty past nine", "9:20"), ("twenty to ten", "9:40"), ("ten past nine", "9:10"), ("nueve menos diez", "8:50"),
    ("fünf vor halb neun", "8:25"), ("tien over half acht", "7:40"), ("ten fifteen", "10:15"),
    ("ten forty five", "10:45"), ("vingt heures trente", "20:30"), ("osiemnasta trzydzieści", "18:30"),
    ("nine o'clock", "9:00"), ("ten o clock", "10:00"), ("acht Uhr", "8:00"), ("saith o'r gloch", "7:00"),
    ("midnight", "24:00"), ("noon", "12:00"), ("meia-noite menos um quarto", "23:45"), ("dos de la mañana", "2:00"),
]  # fmt: skip


@pytest.mark.parametrize(("said", "time"), CLOCKS)
def test_a_time_of_day_is_read_in_figures_and_in_words(said: str, time: str) -> None:
    words = words_of(said)
    found = clock_at(TimedText(words), 0)
    assert found is not None
    assert (f"{found.minutes // 60}:{found.minutes % 60:02}", found.end) == (time, len(words))


@pytest.mark.parametrize("said", ["nine", "1745", "osmi", "8"])
def test_a_plain_number_is_a_time_only_after_a_word_that_asks_for_one(said: str) -> None:
    line = TimedText(words_of(said))
    assert clock_at(line, 0) is None
    assert clock_at(line, 0, is_asked=True) is not None


@pytest.mark.parametrize("said", ["45 mins", "an hour", "Moth", "19:75", "25:10", "half the band", "2 Am"])
def test_other_words_are_no_time_of_day(said: str) -> None:
    assert clock_at(TimedText(words_of(said)), 0) is None


LENGTHS = [
    ("45 mins", 45), ("40-minute", 40), ("forty five minutes", 45), ("45 perc", 45), ("cuarenta y cinco minutos", 45),
    ("an hour", 60), ("two hours", 120), ("1 hour 15", 75), ("1.5 hours", 90), ("an hour and ten", 70),
    ("an hour and a half", 90), ("an hour and a quarter", 75), ("three quarters of an hour", 45),
    ("a quarter of an hour", 15), ("half an hour", 30), ("1h15", 75), ("eineinhalb Stunden", 90),
    ("anderhalf uur", 90), ("drie kwartier", 45), ("een uur", 60), ("en timme", 60), ("en kvart", 15),
    ("halvanden time", 90), ("une heure et demie", 90), ("trois quarts d'heure", 45), ("hora y cuarto", 75),
    ("un'ora e mezza", 90), ("mezz'ora", 30), ("uma hora", 60), ("hodina", 60), ("hodinu a půl", 90),
    ("půl hodiny", 30), ("półtorej godziny", 90), ("dwóch godzin", 120), ("sat vremena", 60),
    ("puolitoista tuntia", 90), ("hora i mitja", 90),
]  # fmt: skip


@pytest.mark.parametrize(("said", "minutes"), LENGTHS)
def test_a_length_is_read_in_figures_and_in_words(said: str, minutes: int) -> None:
    words = words_of(said)
    found = length_said(TimedText(words), 0)
    assert found is not None
    assert found == (minutes, len(words))
