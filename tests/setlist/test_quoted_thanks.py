"""What a mail quotes below its list is asked about only where it reads like a song."""

import pytest

from companion.setlist.list_reading import list_in

MAIL = (
    "From: Ada <ada@mill.invalid>\nTo: keys@home.invalid\nSubject: 23 January, Mill Hall\n"
    "Date: Tue, 15 Dec 2026 10:12:00 +0000\nContent-Type: text/plain; charset=utf-8\n\nHi you,\n\n"
    "First half - 9pm\nSalt Parade\nFog Bell\nOwl Walk\nLate Tram\nQuiet Street\nGrey Harbour\n"
    "Stone Kettle - A - NEW\n\n"
    "15 min break\n\nSecond half - 10.10pm\nBrassneck\nSlow Ferry\nTin Whistle\nHalf a Moth Polka, D\n\nAda x\n\n"
    "> On 13 Dec you wrote:\n> {quoted}\n> See you soon in January!\n"
)


@pytest.mark.parametrize(
    ("quoted", "asked"),
    [
        ("Thanks for a lovely evening, the soup was great", 0),
        ("Do write to me about the spring!", 0),
        ("It was so good to see you all", 0),
        ("Danke für den schönen langen Abend", 0),
        ("Merci pour la belle soirée", 0),
        ("Tidal Clock", 1),
    ],
)
def test_quoted_words_are_asked_about_where_they_read_like_a_title(quoted: str, asked: int) -> None:
    found = list_in(MAIL.format(quoted=quoted).encode(), "mail.eml")
    assert len(found.titles) == 11
    assert sum(len(line.doubts) for line in found.lines if quoted in line.text) == asked
