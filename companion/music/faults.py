"""The one error of this room: a text that is no music, where it stops being so, and what to write."""

LONGEST_QUOTE = 40  # a fault is one line on a screen; nobody reads back more than this of their own text


class NotMusic(ValueError):  # noqa: N818 - it is said so at rehearsal; the file's own error is a Fault
    """A text that cannot be read. ``column`` counts from 0 in that text, to the character at fault."""

    def __init__(self, column: int, problem: str, write: str = "") -> None:
        self.column = column
        self.problem = problem
        self.write = write
        super().__init__(column, problem, write)

    def __str__(self) -> str:
        return f"{self.problem}. Write: {self.write}" if self.write else self.problem

    def moved(self, columns: int) -> "NotMusic":
        """Give the same fault, seen from a longer text in which this one begins ``columns`` further right."""
        return NotMusic(self.column + columns, self.problem, self.write)


def quoted(text: str) -> str:
    """Give the text in double quotes, cut where it is long."""
    return f'"{text if len(text) <= LONGEST_QUOTE else text[: LONGEST_QUOTE - 1] + "…"}"'


def nearest(word: str, known: tuple[str, ...]) -> str | None:
    """Find the known word most like this one, or None where nothing is alike."""
    from difflib import get_close_matches  # noqa: PLC0415 - only a fault needs it, the foot never does

    folded = {name.casefold(): name for name in reversed(known)}
    found = get_close_matches(word[:LONGEST_QUOTE].casefold(), folded, n=1, cutoff=0.5)
    return folded[found[0]] if found else None
