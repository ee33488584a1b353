"""The one error of this room: a text that cannot be read, where it goes wrong, and what to write."""

LONGEST_QUOTE = 40  # a fault is one line on a screen; more of the player's own text would not help


class NotMusic(ValueError):  # noqa: N818 - reads like speech; the file's own error is a Fault
    """A text that cannot be read. ``column`` counts from 0 in that text, to the character at fault."""

    def __init__(self, column: int, problem: str, write: str = "") -> None:
        self.column = column
        self.problem = problem
        self.write = write
        super().__init__(column, problem, write)

    def __str__(self) -> str:
        return f"{self.problem}. Write: {self.write}" if self.write else self.problem

    def moved(self, columns: int) -> "NotMusic":
        """Return the fault for a longer text in which this one starts ``columns`` further right."""
        return NotMusic(self.column + columns, self.problem, self.write)


def quoted(text: str) -> str:
    """Return the text in double quotes, cut to LONGEST_QUOTE characters."""
    return f'"{text if len(text) <= LONGEST_QUOTE else text[: LONGEST_QUOTE - 1] + "…"}"'


def nearest(word: str, known: tuple[str, ...]) -> str | None:
    """Return the known word most like this one, or None if nothing is close."""
    from difflib import get_close_matches

    folded = {name.casefold(): name for name in reversed(known)}
    found = get_close_matches(word[:LONGEST_QUOTE].casefold(), folded, n=1, cutoff=0.5)
    return folded[found[0]] if found else None
