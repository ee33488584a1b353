"""The stack of songs: a strip of tape for each set, a sheet for each song, and one column to type down the list."""

from collections.abc import Iterator, Sequence
from typing import Final

import msgspec

from companion.edits import Undo
from companion.files import Places
from companion.how_many import how_many
from companion.music import shown_length
from companion.pages.desk import SetOnDesk, SongOnDesk, Stack
from companion.pages.field_view import AS_TYPED, FieldPlace, field_html
from companion.pages.key_tab import key_tab
from companion.pages.list_chooser import newer_html
from companion.pages.markup import Html, fragment, tag
from companion.pages.next_gig import next_gig_html
from companion.pages.show_fields import SET_FIELDS, SHOW, SHOW_FIELDS
from companion.pages.song_fields import COLUMNS, FIELDS, SongField
from companion.show import Set, Show, Song
from companion.show.checks import missing_from
from companion.show.date_words import day_words, time_of_day
from companion.show.features import features_of

LACKS: Final = {  # what a check calls it: the words in pencil
    "key of a feature": "key",
    "key": "key",
    "sound of a feature": "sound",
    "starts_with": "who starts",
    "road_map": "road map",
    "watch": "whom to watch",
    "tempo": "tempo",
    "ending": "ending",
    "count_off": "count-off",
    "sound": "sound",
    "length": "length",
}
"""What is marked in pencil on the stack; the rest is on the sheet."""

FILTERS: Final = {
    "all": "all songs",
    "missing": "something missing",
    "key": "no key",
    "tempo": "no tempo",
    "sound": "no sound",
    "road map": "no road map",
    "feature": "features",
    "unheard": "not yet heard",
    "doubt": "in doubt",
}


class StackLook(msgspec.Struct, frozen=True):
    """What the stack is shown with: the column typed into, the songs heard, sounds offered, undo and redo."""

    column: str = "key"
    heard: frozenset[str] = frozenset()  # titles
    sounds: tuple[str, ...] = ()
    undo: Undo | None = None
    redo: Undo | None = None
    is_read_only: bool = False
    sets: tuple[tuple[str, str], ...] = ()  # id and name of each
    doubts: dict[str, Html] = {}  # about the list that the show was made from, by the song's id


def stack_html(stack: Stack, look: StackLook) -> Html:
    """Return the whole stack."""
    return tag(
        "main",
        _columns(look),
        tag("form", *(set_html(one, stack, look) for one in stack.sets), _add_set_html(look), attrs=AS_TYPED),
        tag("datalist", *(tag("option", value=name) for name in look.sounds), id="sounds"),
        id="stack",
        data_column=look.column,
    )


def _add_set_html(look: StackLook) -> Html:
    return tag(
        "p",
        tag(
            "input",
            id="add-set",
            aria_label="Add a set",
            placeholder="add a set …",
            data_add_set=True,
            maxlength=80,
            readonly=look.is_read_only,
        ),
        class_="add",
    )


def head_html(stack: Stack, look: StackLook) -> Html:
    """Return the gig folder's front: the engagement, and undo and redo with their words."""
    show = stack.show
    date = day_words(show.date) if show.date else None
    facts = " · ".join(word for word in (show.band, date, show.venue) if word)
    return tag(
        "header",
        tag("h1", show.title),
        tag("p", facts or tag("span", "band, date and venue?", class_="pencil")),
        tag(
            "p",
            _undo_button("undo", "Undo", look.undo, look),
            _undo_button("redo", "Redo", look.redo, look),
            tag("button", "Another show", type="button", data_do="leave", id="leave"),
            class_="buttons",
        ),
        tag(
            "div",
            tag(
                "details",
                tag("summary", "Engagement: date, band, venue"),
                tag("form", *_fields(SHOW_FIELDS, SHOW, show, look), class_="fields", attrs=AS_TYPED),
                id="engagement",
            ),
            *((newer_html(), next_gig_html()) if not look.is_read_only else ()),
            class_="buttons folds",
        ),
        id="folder",
        data_version=stack.version,
    )


def _fields(fields: dict[str, SongField], about: str, of: Show | Set, look: StackLook) -> Iterator[Html]:
    place = FieldPlace(about, is_read_only=look.is_read_only, about=about)
    return (field_html(field, field.shown(of), place) for field in fields.values())


