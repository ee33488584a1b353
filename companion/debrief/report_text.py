"""The debrief as text: lines for a terminal, and a Markdown page."""

from collections import Counter
from collections.abc import Iterator

from companion.debrief.lessons import lesson_words, lessons_of, more_of
from companion.debrief.night_report import Debrief
from companion.how_many import how_many
from companion.music import shown_length
from companion.stage import Landmark
from companion.stage.played import SongPlayed

LEARNED = "Learned"
HEADINGS = ("#", "set", "song", "length", "planned", "tempo", "planned", "what was different")


def debrief_lines(night: Debrief) -> Iterator[str]:
    """Yield the lines for a terminal."""
    yield f"{night.show}: {sum_line(night)}"
    of_set = None
    for number, song in enumerate(night.songs, 1):
        if song.set != of_set:
            of_set = song.set
            yield f"{of_set}:"
        yield f"{number:4}. {song_line(song)}"
        for line in different(song):
            yield f"        {line}"
    for title, lines in chapters(night):
        yield f"{title}:"
        yield from (f"  {line}" for line in lines)


def debrief_page(night: Debrief) -> str:
    """Return a Markdown page."""
    rows = [HEADINGS, ("---",) * len(HEADINGS)]
    for number, song in enumerate(night.songs, 1):
        rows.append(
            (
                str(number),
                song.set,
                song.title,
                shown_length(song.lasted_ms / 1000),
                shown_length(song.planned_s) if song.planned_s else "",
                _bpm(song.tempo_bpm),
                _bpm(song.planned_bpm),
                "; ".join(different(song)),
            )
        )
    lines = [f"# {_plain(night.show)}", "", f"{sum_line(night)}.", ""]
    lines += [f"| {' | '.join(_plain(cell) for cell in row)} |" for row in rows]
    for title, body in chapters(night):
        lines += ["", f"## {title}", "", *(f"- {_plain(line)}" for line in body)]
    return "\n".join(lines) + "\n"


def sum_line(night: Debrief) -> str:
    """Return how many songs were played, and in what time."""
    first, last = (night.songs[0], night.songs[-1]) if night.songs else (None, None)
    lasted_ms = last.at_ms + last.lasted_ms - first.at_ms if first and last else 0
    songs = how_many(len(night.songs), "song")
    return f"{songs} in {shown_length(lasted_ms / 1000)}" + ("" if night.ended else ", not ended normally")


def song_line(song: SongPlayed) -> str:
    """Return a song with its length and tempo, and what was planned."""
    return f"{song.title}, {' at '.join(filter(None, (_length(song), _tempo(song))))}"


def _length(song: SongPlayed) -> str:
    return shown_length(song.lasted_ms / 1000) + (
        f" (planned {shown_length(song.planned_s)})" if song.planned_s else ""
    )


def _tempo(song: SongPlayed) -> str:
    if song.tempo_bpm is None:
        return ""
    return _bpm(song.tempo_bpm) + (f" (planned {_bpm(song.planned_bpm)})" if song.planned_bpm else "")


def _bpm(bpm: float | None) -> str:
    return "" if bpm is None else f"{bpm:.0f}"


def different(song: SongPlayed) -> Iterator[str]:
    """Yield what was different in a song."""
    for word, sections in (("cut", song.cut), ("repeated", song.repeated), ("extended", song.extended)):
        if sections:
            yield f"{word}: {', '.join(sections)}"
    if song.shift:
        yield f"played {abs(song.shift)} half step{'s' * (abs(song.shift) > 1)} {'up' if song.shift > 0 else 'down'}"
    if song.false_starts:
        yield f"started over {_times(song.false_starts)}"


def chapters(night: Debrief) -> Iterator[tuple[str, list[str]]]:
    """Yield what there is to say besides the songs, under its headings; the lessons under ``LEARNED``."""
    lines_under = {
        "Order": [f"{_when(one.at_ms)} {one.how.value}: {one.song}" for one in night.changes],
        "Not played": list(night.not_played),
        "Steps taken back on stage": [
            f'"{step}" at {place}' + (f", {_times(many)}" if many > 1 else "")
            for (place, step), many in Counter((place_words(one.mark), one.step) for one in night.taken_back).items()
        ],
        "During the show": [
            f"{_when(one.at_ms)} {one.what.value}{f': {one.port}' if one.port else ''}, at {place_words(one.mark)}"
            for one in night.around
        ],
        LEARNED: list(learned_lines(night)),
        "Note": list(night.remarks),
    }
    for title, lines in lines_under.items():
        if lines:
            yield title, lines


def learned_lines(night: Debrief) -> Iterator[str]:
    """Yield the proposed changes to the show file, numbered; below the order, its sets."""
    for number, lesson in enumerate(lessons_of(night.learned), 1):
        yield f"{number}. {lesson_words(lesson)}"
        yield from (f"   {line}" for line in more_of(lesson))


def place_words(mark: Landmark) -> str:
    """Return a place in the player's words: Gasworks Corner, Solo."""
    if not mark.song:
        return f"{mark.where.value} after {mark.set}" if mark.set else mark.where.value
    where = mark.section if mark.where.value == "playing" else mark.where.value
    return f"{mark.song}, {where}".rstrip(", ")


def _when(at_ms: int) -> str:
    return shown_length(at_ms / 1000)


def _times(many: int) -> str:
    return "once" if many == 1 else "twice" if many == 2 else f"{many} times"


def _plain(text: str) -> str:
    """Return a text with all Markdown syntax escaped."""
    return "".join(f"\\{letter}" if letter in "\\`*_[]<>|#" and text != "#" else letter for letter in text)
