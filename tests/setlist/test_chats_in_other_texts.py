"""A chat below a mail's head, and a message of a chat that holds a whole list."""

from setlist.reading_texts import read, said

from companion.setlist.list_reading import list_in

CHAT = (
    "27/11/2026, 18:02 - Jo Marsh: here's the list\n27/11/2026, 18:03 - Jo Marsh: Moth Parade - G\nWeeds - C\n"
    "Tidal Clock - Ab\nFog Bell - A\nBrassneck - F\nLate Tram - E\n"
    "27/11/2026, 18:09 - Sam: ta!\n27/11/2026, 18:15 - Jo Marsh: Weeds now in D"
)
SONGS = "First: Moth Parade=G; Weeds=D; Tidal Clock=Ab; Fog Bell=A; Brassneck=F; Late Tram=E"
MAIL = "From: Jo Marsh <jo@example.com>\nSubject: chat\nMIME-Version: 1.0\nContent-Type: text/plain; charset=utf-8\n\n"


def test_a_chat_that_was_sent_as_a_mail_reads_as_the_chat() -> None:
    assert said(list_in((MAIL + CHAT).encode(), "list.eml")) == said(read(CHAT)) == SONGS


def test_a_list_in_one_message_keeps_its_headings_and_the_notes_below_its_songs() -> None:
    text = (
        "[28/11/2026, 14:02] Jo Marsh: list for the 13th\nmoth parade [G]\n"
        "- pad from the top, no drums till verse 2\nweeds [C]\n- piano solo, 16 bars\n- cold stop at the end\n"
        "tidal clock [Ab]\nfog bell [A]\n- last chorus twice"
    )
    found = read(text)
    assert said(found) == said(read(text.partition(": ")[2]))
    assert found.show.sets[0].songs[1].notes == "piano solo, 16 bars; cold stop at the end"


def test_wide_gaps_in_the_messages_of_a_chat_are_no_columns() -> None:
    text = "\n".join(
        f"[28/11/2026, 14:0{at}] Jo Marsh: {line}"
        for at, line in enumerate(["1\tMoth Parade\tG", "2\tWeeds\tC", "3\tTidal Clock\tAb", "4\tFog Bell\tA"])
    )
    assert said(read(text)) == "First: Moth Parade=G; Weeds=C; Tidal Clock=Ab; Fog Bell=A"


def test_a_name_in_a_chat_may_end_in_a_picture() -> None:
    text = (
        "Mo 🥁: hi, Friday list please?\nLeni: Moth Parade (G) / Weeds (C) / Fog Bell (Dm) / Brassneck (F)\n"
        "Mo 🥁: only 4??\nLeni: oh, Fog Bell is in Em now\nMo 🥁: thanks, doors 8"
    )
    assert said(read(text)) == "First: Moth Parade=G; Weeds=C; Fog Bell=Em; Brassneck=F"
