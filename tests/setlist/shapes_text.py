"""Set lists as texts, as leaders type them into messages, notes and Markdown; each shape says which fields it has."""

from collections.abc import Callable

from setlist.invented import Told, sets

Carried = tuple[str, ...]
Shape = tuple[str, bytes, list[list[Told]], Carried]
FLAT = str.maketrans({"b": "♭", "#": "♯"})


def _bullets() -> Shape:
    songs = sets(1, 10, 9)
    lines = ["Hi all, list for Saturday!", ""]
    for number, one in enumerate(songs, 1):
        lines += [f"SET {number}", *(f"- {song.title} ({song.key or '?'})" for song in one), ""]
    return "bullets.txt", "\n".join([*lines, "Cheers", "Sam"]).encode(), songs, ("key",)


def _numbered_dashes() -> Shape:
    songs = sets(2, 12, 10)
    lines: list[str] = []
    for name, one in zip(("First set (20:00 - 20:45)", "Second set 21:15"), songs, strict=True):
        lines.append(name)
        for at, song in enumerate(one, 1):
            remark = f" - {song.remark}" if song.remark else ""
            lines.append(f"{at}. {song.title} - {song.key or 'TBC'} - {song.clock}{remark}")
        lines += ["-- 20 min break --"] * (one is songs[0])
    return "numbered.txt", "\r\n".join(lines).encode(), songs, ("key", "length", "remark")


def _key_at_end() -> Shape:
    songs = sets(3, 11, 11, keyless=0)
    lines = []
    for number, one in enumerate(songs, 1):
        lines += [f"{number}. Set", *(f"{song.title} {song.key}" for song in one), ""]
    return "keys-at-end.txt", "\n".join(lines).encode(), songs, ("key",)


def _titles_only() -> Shape:
    songs = sets(4, 9, 8)
    lines = []
    for number, one in enumerate(songs, 1):
        lines += [f"Set {number}:", *(song.title for song in one), ""]
    return "titles.txt", "\n".join(lines).encode(), songs, ()


def _key_in_front() -> Shape:
    songs = sets(5, 14, keyless=0)
    lines = [f"[{song.key}] {song.title}" for song in songs[0]]
    return "front.md", "\n".join(lines).encode(), songs, ("key",)


def _markdown_table() -> Shape:
    songs = sets(6, 12, 9)
    lines = [
        "# Midsummer dance",
        "",
        "| # | Song | Artist | Key | BPM | Notes |",
        "|--:|:-----|--------|:---:|----:|-------|",
    ]
    at = 0
    for number, one in enumerate(songs, 1):
        lines.append(f"| | **Set {number}** | | | | |")
        for song in one:
            at += 1
            lines.append(f"| {at} | {song.title} | {song.artist} | {song.key or ''} | {song.tempo} | {song.remark} |")
    return "table.md", "\n".join(lines).encode(), songs, ("key", "artist", "tempo", "remark")


def _markdown_list() -> Shape:
    songs = sets(7, 10, 10, 2)
    lines = ["# Pier Street, 19 June 2027"]
    for name, one in zip(("## Set 1", "## Set 2", "## Encore"), songs, strict=True):
        lines += [
            "",
            name,
            "",
            *(f"{at}. **{song.title}** – *{song.artist}* – {song.key or '?'}" for at, song in enumerate(one, 1)),
        ]
    return "list.md", "\n".join(lines).encode(), songs, ("key", "artist")


def _minor_words() -> Shape:
    songs = sets(8, 16, keyless=0)
    said = [song.key.replace("b", "-flat").replace("#", "-sharp") if song.key else "" for song in songs[0]]
    said = [key[:-1] + " minor" if key.endswith("m") else key + " major" for key in said]
    lines = [
        f"{at}) {song.title}, {key}, {song.tempo} bpm"
        for at, (song, key) in enumerate(zip(songs[0], said, strict=True), 1)
    ]
    return "minor.txt", "\n".join(lines).encode(), songs, ("key", "tempo")


def _signs() -> Shape:
    songs = sets(9, 15)
    lines = [
        f"{at:02} {song.title} – {(song.key or '').translate(FLAT) or '—'} – ♩={song.tempo}"
        for at, song in enumerate(songs[0], 1)
    ]
    return "signs.txt", "\n".join(lines).encode(), songs, ("key", "tempo")


def _aligned() -> Shape:
    songs = sets(10, 12, 11)
    lines = []
    for number, one in enumerate(songs, 1):
        lines += [f"SET {number}", "=" * 60]
        lines += [
            f"{at:>2}  {song.title:<32}{song.key or '':<6}{song.clock:>5}   {song.remark}"
            for at, song in enumerate(one, 1)
        ]
        lines.append("")
    return "aligned.txt", "\n".join(lines).encode(), songs, ("key", "length", "remark")


