"""How much of a set list was understood: field by field, against what is true of it."""

from collections import Counter
from collections.abc import Iterator

from setlist.invented import Told
from setlist.shapes_text import Shape

from companion.setlist import SetList
from companion.show import Show, Song


def fields(song: Song | None, told: Told, carried: tuple[str, ...]) -> Iterator[tuple[str, bool, str]]:
    """Yield (field, right or not, what was read) for each field that the shape carries."""
    yield "title", bool(song) and song is not None and song.title == told.title, song.title if song else "-"
    for field in carried:
        if song is None:
            yield field, False, "-"
        elif field == "key":
            yield field, (str(song.key) if song.key else None) == told.key, str(song.key)
        elif field == "artist":
            yield field, song.artist == told.artist, str(song.artist)
        elif field == "length":
            yield field, song.length_s == told.length_s, str(song.length_s)
        elif field == "tempo":
            yield field, song.tempo_bpm == told.tempo, str(song.tempo_bpm)
        elif field == "meter":
            yield field, str(song.meter) == told.meter, str(song.meter)
        elif told.remark:
            yield field, told.remark.replace(", ", "; ") in (song.notes or "").replace(", ", "; "), str(song.notes)


def score(found: SetList, shape: Shape) -> tuple[Counter[str], Counter[str], list[str]]:
    """Compare set by set and song by song; return the right fields, all fields, and the errors."""
    _, _, sets, carried = shape
    right: Counter[str] = Counter()
    total: Counter[str] = Counter()
    wrong: list[str] = []
    show: Show = found.show
    for at, told_set in enumerate(sets):
        read = show.sets[at].songs if at < len(show.sets) else ()
        by_title = {song.title: song for song in read}
        extra = len(read) - len(told_set)
        if extra > 0:
            wrong.append(
                f"{extra} songs too many: {[s.title for s in read if s.title not in {t.title for t in told_set}]}"
            )
        for index, told in enumerate(told_set):
            song = by_title.get(told.title) or (read[index] if index < len(read) else None)
            for field, is_right, was in fields(song, told, carried):
                total[field] += 1
                right[field] += is_right
                if not is_right:
                    wrong.append(f"{told.title}: {field} read as {was!r}")
    if len(show.sets) != len(sets):
        wrong.append(f"{len(show.sets)} sets for {len(sets)}: {[each.name for each in show.sets]}")
    return right, total, wrong
