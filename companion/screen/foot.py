"""The foot of the page: the sounds on strips of tape, and the key."""

from collections.abc import Iterator, Sequence
from typing import Final

import msgspec
from msgspec.structs import replace

from companion.screen.fitting import Fitted, Fitting
from companion.screen.page import Sizes, TypeMeasure
from companion.screen.rows import LineRow
from companion.view import LineMark, LineRole, ViewLine
from companion.view.glance import is_leftover, label_without_board

KEY_SHARE: Final = 0.6  # of the foot, at most, for the key if the sound must be cut


class Foot(msgspec.Struct, frozen=True):
    """Fits sounds and key into ``room`` px: on one row, on more if ``may_stack``, else smaller, or cut."""

    pen: TypeMeasure
    sizes: Sizes
    room: float
    may_stack: bool
    changed_arcmin: float  # of a changed key, where it fits: what the hands must do is read before the sounds

    def rows(self, lines: Sequence[ViewLine]) -> tuple[LineRow, ...]:
        """Return the rows. If room is short, sounds left on from before go first, then the keyboards' names.

        What to do with the hands goes last.
        """
        sounds = [line for line in lines if line.part is LineRole.SOUND]
        key = next((line for line in lines if line.part is LineRole.KEY), None)
        own = [line for line in sounds if not is_leftover(line)]
        for shown in (sounds, own) if 0 < len(own) < len(sounds) else (sounds,):
            for labels in (lambda line: line.label, label_without_board, lambda _: ""):
                rows = self._whole([replace(line, label=labels(line)) for line in shown], key)
                if rows:
                    return rows
        return self._cut(own or sounds, key)

    def _whole(self, sounds: Sequence[ViewLine], key: ViewLine | None) -> tuple[LineRow, ...]:
        """Return rows with every word whole; empty if they do not fit."""
        for sound_arcmin, key_arcmin in self._sizes(is_changed=key is not None and key.mark is LineMark.CIRCLE):
            left = tuple(self._fit(line, self.room, sound_arcmin) for line in sounds)
            if not all(_is_whole(one) and one.outer <= self.room + 2 * one.bleed for one in left):
                continue
            rights = (
                [(self._fit(replace(key, text=form), self.room, key_arcmin),) for form in _forms(key)] if key else [()]
            )
            for right in rights:
                if self._fits(LineRow(left, right)):
                    return (LineRow(left, right),)
            if self.may_stack:
                stacked = self._stacked(left)
                last = LineRow(stacked[-1].left, rights[0]) if stacked else LineRow((), rights[0])
                return (*stacked[:-1], last) if self._fits(last) else (*stacked, LineRow((), rights[0]))
        return ()

    def _sizes(self, *, is_changed: bool) -> Iterator[tuple[float, float]]:
        """Yield the sizes of (the sounds, the key), the preferred first."""
        cue, least = self.sizes.cue, self.sizes.least
        if is_changed:
            yield from ((cue, self.changed_arcmin), (least, self.changed_arcmin))
        yield from ((cue, cue), (cue, least), (least, least))

    def _stacked(self, fitted: Sequence[Fitted]) -> tuple[LineRow, ...]:
        """Start a new row for each line that does not fit beside the ones before."""
        rows: list[LineRow] = []
        for one in fitted:
            longer = LineRow((*rows[-1].left, one)) if rows else None
            if longer and self._fits(longer):
                rows[-1] = longer
            else:
                rows.append(LineRow((one,)))
        return tuple(rows)

    def _cut(self, sounds: Sequence[ViewLine], key: ViewLine | None) -> tuple[LineRow, ...]:
        """Fit each sound on its own row if rows may stack, else beside the key; leave out what does not fit."""
        if self.may_stack:
            ways = ((self.sizes.least, 1), (self.sizes.least, 2))
            left = tuple(Fitting(self.pen, self.room, self.sizes.least, ways).fit(line) for line in sounds)
            last = () if key is None else (LineRow((), (self._fit(key, self.room, self.sizes.least),)),)
            return (*(LineRow((one,)) for one in left), *last)
        right = (self._fit(key, self.room * KEY_SHARE, self.sizes.least),) if key else ()
        free = self.room - (LineRow((), right).span(self.sizes.gap) + self.sizes.gap if right else 0.0)
        bare = [replace(line, label="") for line in sounds]
        for many in range(len(bare), 0, -1):
            row = LineRow(tuple(self._fit(line, free, self.sizes.least) for line in bare[:many]), right)
            if self._fits(row) and all(map(_is_whole, row.left)):
                return (row,)
        # Half a name might be another sound, so only a single sound is cut, and in its middle.
        single = LineRow(tuple(self._fit(line, free * 0.9, self.sizes.least) for line in bare[:1]), right)
        if single.all and self._fits(single):
            return (single,)
        return (LineRow((), right),) if right else ()

    def _fit(self, line: ViewLine, width: float, arcmin: float) -> Fitted:
        return Fitting(self.pen, width, self.sizes.least, ((arcmin, 1),)).fit(line)

    def _fits(self, row: LineRow) -> bool:
        return row.span(self.sizes.gap) <= self.room


def _forms(line: ViewLine) -> tuple[str, ...]:
    return (line.text, *line.shorter)


def _is_whole(one: Fitted) -> bool:
    return len(one.rows) == 1 and one.rows[0] in _forms(one.line)