def _undo_button(does: str, label: str, found: Undo | None, look: StackLook) -> Html:
    words = found.says.removeprefix("undo: ").removeprefix("redo: ") if found else ""
    return tag(
        "button",
        label,
        tag("span", f": {words}", class_="words") if words else None,
        type="button",
        id=does,
        data_do=does,
        disabled=found is None or look.is_read_only,
    )


def _columns(look: StackLook) -> Html:
    choices = (
        tag(
            "label",
            tag("input", type="radio", name="column", value=key, checked=key == look.column, id=f"column-{key}"),
            tag("span", FIELDS[key].label),
        )
        for key in COLUMNS
    )
    hint = FIELDS[look.column].hint
    return tag(
        "div",
        tag(
            "fieldset",
            tag("legend", "Look down the list" if look.is_read_only else "Type down the list"),
            *choices,
            tag("span", _column_hint(look.column, hint), class_="pencil", id="column-hint")
            if not look.is_read_only
            else None,
        ),
        tag("label", "Find ", tag("input", type="search", id="find", autocomplete="off")),
        tag(
            "label",
            "Show ",
            tag("select", *(tag("option", words, value=key) for key, words in FILTERS.items()), id="filter"),
        ),
        id="pad",
    )


def _column_hint(column: str, hint: str) -> str:
    does = "a digit goes on to the next song" if column in ("known", "hard") else "enter goes on to the next song"
    return f"{hint}; {does}"


# ------------------------------------------------------------------ sets


def set_html(one: SetOnDesk, stack: Stack, look: StackLook) -> Html:
    """Return a set: its strip of tape and its songs."""
    return tag(
        "section",
        tape_html(one, look),
        tag("ol", *(song_html(song, stack.read.places, look) for song in one.songs)),
        _add_html(one, look),
        id=f"{one.mark}-set",
        aria_labelledby=f"{one.mark}-name",
    )


def _add_html(one: SetOnDesk, look: StackLook) -> Html:
    return tag(
        "p",
        tag(
            "input",
            id=f"add-{one.mark}",
            aria_label=f"Add a song to {one.one.name}",
            placeholder="add a song …",
            data_add=one.mark,
            maxlength=200,
            readonly=look.is_read_only,
        ),
        class_="add",
    )


def tape_html(one: SetOnDesk, look: StackLook) -> Html:
    """Return a set's strip of tape: its name, its times, and whether it runs over."""
    over = over_s(one.one)
    return tag(
        "div",
        tag("h2", one.one.name, id=f"{one.mark}-name"),
        tag("p", ", ".join(set_times(one.one))),
        tag("p", tag("strong", f"{shown_length(over)} over"), class_="over") if over > 0 else None,
        tag(
            "details",
            tag("summary", "Times", tag("span", f" of {one.one.name}", class_="unseen")),
            tag("div", *_fields(SET_FIELDS, one.mark, one.one, look), class_="fields"),
            id=f"{one.mark}-times",
        ),
        class_="tape",
        id=one.mark,
        data_set=one.mark,
    )


def over_s(one: Set) -> int:
    """Return by how many seconds the known lengths of a set's songs exceed its minutes; negative if they do not."""
    return known_s(one) - one.minutes * 60 if one.minutes else 0


def known_s(one: Set) -> int:
    """Return how long the songs of a set last together, as far as their lengths are known."""
    return sum(song.length_s or 0 for song in one.songs)


