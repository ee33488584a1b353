"""Lists typed in a hurry: words behind keys, encores on a condition, numbers and versions on lines of their own."""

import pytest

from companion.errors import FaultyFile
from companion.setlist import SetList
from companion.setlist.list_reading import list_in
from companion.show import Song


def read(text: str, name: str = "list.txt") -> SetList:
    return list_in(text.encode(), name)


def songs(found: SetList) -> list[Song]:
    return [song for one in found.show.sets for song in one.songs]


KEYED = "Gasworks Corner - A\n{line}\nHarbour Lamps (D)\nMoth - Gm"


@pytest.mark.parametrize(
    ("line", "title", "key", "notes"),
    [
        ("Kettle Blues - in C, 12 bar, bit of a jam", "Kettle Blues", "C", "12 bar, bit of a jam"),
        ("Two Wet Feet - G then up to A for last chorus", "Two Wet Feet", "G", "then up to A for last chorus"),
        (
            "Fog Signal -  Bb, gospel organ, big feature for you",
            "Fog Signal",
            "Bb",
            "gospel organ, big feature for you",
        ),
        ("Velvet Anorak (Am) synth bit, proper 80s", "Velvet Anorak", "Am", "synth bit, proper 80s"),
        ("Slow Ferry Home Bm stop dead at end", "Slow Ferry Home", "Bm", "stop dead at end"),
    ],
)
def test_a_title_with_its_key_is_a_song_whatever_words_follow(line: str, title: str, key: str, notes: str) -> None:
    found = songs(read(KEYED.format(line=line)))
    assert len(found) == 4
    assert (found[1].title, str(found[1].key), found[1].notes) == (title, key, notes)


def test_a_line_that_ends_in_a_key_is_not_the_first_half_of_a_wrapped_title() -> None:
    found = songs(read("Gasworks Corner - A\nLong Way to the Quay A\nNine Wet Umbrellas - Eb\nMoth (G)\nWeeds - Gm"))
    assert [song.title for song in found][2:] == ["Nine Wet Umbrellas", "Moth", "Weeds"]
    assert found[1].title.startswith("Long Way to the Quay")


@pytest.mark.parametrize("words", ["if they're not all drunk", "if anyone is still up", "if not too late"])
def test_an_encore_on_any_condition_heads_its_set(words: str) -> None:
    found = read(f"SET 1\nGasworks Corner - A\nMoth - G\nWeeds - Eb\n\nENCORE {words}\nTram Home - A")
    assert [(one.name, len(one.songs)) for one in found.show.sets] == [("First", 3), ("Encore", 1)]


def test_another_key_in_a_note_makes_the_key_doubtful_and_a_cold_is_no_ending() -> None:
    found = read("Title,Key,Notes\nMoth,D,maybe Dm depends on Dols cold\nWeeds,G,cold\nTram Home,A,fiddle", "list.csv")
    assert [song.ending and song.ending.value for song in songs(found)] == [None, "cold", None]
    assert [doubt.says for doubt in found.lines[1].doubts] == ["the note says: maybe Dm depends on Dols cold"]


@pytest.mark.parametrize(
    "text",
    [
        "Hi Kim\nDrop Moth and Weeds\nTram Home back in D\nadd Slow Ferry (Eb) after Harbour Lamps",
        "Drop Moth and Weeds, Tram Home back in D, add Slow Ferry after Harbour Lamps",
    ],
)
def test_changes_to_a_list_are_not_taken_for_a_list_without_a_word(text: str) -> None:
    assert any("changes to an earlier list" in doubt.says for doubt in read(text).doubts)


def test_changes_without_a_song_are_refused_with_the_reason() -> None:
    with pytest.raises(FaultyFile, match="looks like changes to a list"):
        read("Hi Kim, please drop the first two, swap the last two and move the waltz up, cheers.")


def test_numbers_on_lines_of_their_own_count_the_titles_below_them() -> None:
    found = read("1\nMoth\n2\nKettle on the Jetty\n3\nHarbour Lamps\n4\nWeeds")
    assert [song.title for song in songs(found)] == ["Moth", "Kettle on the Jetty", "Harbour Lamps", "Weeds"]


@pytest.mark.parametrize("head", ["v{}", "Set list v{}", "Version {}:"])
def test_of_two_versions_the_later_one_is_read(head: str) -> None:
    first, second = "Moth - C\nKettle - D\nWeeds - Em", "Moth - C\nKettle - D\nHarbour Lamps - G"
    found = read(f"{head.format(1)}\n{first}\n\n{head.format(2)}\n{second}")
    assert [song.title for song in songs(found)] == ["Moth", "Kettle", "Harbour Lamps"]


def test_a_first_song_with_a_capo_does_not_name_the_list() -> None:
    found = read("Gasworks Corner (capo 2)\nMoth - C\nKettle - D\nHarbour Lamps - G\nFog - Em")
    assert songs(found)[0].title == "Gasworks Corner"


def test_a_last_line_without_a_bullet_is_asked_about() -> None:
    found = read("- Moth\n- Kettle on the Jetty\n- Harbour Lamps\n- Weeds\nFog Signal")
    assert [doubt.question for doubt in found.lines[-1].doubts] == ["Is 'Fog Signal' a song?"]


