"""Apply the leader's revised list to an existing show: the differences, and the show with all work kept."""

import enum
from collections.abc import Sequence

import msgspec

from companion.music import shown_length
from companion.setlist.model import SetList
from companion.setlist.readers.limits import LONGEST_SHOW_NOTES
from companion.setlist.revising.matching import SongMatch, match
from companion.setlist.tidy import cut, folded
from companion.show.chords import moved_words, written_while_in
from companion.show.model import Set, Show, Song


class Differs(enum.Enum):
    """The kind of a difference."""

    NEW = "new"
    DROPPED = "dropped"
    BACK = "back again"
    MOVED = "moved"
    RENAMED = "renamed"
    CHANGED = "changed"
    SEGUE = "segue broken"


class Difference(msgspec.Struct, frozen=True):
    """One difference, as shown to the player."""

    differs: Differs
    title: str
    says: str
    old_title: str = ""  # the old title of a renamed song

    def __str__(self) -> str:
        return f"{self.differs.value}: {self.title}{f' ({self.says})' if self.says else ''}"


class Origin(msgspec.Struct, frozen=True):
    """The origin of a song: its place in the old show, or in the songbook of dropped songs."""

    set_at: int = -1
    song_at: int = -1
    slug: str = ""


class Revision(msgspec.Struct, frozen=True):
    """The revised show. ``origins`` follow its order, None for a new song; ``dropped`` are places in the old show."""

    show: Show
    differences: tuple[Difference, ...]
    origins: tuple[tuple[Origin | None, ...], ...]
    sets_from: tuple[int | None, ...]  # the old set that each set continues, by index
    dropped: tuple[tuple[int, int], ...]


TAKEN_FROM_LIST = (
    "key",
    "record_key",
    "tempo_bpm",
    "meter",
    "length_s",
    "artist",
    "starts_with",
    "ending",
    "recording",
)
SPOKEN = {"record_key": "record's key", "tempo_bpm": "tempo", "length_s": "length", "starts_with": "starts with"}


def revise(show: Show, listed: SetList, shelf: Sequence[tuple[str, Song]] = ()) -> Revision:
    """Apply a list to a show. ``shelf`` holds dropped songs by slug: one that is listed again comes back.

    The list's values win; everything that it does not mention stays: road maps, sounds, charts ...
    """
    places = [(at, index) for at, one in enumerate(show.sets) for index in range(len(one.songs))]
    old = [show.sets[at].songs[index] for at, index in places]
    new = [song for one in listed.show.sets for song in one.songs]
    pairs = {pair.new: pair for pair in match(old, new)}
    back = _back(new, pairs, [song for _, song in shelf])
    revised, origins, told = _songs(show, listed, (places, old), pairs, [back.get(at) for at in range(len(new))], shelf)
    kept = {pair.old for pair in pairs.values()}
    gone = [at for at in range(len(old)) if at not in kept]
    told += [Difference(Differs.DROPPED, old[at].title, _where(show, places[at])) for at in gone]
    renamed = {old[pair.old].title: new_song.title for pair, new_song in _renamed(pairs, old, revised)}
    sets_from = _sets_from(show.sets, listed.show.sets)
    sets = tuple(
        Set(
            name=show.sets[source].name if source is not None else one.name,
            starts_min=one.starts_min if one.starts_min is not None or source is None else show.sets[source].starts_min,
            minutes=one.minutes if one.minutes is not None or source is None else show.sets[source].minutes,
            songs=tuple(_segue_renamed(song, renamed) for song in songs),
        )
        for one, source, songs in zip(listed.show.sets, sets_from, revised, strict=True)
    )
    told += _broken_segues(sets)
    result = msgspec.structs.replace(
        show,
        band=show.band or listed.show.band,
        venue=show.venue or listed.show.venue,
        date=listed.show.date or show.date,
        notes=_notes(show, listed),
        sets=sets,
    )
    if listed.show.date and show.date and listed.show.date != show.date:
        told.insert(0, Difference(Differs.CHANGED, show.title, f"date {show.date} → {listed.show.date}"))
    return Revision(result, tuple(told), origins, sets_from, tuple(places[at] for at in gone))


def _notes(show: Show, listed: SetList) -> str | None:
    """Add the lines not understood to the show's notes, except those already there."""
    had = (show.notes or "").split("\n")
    new = [line.text for line in listed.left if line.text and line.text not in had]
    return cut("\n".join(filter(None, (show.notes, *new))), LONGEST_SHOW_NOTES) or None


def _back(new: Sequence[Song], pairs: dict[int, SongMatch], shelf: Sequence[Song]) -> dict[int, int]:
    """Return, for listed songs that the show lacks, their index among the dropped songs."""
    free = [at for at in range(len(new)) if at not in pairs]
    return {free[pair.new]: pair.old for pair in match(shelf, [new[at] for at in free])}