def set_times(one: Set) -> Iterator[str]:
    """Yield the words of a set's times."""
    lasts, unknown = known_s(one), sum(song.length_s is None for song in one.songs)
    if one.starts_min is not None:
        minutes = one.minutes or -(-lasts // 60)
        yield f"{time_of_day(one.starts_min)}{f' to {time_of_day(one.starts_min + minutes)}' if minutes else ''}"
    count = len(one.songs)
    yield how_many(count, "song")
    if lasts:
        yield f"{shown_length(lasts)}{f' of {one.minutes} minutes' if one.minutes else ''}"
    elif one.minutes:
        yield how_many(one.minutes, "minute")
    if unknown:
        yield f"{unknown} without a length"


# ------------------------------------------------------------------ songs


def lacks_of(song: Song, places: Places) -> tuple[str, ...]:
    """Return what is missing for a song, as words in pencil, the most important first."""
    alone = Show("", band="", sets=(Set("", songs=(song,)),))
    found = sorted(missing_from(alone, places), key=lambda one: -one.weight)
    return tuple(dict.fromkeys(LACKS[one.what] for one in found if one.what in LACKS))


def song_html(one: SongOnDesk, places: Places, look: StackLook) -> Html:
    """Return one song's sheet on the stack."""
    song = one.song
    lacks = () if song.tacet else lacks_of(song, places)
    features = [str(feature) for feature in features_of(song)]
    kinds = [*lacks, *(["missing"] if lacks else []), *(["feature"] if features else [])]
    kinds += ["unheard"] if song.title not in look.heard else []
    kinds += ["doubt"] if one.mark in look.doubts else []
    marked = [tag("mark", feature) for feature in features]
    return tag(
        "li",
        key_tab(song.key),
        tag(
            "div",
            tag("h3", tag("a", song.title, href=f"#{one.mark}"), id=f"{one.mark}-title"),
            tag("p", *_apart(marked), class_="features") if marked else None,
            tag("p", " · ".join(f"{word}?" for word in lacks if word != "key"), class_="pencil") if lacks else None,
            look.doubts.get(one.mark),
            class_="what",
        ),
        cell_html(one, FIELDS[look.column], look),
        _hand_html(one) if not look.is_read_only else None,
        id=one.mark,
        data_set=look.sets[one.set_at][0],
        class_="song",
        data_is="|".join(kinds),
        data_name=one.named.title,
        data_occurrence=one.named.occurrence,
    )


def _hand_html(one: SongOnDesk) -> Html:
    """Return what moves a song: a grip to drag or to step with the arrow keys, and what holds the other ways.

    The page fills that when it is opened: most never are.
    """
    title = one.song.title
    return tag(
        "div",
        tag(
            "button",
            tag("span", "↕", aria_hidden="true"),
            type="button",
            class_="grip",
            id=f"{one.mark}-grip",
            aria_label=f"Move {title}: drag, or arrow up and down",
        ),
        tag(
            "details",
            tag("summary", tag("span", "…", aria_hidden="true"), aria_label=f"More for {title}"),
            id=f"{one.mark}-more",
        ),
        class_="hand",
    )


def _apart(parts: Sequence[Html]) -> Iterator[Html | str]:
    for number, part in enumerate(parts):
        if number:
            yield " "
        yield part


def cell_html(one: SongOnDesk, field: SongField, look: StackLook) -> Html:
    """Return the place to type one field of a song."""
    now, name = field.shown(one.song), f"{field.key}-{one.mark}"
    is_rating = field.key in ("known", "hard")
    return tag(
        "div",
        tag(
            "input",
            id=name,
            value=now,
            data_was=now or None,
            data_field=field.key,
            aria_label=f"{field.label}: {one.song.title}",
            maxlength=1 if is_rating else 200,
            inputmode="numeric" if is_rating or field.key == "tempo" else None,
            list="sounds" if field.key == "sound" else None,
            readonly=look.is_read_only,
        ),
        tag("p", id=f"{name}-slip", class_="slip"),
        class_="cell",
    )


def slip_id(field: str, mark: str, section: int | None = None) -> str:
    """Return the id of the note under a field."""
    return f"{field}-{mark}-slip" if section is None else f"{field}-{section}-{mark}-slip"


def slip_html(name: str, words: str, typed: str = "", theirs: str | None = None) -> Html:
    """Return the note under a field: why its text was not taken; with ``theirs``, which of two texts to keep."""
    field = name.removesuffix("-slip")
    choice = (
        fragment(
            tag("button", "Keep that", type="button", data_do="take-theirs", data_for=field),
            " ",
            tag("button", f"Write {typed or 'nothing'}", type="button", data_do="take-mine", data_for=field),
        )
        if theirs is not None
        else None
    )
    return tag("p", words, " ", choice, id=name, class_="slip", data_theirs=theirs)
