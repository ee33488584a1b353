"""Talk below a list that names songs by their numbers or answers a question about one (invented lists)."""

import pytest

from companion.setlist.list_reading import list_in

CHAT = """12.1.26, 18:15 - Ida: 1. Rust Bucket
12.1.26, 18:15 - Ida: 2. Paper Tram (D)
12.1.26, 18:15 - Ida: 3. Old Kettle (Am)
12.1.26, 18:16 - Ida: 4. Grey Hen (C)
12.1.26, 18:16 - Ida: 5. Low Bridge (F)
"""


def songs_of(text: str) -> str:
    found = list_in(text.encode(), "list.txt").show.sets
    return "; ".join(f"{song.title}={song.key}" for one in found for song in one.songs)


def test_the_answer_to_a_question_gives_its_song_the_key() -> None:
    chat = f"{CHAT}12.1.26, 18:19 - Tom: rust bucket is in?\n12.1.26, 18:22 - Ida: E. sorry\n"
    assert songs_of(chat).startswith("Rust Bucket=E; ")


def test_a_song_goes_by_its_number_and_another_comes_in_its_place() -> None:
    chat = f"{CHAT}12.1.26, 18:26 - Ida: Drop no 4. Put Wet Dog there in G then\n"
    assert songs_of(chat) == "Rust Bucket=None; Paper Tram=D; Old Kettle=Am; Wet Dog=G; Low Bridge=F"
    assert "Grey Hen" not in songs_of(f"{CHAT}12.1.26, 18:26 - Ida: we drop no 4, Tom hates it\n")


def test_a_message_that_begins_with_a_song_s_number_is_a_note_on_it() -> None:
    found = list_in(f"{CHAT}12.1.26, 18:25 - Tom: 3 starts with just drums now\n".encode(), "list.txt").show.sets[0]
    assert [song.title for song in found.songs][2:] == ["Old Kettle", "Grey Hen", "Low Bridge"]
    assert "just drums" in (found.songs[2].notes or "")


def test_a_song_said_to_come_after_another_is_placed_there() -> None:
    songs = "Rostlaube (G)\nPapierboot (D)\nKessel (Am)\nHenne (C)\n\n"
    placed = "Rostlaube=G; Papierboot=D; Halbmond=F; Kessel=Am; Henne=C"
    assert songs_of(f"{songs}Nach Papierboot kommt noch Halbmond (F)\n") == placed
    small = "rust bucket in G / paper tram in D / kettle in A / hen in C\nforgot one. after paper tram we do fog in F\n"
    assert songs_of(small) == "rust bucket=G; paper tram=D; fog=F; kettle=A; hen=C"


def test_titles_between_commas_outnumber_the_few_keys_that_are_said_of_them() -> None:
    text = (
        "Hello Ida, songs for Sunday: Rust Bucket, Paper Tram, Old Kettle, Low Bridge, Grey Hen, Last Bus. "
        "Paper Tram is in Eb and we do Grey Hen in C. Doors 7\n"
    )
    assert songs_of(text) == (
        "Rust Bucket=None; Paper Tram=Eb; Old Kettle=None; Low Bridge=None; Grey Hen=C; Last Bus=None"
    )


def test_short_headings_stand_before_titles_without_keys() -> None:
    text = (
        "Hi, off the top of my head:\n\n1st: Rust Bucket / Paper Tram / Old Kettle\n2nd: Low Bridge / Grey Hen / Fog\n"
    )
    assert [len(one.songs) for one in list_in(text.encode(), "list.txt").show.sets] == [3, 3]


def test_a_title_with_many_more_words_than_the_others_is_asked_about() -> None:
    text = "Moth - D\nWeeds - C\nFog Bell - G\nanyway what we open it with now is usually Kite - E\nJam Jar - A\n"
    lines = list_in(text.encode(), "list.txt").lines
    assert any(line.doubts for line in lines if "anyway" in line.text)


@pytest.mark.parametrize(
    "said", ["is the name of my boat 😂", "haha who wrote that", "is my favourite", "title of the year", "lol why 🤣"]
)
def test_a_joke_about_a_song_is_no_note_on_it(said: str) -> None:
    reading = list_in(f"{CHAT}12.1.26, 18:25 - Tom: 3 {said}\n".encode(), "list.txt")
    assert [song.notes for song in reading.show.sets[0].songs] == [None] * 5
    assert said in (reading.show.notes or ""), "the message is kept"
