"""Decide what each open line of a text is, by the style of the whole list."""

from collections import Counter

from companion.setlist.model import Doubt, LineKind
from companion.setlist.parsing import line_kinds
from companion.setlist.parsing.capo import HAS_CAPO
from companion.setlist.parsing.course_of_evening import learn_course
from companion.setlist.parsing.doubts import doubtful_song, heading_or_song, note_or_song, parted_here, song_or_not
from companion.setlist.parsing.key_layout import KeyLayout
from companion.setlist.parsing.labels import label_of, role_of
from companion.setlist.parsing.line_forms import Classified, ends_in_colon, rows_of_songs
from companion.setlist.parsing.list_style import DEEPER, Style
from companion.setlist.parsing.note_blocks import is_all_of_set, lines_about_songs
from companion.setlist.parsing.patterns import HEAD
from companion.setlist.parsing.plain_sets import plain_sets
from companion.setlist.parsing.prose_lines import (
    in_brackets,
    is_asked,
    is_greeting_title,
    is_plain_title,
    is_prose,
    is_small_title,
    looks_like_title,
    parted_at,
    usual_sign,
)
from companion.setlist.parsing.remarks import is_remark
from companion.setlist.parsing.set_bounds import is_below_songs
from companion.setlist.parsing.set_headings import SetHeading, is_without_music
from companion.setlist.parsing.small_talk import is_small_talk, learn_rises, leaves_count
from companion.setlist.parsing.song_draft import Draft
from companion.setlist.parsing.standing_alone import stands_alone
from companion.setlist.parsing.text_lines import TextLine
from companion.setlist.parsing.words_of_events import is_spoken_part, names_meal
from companion.setlist.parsing.wrapped_titles import MOST_KEYED

FEWEST_KEYLESS = 2  # titles without keys between the others tell that one below them is a title too
MANY_KEYLESS, FEW_KEYLESS = 4, 0.15  # number and share of the lines from which on a title without a key is usual
SHORT = 6  # words; a longer line without number or bullet is more likely a note than a title


