"""The list read so far: sets with their songs, facts about the show, and each line's account."""

import datetime as dt
import re
from collections.abc import Iterable

import msgspec

from companion.setlist.model import AsideLine, Doubt, LineKind, ListLine, ListRow, SaidTimes, SetList
from companion.setlist.parsing.cells import date_in, says_evening
from companion.setlist.parsing.gig_lines import GigLine, house_in
from companion.setlist.parsing.gig_names import gig_in_headline, named_by_facts
from companion.setlist.parsing.list_name import named_list
from companion.setlist.parsing.list_talk import asks_for_key, says_same_as_before
from companion.setlist.parsing.places_in_doubt import PlaceAsked, SongAdded, doubt_places
from companion.setlist.parsing.said_days import DAY_SAID
from companion.setlist.parsing.set_draft import SetDraft
from companion.setlist.parsing.set_headings import SetHeading, read_set
from companion.setlist.parsing.song_draft import Draft, doubt_other_key
from companion.setlist.readers.limits import LONGEST_SHOW_NOTES
from companion.setlist.tidy import cut, day_text, one_line
from companion.show import Show
from companion.show.set_words import set_words

HALF_A_DAY_MIN = 12 * 60
HOUR_MIN = 60
FIRST_OF_MORNING_MIN = 9 * 60  # a first set at 8 is an evening's; one at 9 or 11 may be a morning's
LATER_OF_MORNING_MIN = 10 * 60  # the same of a later set, the first one without a time
_MORNING = re.compile(
    r"\b(?:\d\s?am|morning|mornings|brunch|breakfast|service|services|church|mass|worship|assembly|matins|matinee|"
    r"frühschoppen|gottesdienst|messe|messa|misa|missa|culto|gudstjänst|gudstjeneste)\b",
    re.IGNORECASE,
)
COURSE = ("schedule", "doors", "load in", "load-in", "get in", "get-in", "soundcheck", "sound check", "start")
_TITLES = ("show", "gig", "event", "title")
ABOUT_SHOW = (
    "show",
    "gig",
    "event",
    "where",
    "venue",
    "place",
    "ort",
    "location",
    "hall",
    "band",
    "date",
    "datum",
    "day",
    "when",
    "wann",
)


