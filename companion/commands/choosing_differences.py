"""The conversation about a list's next version at the terminal: what differs, by weight; each can be taken or left."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

import click

from companion.commands.terminal import agreed
from companion.shown import harmless_line

if TYPE_CHECKING:
    from companion.setlist import Difference, Imported, RevisionChoice

SOME = "some"
WORDS = f"yes, no, {SOME} (one by one) or details (show them)"


def differences_text(differences: "Sequence[Difference]", *, details: bool = False) -> list[str]:
    """Return the differences as lines, the heaviest first, each kind under its heading; details folded to one line."""
    from companion.setlist.revising.differences import DETAILS, GROUPS, difference_text

    lines = []
    for group in GROUPS:
        found = [one for one in differences if one.group == group]
        if found and group == DETAILS and not details:
            titles = list(dict.fromkeys(one.title for one in found))
            named = ", ".join(titles[:3]) + (f" and {len(titles) - 3} more" if len(titles) > 3 else "")
            lines.append(f"details ({len(found)}): lengths, tempos, artists, spelling of {named}")
        elif found:
            lines += [f"{group} ({len(found)})", *(f"  {difference_text(one)}{_left(one)}" for one in found)]
    return lines


def _left(one: "Difference") -> str:
    return f"; the show's stays: {SOME} takes the list's" if one.is_left_at_first else ""


class DifferencesTalk:
    """Asks which differences to take, except in groups that the command line names; nothing without a terminal."""

    def __init__(self, left_groups: Sequence[str], *, yes: bool, as_json: bool, can_ask: bool) -> None:
        self._left_groups = left_groups
        self._yes, self._as_json, self._can_ask = yes, as_json, can_ask
        self._asked: set[Difference] = set()
        self.unasked: tuple[Difference, ...] = ()  # left, since only the player could have taken them
        self._is_one_by_one = False
        self._answer: bool | None = None  # whether to write, once the player has decided

    def choose(self, imported: "Imported", choice: "RevisionChoice") -> "RevisionChoice":
        """Return what to leave; the same choice if there is nothing more to decide."""
        from companion.setlist import RevisionChoice

        by_group = {one.name for one in imported.differences if one.group in self._left_groups and one.is_choice}
        if by_group:
            return RevisionChoice(choice.left | by_group, choice.apart)
        open_ones = [one for one in imported.differences if one.is_choice and one not in self._asked]
        is_by_hand = self._can_ask and not self._yes and not self._as_json
        if is_by_hand and open_ones and (self._is_one_by_one or self._begins(imported)):
            return self._one_by_one(open_ones, choice)
        self.unasked = (*self.unasked, *(one for one in imported.differences if one.is_left_at_first))
        left = {one.name for one in self.unasked}
        return RevisionChoice(choice.left | left, choice.apart) if left - choice.left else choice

    def _begins(self, imported: "Imported") -> bool:
        """Ask about all differences at once; return whether the player wants to see them one by one."""
        from companion.setlist.revising.differences import DETAILS

        for line in differences_text(imported.differences):
            click.echo(harmless_line(line))
        while True:
            answer = click.prompt(f"Take these changes? {WORDS}", default="yes").strip().lower()
            if answer in ("y", "yes", "n", "no"):
                self._answer = answer in ("y", "yes")
                self._asked |= set(imported.differences)
                return False
            if answer in ("s", "some"):
                self._is_one_by_one = True
                return True
            if answer in ("d", "details"):
                details = [one for one in imported.differences if one.group == DETAILS]
                for line in differences_text(details, details=True):
                    click.echo(harmless_line(line))

    def _one_by_one(self, differences: "Sequence[Difference]", choice: "RevisionChoice") -> "RevisionChoice":
        """Ask about each difference: take it or leave it; a renamed song may be another song."""
        from companion.setlist import Differs, RevisionChoice

        left, apart = set(choice.left), set(choice.apart)
        for one in differences:
            self._asked.add(one)
            is_renamed = one.differs is Differs.RENAMED
            words = "take, leave, another (it is another song), rest" if is_renamed else "take, leave, rest"
            answer = ""
            while answer not in ("t", "take", "l", "leave", "r", "rest", *(("a", "another") if is_renamed else ())):
                usual = "leave" if one.is_left_at_first else "take"
                answer = click.prompt(harmless_line(f"{one}: {words}"), default=usual).strip().lower()
            if answer in ("r", "rest"):  # takes what is left of them, but no times of sets
                left |= {other.name for other in differences[differences.index(one) :] if other.is_left_at_first}
                self._asked |= set(differences)
                break
            if answer in ("l", "leave"):
                left.add(one.name)
            elif answer in ("a", "another"):
                apart.add((one.old_title, one.title))
        return RevisionChoice(frozenset(left), frozenset(apart))

    def agrees(self, imported: "Imported") -> bool:
        """Return whether to write the result."""
        if self._yes or imported.is_new:
            return True
        if self._answer is not None:
            return self._answer
        question = f"Write this to {imported.show_path}?"
        return agreed(question, as_json=self._as_json, assumed=self._is_one_by_one)
