"""Small letters alone as keys: minor where the list means it, major where it writes an m, else asked about."""

from setlist.reading_texts import read, said


def asked(text: str) -> int:
    return sum("small letter" in doubt.says for line in read(text).lines for doubt in line.doubts)


def test_small_letters_are_major_where_minor_keys_have_an_m() -> None:
    text = "1 nebelhorn  g\n2 warten auf grün  am\n3 drei paar schuhe  es\n4 windfang  fis\n5 kaltes licht  em\n"
    assert said(read(text)) == (
        "First: nebelhorn=G; warten auf grün=Am; drei paar schuhe=Eb; windfang=F#; kaltes licht=Em"
    )
    assert not asked(text)


def test_small_letters_are_minor_beside_large_ones() -> None:
    text = "Nebelhorn - G\nWarten auf Grün - a\nDrei Paar Schuhe - Es\nWindfang - fis\nKaltes Licht - B\n"
    assert said(read(text)).startswith("First: Nebelhorn=G; Warten auf Grün=Am; Drei Paar Schuhe=Eb; Windfang=F#m")
    assert not asked(text)


def test_small_letters_are_asked_about_where_the_list_does_not_tell() -> None:
    assert asked("Nebelhorn - g\nWarten auf Grün - a\nDrei Paar Schuhe - es\nWindfang - fis\nKaltes Licht - c\n") == 5
    assert asked("Nebelhorn - G\nWarten - Am\nDrei Paar Schuhe - Es\nWindfang - fis\nKaltes Licht - c\n") == 2
    assert asked("Foghorn - G\nWaiting Room - a\nThree Pairs - D\nLobby - F\nCold Light - C\n") == 1
    assert not asked("Foghorn - G\nWaiting Room - a\nThree Pairs - Dm\nLobby - F\nCold Light - C\n")
    assert not asked("foghorn - g\nwaiting room - a\nthree pairs - d\nlobby - f\ncold light - c\n")


def test_with_bes_in_the_list_b_is_the_note_below_c() -> None:
    text = "Wintertuin - Bes\nOud Zeil - Bm\nKaarslicht - Es\nHaven - F\nDe Brug - B\n"
    found = read(text)
    assert said(found) == "First: Wintertuin=Bb; Oud Zeil=Bm; Kaarslicht=Eb; Haven=F; De Brug=B"
    assert not any(line.doubts for line in found.lines)


def test_a_mode_in_any_language_says_what_a_small_letter_is() -> None:
    text = "Fietspad - G\nOude Haven - Bes\nKoude Thee - fis mineur\nDe Laatste Tram - Am\n"
    assert said(read(text)) == "First: Fietspad=G; Oude Haven=Bb; Koude Thee=F#m; De Laatste Tram=Am"