def _aligned_named() -> Shape:
    songs = sets(11, 18)
    lines = [f"{'Title':<34}{'Artist':<24}{'Key':<5}{'BPM':>4}", "-" * 68]
    lines += [f"{song.title:<34}{song.artist:<24}{song.key or '-':<5}{song.tempo:>4}" for song in songs[0]]
    return "aligned-named.txt", "\n".join(lines).encode(), songs, ("key", "artist", "tempo")


def _artist_first() -> Shape:
    songs = sets(12, 20)
    lines = [f"{song.artist} - {song.title} ({song.key or 'key?'})" for song in songs[0]]
    return "artist-first.txt", "\n".join(lines).encode(), songs, ("key", "artist")


def _brackets() -> Shape:
    songs = sets(13, 9, 9)
    lines = []
    for number, one in enumerate(songs, 1):
        lines.append(f"*Set {number}*")
        for song in one:
            inside = ", ".join(filter(None, (song.key, f"{song.tempo} bpm", song.remark)))
            lines.append(f"• {song.title} ({inside})")
    return "brackets.txt", "\n".join(lines).encode(), songs, ("key", "tempo", "remark")


def _tabs() -> Shape:
    songs = sets(14, 15)
    lines = [
        f"{at}.\t{song.title}\t{song.key or ''}\t{song.clock}\t{song.artist}" for at, song in enumerate(songs[0], 1)
    ]
    return "tabs.txt", "\n".join(lines).encode("utf-16"), songs, ("key", "length", "artist")


def _mail() -> Shape:
    songs = sets(15, 8, 8)
    lines = ["> Hey Jo,", "> thanks for stepping in at short notice! Here's what we play:", ">"]
    for name, one in zip(("1st set", "2nd set"), songs, strict=True):
        lines += [f"> {name}", *(f"> {at}. {song.title} in {song.key or '?'}" for at, song in enumerate(one, 1)), ">"]
    return "mail.txt", "\n".join([*lines, "> See you at load-in,", "> Max"]).encode(), songs, ("key",)


def _minutes() -> Shape:
    songs = sets(16, 13)
    lines = [
        f"{at}. {song.title} [{song.key or '?'}] {song.length_s // 60}m{song.length_s % 60:02}"
        for at, song in enumerate(songs[0], 1)
    ]
    return "minutes.txt", "\n".join(lines).encode(), songs, ("key", "length")


def _pipes() -> Shape:
    songs = sets(17, 16)
    lines = [f"{song.title} | {song.key or '?'} | {song.meter} | {song.tempo}" for song in songs[0]]
    return "pipes.txt", "\n".join(lines).encode(), songs, ("key", "meter", "tempo")


def _german() -> Shape:
    songs = sets(18, 10, 8, keyless=0)
    names = {
        "B": "H",
        "Bb": "B",
        "Eb": "Es",
        "Ab": "As",
        "Db": "Des",
        "F#": "Fis",
        "F#m": "fis-Moll",
        "C#m": "cis",
        "G#m": "gis",
        "Bm": "h-Moll",
        "Bbm": "b-Moll",
        "Ebm": "es-Moll",
    }
    lines = ["Setliste Sommerfest 19.06.2027", ""]
    for name, one in zip(("1. Set", "2. Set"), songs, strict=True):
        lines.append(name)
        for song in one:
            key = song.key or ""
            said = names.get(key) or (key[:-1].lower() + "-Moll" if key.endswith("m") else key)
            lines.append(f"- {song.title} ({said})")
        lines += ["Pause 30 Min"] * (one is songs[0])
    return "german.txt", "\n".join(lines).encode(), songs, ("key",)


def _stars() -> Shape:
    songs = sets(19, 17)
    lines = [
        f"{at}. {song.title}{' *' if song.remark else ''} {song.key or ''}".rstrip()
        for at, song in enumerate(songs[0], 1)
    ]
    return "stars.txt", "\n".join([*lines, "", "* = keys solo"]).encode(), songs, ("key",)


def _no_break_spaces() -> Shape:
    songs = sets(20, 14)
    lines = [f"\u200e{at}.\u00a0{song.title} – {song.key or '?'}\u200b" for at, song in enumerate(songs[0], 1)]
    return "phone.txt", ("\ufeff" + "\n".join(lines)).encode(), songs, ("key",)


TEXTS: dict[str, Callable[[], Shape]] = {
    make.__name__.strip("_"): make
    for make in (
        _bullets,
        _numbered_dashes,
        _key_at_end,
        _titles_only,
        _key_in_front,
        _markdown_table,
        _markdown_list,
        _minor_words,
        _signs,
        _aligned,
        _aligned_named,
        _artist_first,
        _brackets,
        _tabs,
        _mail,
        _minutes,
        _pipes,
        _german,
        _stars,
        _no_break_spaces,
    )
}