class SetListBuilder:
    """Collects the lines in order; no text is lost."""

    def __init__(self) -> None:
        self.sets: list[SetDraft] = []
        self.kept: list[str] = []  # lines for the show's notes
        self.marks: dict[str, str] = {}
        self.singers: dict[str, str] = {}  # letters before titles, and whom they mean
        self.colours: dict[str, str] = {}  # behind titles, and what they mean
        self.colours_seen: set[str] = set()
        self.is_same_as_before = False  # the text refers to an earlier list
        self.is_below_gig = False  # the last line named the gig: the band may follow
        self.is_evening = False  # the day's course says so: doors 7
        self.choices: tuple[str, ...] = ()
        self.chosen: str | None = None
        self._aside: list[AsideLine] = []
        self.doubts: list[Doubt] = []
        self.said_times: SaidTimes | None = None
        self.places: list[PlaceAsked | SongAdded] = []
        self._lines: list[tuple[ListRow, LineKind, str, tuple[Doubt, ...], Draft | None]] = []
        self._about: dict[str, str] = {}
        self._date: dt.date | None = None
        self._break_before = False

    @property
    def last(self) -> Draft | None:
        """Return the last song read; None before the first."""
        return next((found.songs[-1] for found in reversed(self.sets) if found.songs), None)

    @property
    def has_lines(self) -> bool:
        """Return whether any line was accounted for."""
        return bool(self._lines)

    @property
    def has_words(self) -> bool:
        """Return whether any line but decoration was accounted for."""
        return any(took is not LineKind.RULE for _, took, _, _, _ in self._lines)

    def is_sender(self, text: str) -> bool:
        """Return whether these words are the name of the mail's sender, as its head has it."""
        heads = [row.text for row, _, _, _, _ in self._lines if row.text.startswith("From: ")]
        return bool(text) and any(set(text.split()) <= set(re.findall(r"\w+", head)) for head in heads)

    def aside(self, row: ListRow, text: str, reason: str, *doubts: Doubt) -> None:
        """Set a line aside that is not played: it is kept with its reason, and in the account."""
        self.keep_aside(row, text, reason)
        self.tell(row, LineKind.ASIDE, f"{reason}: {text}", *doubts)

    def keep_aside(self, row: ListRow, text: str, reason: str) -> None:
        """Keep words that are not played, of a line that is accounted for as something else."""
        self._aside.append(AsideLine(row.place, text, reason))

    def begin_sheet(self) -> None:
        """Begin a new set with the next song, as after a break."""
        self._break_before = bool(self.sets and self.sets[-1].songs)

    def tell(self, row: ListRow, took: LineKind, says: str = "", *doubts: Doubt) -> None:
        """Account for a line that is not a song."""
        self._lines.append((row, took, says, doubts, None))

    def song(self, row: ListRow, draft: Draft) -> None:
        """Add a song to the current set, or to the set that its row names."""
        if draft.set_name:
            self._open_named(draft.set_name)
        elif not self.sets or self._break_before:
            self.sets.append(SetDraft(""))
        self._break_before = False
        doubt_other_key(draft)
        self.sets[-1].songs.append(draft)
        self._lines.append((row, LineKind.SONG, "", (), draft))

    def heading(self, row: ListRow, heading: SetHeading, *doubts: Doubt) -> None:
        """Open a set."""
        starts_min = self._in_the_evening(heading.starts_min, row.text)
        self._open(heading.name, starts_min, heading.minutes)
        if heading.also:
            self.kept.append(f"{set_words(heading.name)}: {heading.also}")
        self._break_before = False
        self.tell(
            row,
            LineKind.SET,
            " · ".join(filter(None, (heading.name, _clock(starts_min), _minutes(heading.minutes), heading.also))),
            *doubts,
        )

    def _in_the_evening(self, starts_min: int | None, text: str) -> int | None:
        """Return 21:15 for a 9.15 that follows a set at 8pm, and 20:00 for a first set at 8; 0:30 after 23:00 stays."""
        before = next((one.starts_min for one in reversed(self.sets) if one.starts_min is not None), None)
        names_half = bool(re.search(r"\d\s?am\b|\b0\d[:.h]", text, re.IGNORECASE))
        if self.is_evening and starts_min is not None and starts_min < HALF_A_DAY_MIN and not names_half:
            return starts_min + HALF_A_DAY_MIN
        if starts_min is not None and before is None and not names_half:
            morning_min = LATER_OF_MORNING_MIN if self.sets else FIRST_OF_MORNING_MIN
            is_early = HOUR_MIN <= starts_min < morning_min and not self._says_morning(text)
            return starts_min + HALF_A_DAY_MIN if is_early else starts_min
        if starts_min is None or before is None or not starts_min < before < starts_min + HALF_A_DAY_MIN:
            return starts_min
        return starts_min + HALF_A_DAY_MIN

    def _says_morning(self, text: str) -> bool:
        """Return whether this line or one above names a morning, or what is held then: brunch, a service."""
        return any(_MORNING.search(said) for said in (text, *(row.text for row, _, _, _, _ in self._lines)))

    def _open(self, name: str, starts_min: int | None = None, minutes: int | None = None) -> None:
        same = next((found for found in self.sets if name and found.name == name), None)
        same = same if same is None or starts_min in (None, same.starts_min) else None  # again, at another time
        if same:  # a set that continues on the next page
            self.sets.remove(same)
            self.sets.append(same)
            return
        self.sets.append(SetDraft(name, starts_min, minutes))

    def _open_named(self, cell: str) -> None:
        said = read_set(cell) or read_set(f"set {cell}")
        name = said.name if said else cell
        if not self.sets or self.sets[-1].name != name:
            self._open(name)

    def pause(self, row: ListRow, *doubts: Doubt) -> None:
        """Handle a break: the songs after it form a new set even without a heading."""
        self._break_before = bool(self.sets and self.sets[-1].songs)
        self.tell(row, LineKind.BREAK, row.text, *doubts)
        if any(letter.isalnum() for letter in row.text):
            self.kept.append(row.text)

    def note(self, row: ListRow, words: str, *doubts: Doubt) -> None:
        """Add a note to the song above, or to the show where there is none."""
        if self.last is None:
            self.left(row)
            return
        self.last.take_each(words)
        self.tell(row, LineKind.NOTE, words, *doubts)

    def left(self, row: ListRow, *doubts: Doubt) -> None:
        """Keep a line that was not understood."""
        self.is_same_as_before = self.is_same_as_before or says_same_as_before(row.text)
        self.kept.append(row.text)
        drafts = [draft for found in self.sets for draft in found.songs]
        has_key = asks_for_key(row.text, drafts)
        says = "gives a key, in doubt" if has_key else "kept in the show's notes"
        self.tell(row, LineKind.LEFT, says, *doubts)

    def told_after(self, first: int) -> list[tuple[ListRow, LineKind, Draft | None]]:
        """Return the lines accounted for, without the first ones: what each was taken for, and its song."""
        return [(row, took, draft) for row, took, _, _, draft in self._lines[first:]]

    @property
    def told(self) -> int:
        """Return how many lines were accounted for."""
        return len(self._lines)

    def retell(self, row: ListRow, says: str, *doubts: Doubt, kind: LineKind = LineKind.CHANGE) -> None:
        """Say of a line that was not understood what it was understood as after all."""
        for at, (other, took, before, others, draft) in enumerate(self._lines):
            if other is row and draft is None:
                says = says if before.startswith("kept in") or not before else f"{before} · {says}"
                self._lines[at] = (row, kind if took is LineKind.LEFT else took, says, (*others, *doubts), None)

    def take_away(self, draft: Draft, reason: str, doubt: Doubt) -> None:
        """Take a song out of its set again: its line is set aside, with the question whether it is played."""
        for one in self.sets:
            one.songs = [other for other in one.songs if other is not draft]
        for at, (row, _, _, _, other) in enumerate(self._lines):
            if other is draft:
                self.keep_aside(row, draft.text, reason)
                self._lines[at] = (row, LineKind.ASIDE, f"{reason}: {draft.title}", (doubt,), None)

    def tell_song(self, row: ListRow, draft: Draft) -> None:
        """Account for a song that a line of talk adds; the caller puts it into its set."""
        at = next((at for at, one in enumerate(self._lines) if one[0] is row and one[4] is None), len(self._lines))
        self._lines[at : at + 1] = [(row, LineKind.SONG, "", (), draft)]

    def about(self, row: ListRow, word: str, says: str) -> None:
        """Take a line about the show: its band, date, venue ..."""
        self.is_evening = self.is_evening or (word in COURSE and says_evening(row.text))
        day = date_in(says)
        self._date = self._date or (day[0] if day else None)
        if word in ABOUT_SHOW and not (day and word in ("date", "datum", "day", "when", "wann")):
            self._about.setdefault(word, says)
        if word not in ("show", "gig", "event", "band", "venue") and not (day and len(says) < 30):
            self.kept.append(row.text)
        self.tell(row, LineKind.ABOUT, f"{word}: {day_text(day[0]) if day and len(says) < 30 else says}")

    def gig(self, row: ListRow, said: GigLine) -> None:
        """Take a line that names the gig: its name, its house, its day."""
        self._date = self._date or said.date
        self._about.setdefault("title", said.title)
        if said.venue:
            self._about.setdefault("venue", said.venue)
        if not said.is_whole:
            self.kept.append(row.text)
        self.is_below_gig = True
        day = day_text(said.date) if said.date else None
        says = (said.title, said.venue if said.venue != said.title else None, day)
        self.tell(row, LineKind.ABOUT, f"names the gig: {', '.join(filter(None, says))}")

    @property
    def knows_gig(self) -> bool:
        """Return whether its day and its name are known."""
        return self._date is not None and any(word in self._about for word in _TITLES)

    def gig_in_words(self, row: ListRow, said: GigLine) -> None:
        """Take the gig that other words of a line name, as far as no line says it plainly."""
        self._date = self._date or said.date
        if said.title:
            self._about.setdefault("title", said.title)
        if said.venue:
            self._about.setdefault("venue", said.venue)
        names = filter(None, (said.title, said.venue if said.venue != said.title else None))
        says = ", ".join((*names, *((day_text(said.date),) if said.date else ())))
        for at, (other, took, _, doubts, draft) in enumerate(self._lines):
            if other is row and draft is None:
                kept = "; kept in the show's notes" if took is LineKind.LEFT else ""
                self._lines[at] = (row, LineKind.ABOUT, f"names the gig: {says}{kept}", doubts, None)

    def subject(self, words: str) -> None:
        """Keep a mail's subject, which names the show if nothing else does."""
        self._about.setdefault("subject", words)

    def title_of_list(self, row: ListRow, message: str = "") -> None:
        """Take a line that names the list, with any date in it.

        ``message``: the line's words if somebody sent it; they name the list only in a form such as "list for ...".
        """
        day, said = date_in(message or row.text), named_list(message or row.text)
        if message and not day and DAY_SAID.search(message):  # ``companion.setlist.parsing.gig_said`` reads it
            self.left(row)
            return
        gig = gig_in_headline(row.text) if not (message or day) else None
        date = day[0] if day else gig.date if gig else None
        self._date = self._date or date
        if "title" in self._about or "show" in self._about or (message and not said):
            self.kept.append(row.text)
        if said or not message:
            name = (gig.title if gig else "") or (said.title if said else row.text.lstrip("# "))  # Markdown
            self._about.setdefault("title", name)
        if venue := (gig and gig.venue) or (said and said.venue):
            self._about.setdefault("venue", venue)
        says = "kept in the show's notes" if message and not said else "names the list"
        self.tell(row, LineKind.ABOUT, f"{says}{f', on {day_text(date)}' if date else ''}")

    # ------------------------------------------------------------------ the result

    def finish(self, default_title: str) -> SetList:
        """Return the list with its show."""
        self._explain_marks()
        self._explain_words()
        self._sort_by_number()
        sets = tuple(found.as_set(index) for index, found in enumerate(one for one in self.sets if one.songs))
        title = next((self._about[word] for word in (*_TITLES, "subject") if word in self._about), "")
        venue = next(
            (
                self._about[word]
                for word in ("venue", "place", "location", "hall", "ort", "where")
                if word in self._about
            ),
            None,
        )
        band = self._about.get("band")
        title = title or named_by_facts(default_title, band, venue, self._date)
        show = Show(
            title=cut(one_line(title), 200),
            band=band and cut(one_line(band), 200),
            date=self._date,
            venue=venue and cut(one_line(house_in(venue)), 200),
            notes=self._notes(),
            sets=sets,
        )
        drafts = [draft for found in self.sets for draft in found.songs]
        numbers = {id(draft): number for number, draft in enumerate(drafts, start=1)}
        doubt_places(self.places, drafts)
        lines = tuple(
            ListLine(
                row.place,
                row.text,
                took,
                draft.says() if draft else says,
                _numbered(draft.doubts, numbers[id(draft)]) if draft else doubts,
                numbers[id(draft)] if draft else None,
            )
            for row, took, says, doubts, draft in self._lines
        )
        doubts, aside = tuple(dict.fromkeys(self.doubts)), tuple(self._aside)
        return SetList(show, lines, doubts, aside, self.choices, self.chosen, said_times=self.said_times)

    def _notes(self) -> str | None:
        """Join the kept lines; where they exceed a show file's limit, count those that remain only in the list."""
        kept, size = [], 0
        for at, line in enumerate(map(one_line, self.kept)):
            size += len(line) + 1
            if size > LONGEST_SHOW_NOTES:
                rest = len(self.kept) - at
                kept.append(f"... and {rest} more lines in the list itself")
                self.doubts.append(Doubt(f"{rest} lines do not fit in the show's notes: they are in this table only"))
                break
            kept.append(line)
        return "\n".join(kept) or None

    def _explain_words(self) -> None:
        """Add their meanings to notes that are only a colour or a letter: marked yellow (keys solo)."""
        for draft in (draft for found in self.sets for draft in found.songs):
            for at, note in enumerate(draft.notes):
                colour = self.colours.get(note.removeprefix("marked "))
                meaning = colour if note.startswith("marked ") else self.singers.get(note)
                if meaning:
                    draft.notes[at] = f"{note} ({meaning})"

    def _explain_marks(self) -> None:
        unexplained = 0
        for found in self.sets:
            for draft in found.songs:
                if not draft.stars:
                    continue
                meaning = self.marks.get(draft.stars)
                if meaning:
                    draft.note(meaning)
                else:
                    unexplained += 1
                    draft.notes.append(draft.stars)
        if unexplained:
            have = "1 song has" if unexplained == 1 else f"{unexplained} songs have"
            says = f"{have} a mark that the list does not explain: kept in the notes"
            self.doubts.append(Doubt(says))

    def _sort_by_number(self) -> None:
        """Sort songs by their numbers, where the rows are in another order, such as by title."""
        for found in self.sets:
            if found.sort_by_number():
                name = found.name or "the list"
                self.doubts.append(Doubt(f"{name}: the rows are not in the order of their numbers: sorted by number"))


def _numbered(doubts: Iterable[Doubt], song: int) -> tuple[Doubt, ...]:
    return tuple(msgspec.structs.replace(doubt, song=song) for doubt in dict.fromkeys(doubts))


def _clock(minutes: int | None) -> str:
    return "" if minutes is None else f"{minutes // 60}:{minutes % 60:02}"


def _minutes(minutes: int | None) -> str:
    return "" if minutes is None else f"{minutes} min"