class Settling:
    """Decides what the open lines of a list are. It knows all drafts and kinds."""

    def __init__(self, found: list[Classified], style: Style, layout: KeyLayout | None) -> None:
        self.found, self.style, self.layout = found, style, layout
        open_lines = [one for one in found if one.took is None]
        worded = [one for one in open_lines if not line_kinds.is_chat(one.line.text)]
        self.keyed_share = sum(bool(one.draft and one.draft.has_key) for one in open_lines) / max(len(worded), 1)
        self.is_keyed = self.keyed_share >= MOST_KEYED and len(open_lines) > 2
        self.loud = sum(one.line.text.isupper() for one in open_lines) < 0.5 * len(open_lines)
        self.sure = [one.took is None and self._is_sure(one) for one in found]
        self.quoted_less = any(sure and not one.line.row.quoted for sure, one in zip(self.sure, found, strict=True))
        for at in self._plain():
            self.sure[at] = True
        sure = [one.draft for one, is_sure in zip(found, self.sure, strict=True) if is_sure and one.draft]
        self.about_songs = lines_about_songs(found, self.sure)
        self.rises = learn_rises(sure, open_lines)
        self.titles_rise = self.rises.titles
        self.shape = usual_sign([one.line.text for one, is_sure in zip(found, self.sure, strict=True) if is_sure])
        self.marks_say_all = self.style.is_shaped and len(sure) > 2 and all(draft.has_key for draft in sure)
        sung = [one.took is LineKind.SONG or sure for one, sure in zip(found, self.sure, strict=True)]
        self.first = next((at for at, sure in enumerate(self.sure) if sure), 0)
        self.last = max((at for at, is_song in enumerate(sung) if is_song), default=0)
        self.keyless = sum(
            one.took is None and not (one.draft and one.draft.has_key) and is_plain_title(one.line, self.style)
            for one in found[self.first : self.last]
        )
        self.first_heading = next((at for at, one in enumerate(found) if one.took is LineKind.SET), None)
        self.alone = stands_alone(found)
        self.senders = {one.line.message.sender for one, is_song in zip(found, sung, strict=True) if is_song}
        self.senders |= {one.line.message.sender for one in found if one.took is LineKind.SET or not any(sung)}
        self.rows_of_songs = rows_of_songs(found)
        self.ended = self.song_above = False
        self.texts = Counter(one.line.text for one in found if len(one.line.text.split()) == 1)  # names of senders
        self.colons = sum(ends_in_colon(one) for one in found)
        self.course = learn_course(found, sure, style, titles_rise=self.titles_rise)
        self._framed_sets = any(one.took is LineKind.SET and one.line.is_framed for one in found)

    def _plain(self) -> frozenset[int]:
        """Return which lines are songs of a set without numbers in a list that has them elsewhere."""
        if not self.style.is_shaped:
            return frozenset()
        return plain_sets(
            [one.line for one in self.found],
            [one.took for one in self.found],
            [self._may_be_plain(one) for one in self.found],
            [bool(one.draft and one.draft.has_key) for one in self.found],
            self.style,
        )

    def _may_be_plain(self, one: Classified) -> bool:
        """Return whether a line reads like a title: nothing of a note, a heading or talk about it."""
        line, title = one.line, one.draft.title if one.draft else ""
        if one.took is not None or not title or one.heading or (self.loud and line.text.isupper()):
            return False
        if line.is_bulleted or line_kinds.is_chat(line.text) or is_prose(line, self.style, self.layout):
            return False
        return not self._is_note(line, title) and (bool(one.draft and one.draft.has_key) or self._reads_as_title(line))

    def _reads_as_title(self, line: TextLine) -> bool:
        return looks_like_title(line, self.style) and len(line.text.split()) <= SHORT

    def _is_sure(self, one: Classified) -> bool:
        """Return whether the line is a song by its mark, or by its key in a list without marks."""
        if self.style.is_shaped:
            return self.style.marks(one.line)
        return self.is_keyed and bool(one.draft and one.draft.has_key)

    def settle(self) -> None:
        """Take every open line for something."""
        for at, one in enumerate(self.found):
            if one.took in (LineKind.SET, LineKind.BREAK):
                self.ended = False
            if one.took is None:
                one.took = self._kind(at, one)
            self.song_above = self.song_above or one.took is LineKind.SONG

    def _kind(self, at: int, one: Classified) -> LineKind:
        line, draft = one.line, one.draft
        assert draft is not None  # noqa: S101  every open line was parsed
        if at in self.about_songs and (not draft.has_key or line.text[-1:] in ".!"):
            return LineKind.NOTE
        if self.is_talk(at, line) or is_asked(line, self.style):
            if at == self.last + 1 and self._reads_as_one_more(at, line):
                one.doubts = (song_or_not(line.text),)
            return LineKind.LEFT
        if self.style.marks(line) and self.course.is_marked_event(line, draft):
            one.doubts = (song_or_not(draft.title),)
            return LineKind.LEFT
        if self.sure[at] and draft.title and (self.style.marks(line) or not is_prose(line, self.style, self.layout)):
            return LineKind.SONG
        if self.sure[at] and self._is_between(at) and not self.titles_rise and is_small_title(line, draft):
            draft.doubts.append(doubtful_song("it may be talk", draft.title))
            return LineKind.SONG
        if draft.has_key and draft.title and role_of(line.text):
            return LineKind.SONG  # First dance: Moth (Ab), wherever it stands
        if heading := self._heading(at, one):
            one.heading = heading
            return LineKind.SET
        if line.is_framed and not draft.has_key and (self.first_heading is not None or self.song_above):
            is_pause = self.first_heading is None
            one.doubts = (parted_here() if is_pause else song_or_not(draft.title),)
            return LineKind.BREAK if is_pause else LineKind.LEFT
        if one.heading and is_without_music(line.text):
            return LineKind.BREAK
        if self._is_among_songs(at, line):
            draft.doubts.append(doubtful_song("it may be talk", draft.title))
            return LineKind.SONG
        self.ended = self.ended or (self.song_above and line_kinds.is_farewell(line.text))
        if line_kinds.is_chat(line.text) or self.ended or not draft.title:
            is_deep = line.row.indent > self.style.indent + DEEPER or line.row.quoted
            return LineKind.NOTE if is_deep and self._belongs_to_song_above(at, line) else LineKind.LEFT
        if self._is_before_songs(at) and not self._leads_in(at, one):
            return LineKind.LEFT
        if self.style.is_shaped:
            return self._unmarked(at, one, draft)
        if self.is_keyed:
            return self._unkeyed(at, one)
        return self._by_position(at, line)

    def _is_among_songs(self, at: int, line: TextLine) -> bool:
        """Return whether a line that may be a greeting reads like a title, between lines that do: Hello Harold."""
        if self.style.is_shaped or self.is_keyed > self.found[at].has_key or not line_kinds.is_chat(line.text):
            return False
        is_inside = at > 0 and not line.row.blank_before and (self.style.capitals or at + 1 < len(self.found))
        is_title = is_inside and is_greeting_title(line, self.found[at].draft, self.style)
        return is_title and self._is_close(at - 1) and self._is_close(at + 1)

    def _is_close(self, at: int) -> bool:
        """Return whether a song or the heading of a set stands here, and no blank line parts it from the line above."""
        if at >= len(self.found):
            return not (self.found and line_kinds.is_chat(self.found[0].line.text))  # or it is a farewell
        one = self.found[at]
        if one.took is None:
            return not one.line.row.blank_before and self._reads_as_title(one.line)
        return one.took in (LineKind.SONG, LineKind.SET)

    def is_talk(self, at: int, line: TextLine) -> bool:
        """Return whether a line of a chat is talk: of someone who sent no song, or after the last song."""
        if not line.message.sender or line.talk:
            return False  # the words of talk in front of a song were taken off it
        if (line.text.endswith("?") and line.text[:1].islower()) or line_kinds.is_assent(line.text):
            return True
        if leaves_count(self.found, at):
            return True
        if not self.style.marks(line) and is_small_talk(
            self.found[at], self.rises, is_keyed=self.is_keyed, is_shaped=self.style.is_shaped
        ):
            return True  # yes we did it in March, between songs with capitals and keys
        return line.message.sender not in self.senders or (
            self.last > 0
            and at > self.last
            and not self.style.marks(line)
            and not self._goes_on(at)
            and (any(self.sure) or not self.found[at].has_key)
        )

    def _goes_on(self, at: int) -> bool:
        """Return whether titles without keys go on below the last song with one, as they stand between the others."""
        return self.keyless >= FEWEST_KEYLESS and all(
            self._reads_as_one_more(there, self.found[there].line) for there in range(self.last + 1, at + 1)
        )

    def _reads_as_one_more(self, at: int, line: TextLine) -> bool:
        """Return whether a line right below others of its message reads like a title, and like nothing else."""
        is_close = not line.row.blank_before or self.found[at - 1].took is LineKind.SET
        is_same = line.message.message == self.found[self.last].line.message.message
        return is_close and is_same and self.titles_rise and is_plain_title(line, self.style)

    def _is_one_of_many(self, at: int, line: TextLine) -> bool:
        """Return whether so many titles have no key that one more among the songs is nothing odd."""
        above = self.found[at - 1].took if at else None
        is_among = above in (LineKind.SONG, LineKind.SET) and not (above is LineKind.SONG and line.row.blank_before)
        are_many = self.keyless >= max(MANY_KEYLESS, FEW_KEYLESS * len(self.sure))
        return are_many and is_among and is_plain_title(line, self.style)

    def _is_before_songs(self, at: int) -> bool:
        """Return whether the line stands above the songs, if the list says so: by its headings, marks or keys."""
        if self.first_heading is not None and at < self.first_heading:
            return not any(self.sure[:at]) and not (
                is_below_songs(self.found, self.first_heading) and not self.alone[at]
            )
        shaped = self.style.is_shaped or self.is_keyed
        return (
            shaped
            and at < self.first
            and not (self.is_keyed and not self.style.is_shaped and self.first_heading is not None)
        )

    def _leads_in(self, at: int, one: Classified) -> bool:
        """Return whether a line with a key stands right above the first song: Overture (C), before 1. Moth (G)."""
        below = self.found[at + 1] if at + 1 < len(self.found) else None
        is_above = below is not None and self.sure[at + 1] and not below.line.row.blank_before
        has_key = (
            bool(one.draft and one.draft.key)
            or (self._has_shape_of_songs(one.line) and not line_kinds.names_day(one.line.text))
            or HAS_CAPO.search(one.line.text) is not None
        )
        return is_above and has_key and not is_prose(one.line, self.style, self.layout)

    def _belongs_to_song_above(self, at: int, line: TextLine) -> bool:
        return at > 0 and self.song_above and not line.row.blank_before and not self.ended

    def _unmarked(self, at: int, one: Classified, draft: Draft) -> LineKind:
        """Settle a line without the number or bullet that the songs have."""
        line = one.line
        if self.song_above and is_all_of_set(self.found, at) and self._reads_as_title(line):
            draft.doubts.append(doubtful_song("no number or bullet, unlike the others", draft.title))
            return LineKind.SONG
        if self._is_note(line, draft.title) and not (
            draft.has_key and not is_remark(draft.title) and not self._is_deeper(line)
        ):
            return self._note_or_left(at, line)
        if self.marks_say_all and not draft.has_key and not (draft.length_s and ":" in line.text):
            one.doubts = (song_or_not(draft.title),) if at < self.last else ()
            return LineKind.LEFT
        between = (
            at < self.last and not line.row.blank_before and self._is_between(at) and len(line.text.split()) <= SHORT
        )
        if draft.has_key or (draft.length_s and at < self.last) or (between and looks_like_title(line, self.style)):
            draft.doubts.append(doubtful_song("no number or bullet, unlike the others", draft.title))
            return LineKind.SONG
        if self._reads_as_title(line) and self._belongs_to_song_above(at, line):
            one.doubts = (note_or_song(line.text),)
        return self._note_or_left(at, line)

    def _unkeyed(self, at: int, one: Classified) -> LineKind:
        """Settle a line without a key where most songs have one."""
        line, draft = one.line, one.draft
        if self.song_above and draft and not draft.has_key and self.course.goes_on_with(line):
            one.doubts = (song_or_not(line.text),)
            return LineKind.LEFT
        if self._has_shape_of_songs(line) and draft:
            draft.title, said = parted_at(draft.title, self.shape)
            draft.note(said)
            draft.doubts = [doubtful_song("without a key, unlike the others", draft.title)]
            return LineKind.SONG
        if (
            self.texts[line.text] > 1
            or is_spoken_part(line.text)
            or (self.style.labelled and self.keyed_share >= MOST_KEYED and label_of(line.text) is None)
        ):
            one.doubts = (song_or_not(line.text),)
            return LineKind.LEFT
        if (
            (self.titles_rise and line.text[:1].islower())
            or self._is_note(line, draft.title if draft else "")
            or len(line.text.split()) > SHORT + 2
        ):
            return self._note_or_left(at, line)
        if not looks_like_title(line, self.style):
            if at > self.last or not self._belongs_to_song_above(at, line):
                return LineKind.LEFT
            one.doubts = (note_or_song(line.text),)
            return LineKind.NOTE
        is_apart = line.row.blank_before or (at > 0 and self.found[at - 1].is_beside)  # a name below kind regards
        if at > self.last and (is_apart or line_kinds.signs_off(line.text)):
            one.doubts = () if is_apart else (song_or_not(line.text),)
            return LineKind.LEFT
        if draft and not draft.doubts and draft.has_key:
            draft.doubts.append(doubtful_song("it may be talk", draft.title))
        elif draft and not draft.doubts and self._is_one_of_many(at, line):
            draft.doubts.append(Doubt("without a key, as others here: read as a song"))
        elif draft and not draft.doubts:
            draft.doubts.append(doubtful_song("without a key, unlike the others", draft.title))
        return LineKind.SONG

    def _has_shape_of_songs(self, line: TextLine) -> bool:
        """Return whether a sign parts the line where the same parts nearly every song: Moth: same as record."""
        title, said = parted_at(line.text, self.shape)
        return bool(said) and line.text[:1].isupper() and not (is_remark(title) or self._is_deeper(line))

    def _by_position(self, at: int, line: TextLine) -> LineKind:
        """Settle a line of a list without marks and keys: only where it stands tells it from a song."""
        if self.alone[at]:
            return LineKind.LEFT
        if self.rows_of_songs > 1 and not ((draft := self.found[at].draft) and draft.has_key):
            self.found[at].doubts = (song_or_not(line.text),)
            return LineKind.LEFT
        if self.style.bulleted_notes and line.is_bulleted:
            return self._note_or_left(at, line)
        if self.song_above and (self._is_deeper(line) or in_brackets(line.text)):
            return self._note_or_left(at, line)
        return LineKind.SONG

    def _heading(self, at: int, one: Classified) -> SetHeading | None:
        """Read a heading that only the lines around it tell from a song: Dinner, DANCING, Spare."""
        line, following = one.line, at + 1 < len(self.found) and self.found[at + 1]
        if line.is_marked and self.style.marks(line):
            return None
        song_below = bool(following) and self._is_song_below(at + 1)
        stands_out = (
            line.row.blank_before
            or (self.loud and line.text.isupper() and len(line.text) > 3)
            or line.whole.rstrip().endswith(":")
            or line.row.is_large
            or (line.is_framed and not line.text[:1].islower())
        )
        stands_out = stands_out or (one.heading is not None and (self.is_keyed or one.heading.starts_min is not None))
        if (
            one.heading
            and (stands_out or at == 0)
            and (song_below or one.heading.also or one.heading.starts_min is not None)
        ):
            return one.heading
        if line.is_framed and self.first_heading is not None and not self._framed_sets:
            return None  # ** auction **, in a list whose sets have other headings
        is_regular = self.style.is_shaped or self.is_keyed or line.is_framed
        is_one_of_several = self.colons > 1 and ends_in_colon(one)
        if not song_below or not stands_out or not is_regular or not (at or line.is_framed or is_one_of_several):
            return None
        if following and following.line.row.blank_before and names_meal(line.text):
            return None  # Ploughman's supper, with an empty line on both sides
        if len(line.text.split()) > 4 or line_kinds.is_chat(line.text) or (one.draft and one.draft.has_fact):
            return None
        if self.first_heading is None and not (self.song_above or is_one_of_several):
            return None
        name = line.text.strip(" :()[]")
        name = name.capitalize() if name.isupper() else name
        one.doubts = (heading_or_song(name),)
        return SetHeading(name)

    def _is_song_below(self, at: int) -> bool:
        one = self.found[at]
        if one.took not in (None, LineKind.SONG):
            return False
        is_open = not (self.style.is_shaped or self.is_keyed)
        return is_open or self.sure[at] or one.took is LineKind.SONG or bool(one.draft and one.draft.has_key)

    # ------------------------------------------------------------------ what a line looks like

    def _is_deeper(self, line: TextLine) -> bool:
        return (
            line.row.indent > self.style.indent + DEEPER
            or line.row.is_small
            or bool(line.row.quoted and self.quoted_less)
        )

    def _is_note(self, line: TextLine, title: str = "") -> bool:
        """Return whether a line looks like a note: an arrow or bracket in front, small letters, a remark."""
        return (
            (line.whole[:1] in "(-–>[↳→└↪" and not HEAD.match(line.whole))
            or (self.style.capitals and line.text[:1].islower())
            or (not self.style.capitals and self.style.is_shaped and line.text[:1].islower())
            or is_remark(title or line.text)
            or self._is_deeper(line)
            or (self.style.is_shaped and len(line.text.split()) > SHORT and not looks_like_title(line, self.style))
        )

    def _note_or_left(self, at: int, line: TextLine) -> LineKind:
        is_apart = at > self.last and self.found[at - 1].took is LineKind.LEFT
        return LineKind.NOTE if self._belongs_to_song_above(at, line) and not is_apart else LineKind.LEFT

    def _is_between(self, at: int) -> bool:
        """Return whether a line without a number or bullet is directly between songs or under a heading."""
        return (self.sure[at - 1] or self.found[at - 1].took is LineKind.SET) and (
            at + 1 < len(self.found) and (self.sure[at + 1] or self.found[at + 1].took is not None)
        )
