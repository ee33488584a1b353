"""Pasted chats in which a line alone names who wrote the message below it, or when."""

import pytest
from setlist.reading_texts import read, said

TALK = (
    ("{me}", "1", "got the list?"),
    ("{band}", "2", "here\nPostbox Tango - Bb\nNine Wet Umbrellas - Gm\nHarbour Lamps - C"),
    ("{me}", "3", "parking?"),
    ("{band}", "4", "Slow Ferry - D\nTram Home - F"),
)
SONGS = "First: Postbox Tango=Bb; Nine Wet Umbrellas=Gm; Harbour Lamps=C; Slow Ferry=D; Tram Home=F"


@pytest.mark.parametrize(
    ("form", "me", "band"),
    [
        ("{who}  Nov 28, 4:1{n} PM", "Me", "Wim (Bandleader)"),
        ("{who} 19:0{n}", "Ola", "Wim (bass)"),
        ("{who}, 28.11. um 19:0{n}", "Ich", "Wim"),
        ("{who}  sam. 28 nov, 19h0{n}", "Moi", "Wim (batterie)"),
        ("{who}\tyesterday at 4:1{n} pm", "You", "Wim T."),
        ("{who} — Today at 19:0{n}", "Ola", "Wim"),
        ("{who} | 19:0{n}", "Ola", "Wim (bass)"),
        ("{who} · gestern um 19:0{n}", "Ich", "Wim"),
        ("Sat 28/11 19:0{n}", "", ""),
        ("Samstag, 28. November 2026 19:0{n}", "", ""),
        ("{who}", "Ola", "Wim"),
        ("{who}:", "Me", "Wim (Bandleader)"),
    ],
)
@pytest.mark.parametrize("gap", ["\n", "\n\n"])
def test_a_line_with_sender_or_time_is_no_song_and_parts_no_set(form: str, me: str, band: str, gap: str) -> None:
    gap = gap if form.strip(":") != "{who}" else "\n\n"
    lines = [form.format(who=who.format(me=me, band=band), n=n) + "\n" + says for who, n, says in TALK]
    assert said(read(gap.join(lines))) == SONGS


def test_two_lines_of_today_tell_a_chat() -> None:
    found = read(
        "Ola — Today at 14:03\nPostbox Tango - Bb\nNine Wet Umbrellas - Gm\nHarbour Lamps - C\n"
        "Wim — Today at 14:11\nSlow Ferry - D\nTram Home - F"
    )
    assert [len(one.songs) for one in found.show.sets] == [5]


def test_titles_with_lengths_below_each_other_are_no_senders() -> None:
    assert said(read("Postbox Tango 3:40\nNine Umbrellas 4:10\nHarbour Lamps 2:55\nMoth 3:05")).count(";") == 3


def test_a_title_that_comes_again_is_no_sender() -> None:
    found = read("Moth\nC\n\nSlow Ferry\nD\n\nMoth\nC\n\nTram Home\nF")
    assert [song.title for one in found.show.sets for song in one.songs] == ["Moth", "Slow Ferry", "Moth", "Tram Home"]


def test_who_sent_no_song_only_talks_beside_lines_of_several_songs() -> None:
    found = read(
        "Me  4:15 PM\nyep send me the list\n\nRox (Leader)  4:31 PM\n"
        "Postbox Tango Bb, Nine Wet Umbrellas Gm, Harbour Lamps C\n\nMe  4:33 PM\ncool whats after that\n\n"
        "Rox (Leader)  4:40 PM\nSlow Ferry D, Tram Home F, Gasworks Corner A\n\n"
        "Rox (Leader)  5:21 PM\nload in 6 at the side"
    )
    assert [len(one.songs) for one in found.show.sets] == [6]