def test_a_phone_number_is_no_song() -> None:
    found = read("Moth\nKettle on the Jetty\nHarbour Lamps\nWeeds\nCall 01632 960123")
    assert [song.title for song in songs(found)][-1] == "Weeds"


@pytest.mark.parametrize(("form", "name"), [("{}. {} - {}", "list.txt"), ("{},{},{}", "list.csv")])
@pytest.mark.parametrize("mark", ["NEW", "-2", "+1"])
def test_a_mark_behind_a_key_leaves_the_key(form: str, name: str, mark: str) -> None:
    rows = [("Moth", f"C {mark}"), ("Kettle", "D"), ("Weeds", "G"), ("Harbour Lamps", "Em")]
    head = "" if name.endswith("txt") else "No,Title,Key\n"
    found = read(head + "\n".join(form.format(at, *row) for at, row in enumerate(rows, start=1)), name)
    assert (str(songs(found)[0].key), songs(found)[0].notes) == ("C", mark)


@pytest.mark.parametrize("between", [" - ", " ", " ("])
@pytest.mark.parametrize("case", ["F#m ... or Em if Dan's voice is gone", "F#m, or Em when Jo has a cold"])
def test_a_key_for_another_case_is_not_the_songs_key(between: str, case: str) -> None:
    end = ")" if between == " (" else ""
    found = read(f"1. Moth - G\n2. Electric Picnic{between}{case}{end}\n3. Tin Hat - A")
    song = found.show.sets[0].songs[1]
    assert (song.title, str(song.key)) == ("Electric Picnic", "F#m")
    assert case.partition("or ")[2] in (song.notes or "")
    assert [doubt.question for line in found.lines for doubt in line.doubts] == ["Is 'Electric Picnic' in F#m?"]


@pytest.mark.parametrize("between", [" - ", " ", " ("])
def test_a_key_that_depends_on_something_is_left_open(between: str) -> None:
    end = ")" if between == " (" else ""
    found = read(f"1. Moth - G\n2. Electric Picnic{between}A or G depending on who sings{end}\n3. Tin Hat - A")
    song = songs(found)[1]
    assert (song.title, song.key) == ("Electric Picnic", None)
    assert [doubt.question for line in found.lines for doubt in line.doubts] == ["Which key is 'Electric Picnic' in?"]


@pytest.mark.parametrize(
    ("line", "key", "notes"),
    [
        ("Kettle Blues. D. no drums last verse", "D", "no drums last verse"),
        ("Kettle Blues. Em. Everybody claps", "Em", "Everybody claps"),
        ("Kettle Blues, F. Pianointro!", "F", "Pianointro!"),
        ("Kettle Blues (Dulcie's one, F#m, she counts)", "F#m", "Dulcie's one; she counts"),
    ],
)
def test_a_key_between_two_points_or_commas_ends_the_title(line: str, key: str, notes: str) -> None:
    found = songs(read(KEYED.format(line=line)))
    assert (found[1].title, str(found[1].key), found[1].notes) == ("Kettle Blues", key, notes)


def test_an_initial_between_points_is_no_key() -> None:
    assert songs(read(KEYED.format(line="Kettle Blues, D. Marsh")))[1].key is None


@pytest.mark.parametrize("words", ["I think", "glaub ich"])
def test_a_key_of_which_somebody_is_unsure_is_read_in_doubt(words: str) -> None:
    found = read(KEYED.format(line=f"Kettle Blues. C {words}"))
    assert (songs(found)[1].title, str(songs(found)[1].key)) == ("Kettle Blues", "C")
    assert [doubt.question for line in found.lines for doubt in line.doubts] == ["Is 'Kettle Blues' in C?"]


SINGERS = "Dulcie - Moth, D\nDulcie - {} (G)\nPete - Weeds (A)\nPete - Jam Jar (Em)\nAll - {}\nPete - Tidal Clock (C)\n"


def test_a_title_in_small_letters_behind_its_singer_is_the_title() -> None:
    found = read(SINGERS.format("the Late Tram Home", "Fog Bell. D. no instruments last verse"))
    titles = ["Moth", "the Late Tram Home", "Weeds", "Jam Jar", "Fog Bell", "Tidal Clock"]
    assert [song.title for song in songs(found)] == titles
    assert songs(found)[1].notes == "Dulcie"


@pytest.mark.parametrize("words", ["dunno", "no idea", "keine Ahnung"])
def test_a_bracket_that_says_that_nobody_knows_the_key_leaves_it_open(words: str) -> None:
    found = read(f"Moth (D)\nKettle Blues ({words})\nWeeds (A)\nFog Bell (Em)\n")
    assert (songs(found)[1].title, songs(found)[1].key) == ("Kettle Blues", None)
    assert [doubt.asks_for for line in found.lines for doubt in line.doubts] == ["key"]


def test_a_shouted_key_that_is_no_word_is_the_key_whatever_else_the_list_has() -> None:
    found = songs(read("Moth - D\nKettle Blues Gm!\nWeeds - A\nFog Bell .. Em\nTidal Clock - C\n"))
    assert (found[1].title, str(found[1].key)) == ("Kettle Blues", "Gm")