def _songs(
    show: Show,
    listed: SetList,
    had: tuple[list[tuple[int, int]], list[Song]],
    pairs: dict[int, SongMatch],
    back: Sequence[int | None],
    shelf: Sequence[tuple[str, Song]],
) -> tuple[list[list[Song]], tuple[tuple[Origin | None, ...], ...], list[Difference]]:
    places, old = had
    stays = _in_order([pairs[at].old for at in sorted(pairs)])
    revised: list[list[Song]] = []
    origins: list[tuple[Origin | None, ...]] = []
    told: list[Difference] = []
    at = 0
    for set_at, one in enumerate(listed.show.sets):
        revised.append([])
        row: list[Origin | None] = []
        for song in one.songs:
            shelf_at = back[at]
            if at in pairs:
                pair = pairs[at]
                place = places[pair.old]
                merged, changes = merge(old[pair.old], song, pair.alike)
                told += changes
                if place[0] != set_at or pair.old not in stays:
                    told.append(
                        Difference(Differs.MOVED, merged.title, f"{_where(show, place)} → {_at(one.name, len(row))}")
                    )
                row.append(Origin(*place))
            elif shelf_at is not None:
                merged, changes = merge(shelf[shelf_at][1], song, 100.0)
                told += [Difference(Differs.BACK, merged.title, _at(one.name, len(row))), *changes]
                row.append(Origin(slug=shelf[shelf_at][0]))
            else:
                merged = song
                told.append(
                    Difference(
                        Differs.NEW,
                        song.title,
                        ", ".join(filter(None, (_at(one.name, len(row)), str(song.key or "no key")))),
                    )
                )
                row.append(None)
            revised[-1].append(merged)
            at += 1
        origins.append(tuple(row))
    return revised, tuple(origins), told


def merge(old: Song, new: Song, alike: float) -> tuple[Song, list[Difference]]:
    """Return the show's song with the list's values, and the changes."""
    told = []
    changes: dict[str, object] = {}
    title = old.title
    if alike < 100:
        title = changes["title"] = new.title
        told.append(Difference(Differs.RENAMED, new.title, f"was {old.title}, {alike:.0f} % alike", old.title))
    for field in TAKEN_FROM_LIST:
        before, after = getattr(old, field), getattr(new, field)
        if after is None or after == before or (field == "artist" and before and folded(before) == folded(after)):
            continue
        changes[field] = after
        spoken = SPOKEN.get(field, field)
        told.append(Difference(Differs.CHANGED, title, f"{spoken} {_said(field, before)} → {_said(field, after)}"))
    if new.chart is not None and old.chart is None:
        changes["chart"] = new.chart
    if new.segue and folded(new.segue) != folded(old.segue or ""):
        changes["segue"] = new.segue
        told.append(Difference(Differs.CHANGED, title, f"segue {old.segue or '-'} → {new.segue}"))
    more = [note for note in (new.notes or "").split("; ") if note and note not in (old.notes or "")]
    if more:
        changes["notes"] = "; ".join(filter(None, (old.notes, *more)))
        told.append(Difference(Differs.CHANGED, title, f"notes + {'; '.join(more)}"))
    merged = msgspec.structs.replace(old, **changes)
    if old.key and merged.key and merged.key != old.key:
        moved = moved_words(old, merged.key)
        told += [Difference(Differs.CHANGED, title, moved)] if moved else []
        merged = written_while_in(merged, old.key)
    return merged, told


def _said(field: str, value: object) -> str:
    if value is None:
        return "-"
    if field == "length_s" and isinstance(value, int):
        return shown_length(value)
    return f"{value:g}" if isinstance(value, float) else str(getattr(value, "value", value))


def _in_order(places: Sequence[int]) -> set[int]:
    """Return the longest sequence of songs still in their old order; the others have moved."""
    best: list[tuple[int, int]] = []  # (length of the sequence ending here, index of its previous song)
    for at, place in enumerate(places):
        before = [(best[other][0] + 1, other) for other in range(at) if places[other] < place]
        best.append(max(before, default=(1, -1), key=lambda run: run[0]))
    found: set[int] = set()
    at = max(range(len(best)), key=lambda place: best[place][0], default=-1)
    while at >= 0:
        found.add(places[at])
        at = best[at][1]
    return found


def _sets_from(old: Sequence[Set], new: Sequence[Set]) -> tuple[int | None, ...]:
    """Return the old set that each new set continues: the one with the same name, else at the same place."""
    names = {folded(one.name): at for at, one in reversed(list(enumerate(old)))}
    found = [names.get(folded(one.name)) for one in new]
    for at, source in enumerate(found):
        if source is None and at < len(old) and at not in found:
            found[at] = at
    return tuple(source if source not in found[:at] else None for at, source in enumerate(found))


def _renamed(
    pairs: dict[int, SongMatch], old: Sequence[Song], revised: Sequence[Sequence[Song]]
) -> list[tuple[SongMatch, Song]]:
    flat = [song for one in revised for song in one]
    return [(pair, flat[pair.new]) for pair in pairs.values() if flat[pair.new].title != old[pair.old].title]


def _segue_renamed(song: Song, renamed: dict[str, str]) -> Song:
    target = renamed.get(song.segue or "")
    return msgspec.structs.replace(song, segue=target) if target else song


def _broken_segues(sets: Sequence[Set]) -> list[Difference]:
    told = []
    for one in sets:
        for at, song in enumerate(one.songs):
            follows = one.songs[at + 1].title if at + 1 < len(one.songs) else None
            if song.segue and (follows is None or folded(follows) != folded(song.segue)):
                told.append(
                    Difference(Differs.SEGUE, song.title, f"goes into {song.segue}, but {follows or 'nothing'} follows")
                )
    return told


def _where(show: Show, place: tuple[int, int]) -> str:
    return _at(show.sets[place[0]].name, place[1])


def _at(set_name: str, index: int) -> str:
    return f"{set_name} {index + 1}"
