"""Turn text into rows: CSV and TSV, Markdown tables, columns made with spaces, and lists pasted from a message."""

import csv
import io
import re

from companion.setlist.model import ListPage, ListRow, SourceLine, TextSpan
from companion.setlist.parsing.envelopes import is_chat_log
from companion.setlist.parsing.page_columns import says_key_or_length
from companion.setlist.readers.limits import (
    LONG_LINE,
    LONGEST_CELL,
    MAX_COLUMNS,
    MAX_IN_LONG_LINES,
    MAX_LINE,
    MAX_PLAIN_TEXT,
    MAX_ROWS,
    MAX_TEXT_BYTES,
)
from companion.setlist.readers.refusal import no_list
from companion.setlist.tidy import one_line, tidy, without_emphasis

SEPARATORS = ("\t", ";", "|", ",")
LONE_CSV = 0.7  # without other signs, a file is CSV where this share of its lines has the same number of cells
FEWEST_CSV = 3  # lines; fewer with commas are sentences
FEWEST_TABBED = 3  # lines
TAB_GAP = 4  # spaces between two columns
INNER_TAB = re.compile(r"(?<=\S)\t")  # it parts two columns, however near its stop is
TABS = re.compile(r"\s*\t\s*")
WIDE = re.compile(r" {2,}|\t+")
TABLE_RULE = re.compile(r"^\s*\|?(?:\s*:?-{2,}:?\s*\|)+\s*(?::?-{2,}:?)?\s*\|?\s*$")
FRAMED = re.compile(
    r"^\s{0,8}(?:>{1,3}|<{1,3})\s{0,3}([^\s<>][^<>]{0,80}?)\s{0,3}(?:<{1,3}|>{2,3})(?:\s+([^\s<>-].{0,200}))?\s*$"
)
QUOTED = re.compile(r"^\s*(?:>+ ?)+")  # a mail's quotation marks


def pages_of_text(
    text: str, shown: str, remarks: tuple[str, ...] = (), separator: str | None = None
) -> tuple[ListPage, ...]:
    """Return the rows of a text. ``separator``: None for plain text; "" for CSV with an unknown separator."""
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    if len(text) > MAX_TEXT_BYTES:
        raise no_list(shown, f"larger than {MAX_TEXT_BYTES // 1024} KiB; a set list has about ten", "the list alone")
    if text.count("\n") > MAX_ROWS:
        raise no_list(shown, f"more than {MAX_ROWS} lines; a set list has a hundred", "the list alone")
    lines = text.split("\n")
    for number, line in enumerate(lines, start=1):
        if len(line) > MAX_LINE:
            problem = f"line {number} has {len(line):,} characters; a line of a list has a hundred"
            raise no_list(shown, problem, "a line for each song")
    if separator is None:
        if sum(line.count("|") > 1 for line in lines) >= 2 and any(TABLE_RULE.match(line) for line in lines):
            return (ListPage(_table(lines), is_grid=True, remarks=remarks),)
        separator = None if is_chat_log(lines) else _sniffed(lines)
        if separator is None:
            return (_plain(_short(lines, shown), remarks),)
    separator = separator or _sniffed(lines, least=0.5) or ","
    if separator == "\t" and _is_ragged(lines):
        return (_plain(_short(lines, shown), remarks),)
    return (ListPage(_records(text, separator, shown), is_grid=True, remarks=remarks),)


def _sniffed(lines: list[str], least: float = LONE_CSV) -> str | None:
    """Find the separator that divides most lines into the same number of cells, at least two; None if none does."""
    full = [line for line in lines if line.strip()][:400]
    if not full:
        return None
    best = (0.0, 0, "")
    for separator in SEPARATORS:
        counts = [len(next(csv.reader([line], delimiter=separator), [])) for line in full]
        usual = max(set(counts), key=lambda count: (counts.count(count), count))
        if separator == "," and least == LONE_CSV and (len(full) < FEWEST_CSV or _are_sentences(full)):
            continue
        if usual < (4 if separator == "," and least == LONE_CSV else 2):
            continue
        if least == LONE_CSV and (_is_in_brackets(full, separator) or (separator == "|" and len(full) == 1)):
            continue
        share = counts.count(usual) / len(full)
        best = max(best, (share, usual, separator))
    return best[2] if best[0] >= least and best[2] else None


def _are_sentences(lines: list[str]) -> bool:
    """Return whether the commas part songs or words in a line, not cells: Set 1: Moth (C), Weeds (D)."""
    named = sum(": " in line.partition(",")[0] for line in lines)
    return named >= 0.5 * len(lines)


def _is_in_brackets(lines: list[str], separator: str) -> bool:
    """Return whether the signs stand inside brackets: Moth (Jo; C; 120)."""
    torn = sum(any(cell.count("(") != cell.count(")") for cell in line.split(separator)) for line in lines)
    return torn >= 0.5 * len(lines)


def _is_ragged(lines: list[str]) -> bool:
    """Return whether tabs only align text, so that two in a row are one gap, not an empty cell."""
    tabbed = [line.strip() for line in lines if "\t" in line.strip()]
    counts = {line.count("\t") for line in tabbed}
    return any("\t\t" in line for line in tabbed) and len(counts) > 2


def _records(text: str, separator: str, shown: str) -> tuple[ListRow, ...]:
    rows, blank, last = [], False, 0
    csv.field_size_limit(MAX_TEXT_BYTES)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=False)
    try:
        for cells in reader:
            first, last = last + 1, reader.line_num
            if len(cells) > MAX_COLUMNS and any(cell.strip() for cell in cells[MAX_COLUMNS:]):
                raise no_list(shown, f"line {first} has {len(cells)} columns; at most {MAX_COLUMNS} are read")
            if not any(cell.strip() for cell in cells):
                blank = True
                continue
            plain = tuple(tidy(cell.replace("\n", " / "))[:LONGEST_CELL] for cell in cells[:MAX_COLUMNS])
            if not any(plain):  # only invisible characters
                blank = True
                continue
            rows.append(
                ListRow(
                    SourceLine(first),
                    plain,
                    one_line(tidy(separator.join(cells).replace("\n", " / ")).rstrip(f"{separator} "))[
                        : LONGEST_CELL * 4
                    ],
                    blank,
                )
            )
            blank = False
    except csv.Error as error:
        raise no_list(shown, f"line {reader.line_num + 1} cannot be read as CSV ({error})") from None
    return tuple(rows)


def _table(lines: list[str]) -> tuple[ListRow, ...]:
    rows, blank = [], False
    for number, line in enumerate(lines, start=1):
        plain = tidy(line)
        if not plain:
            blank = True
            continue
        cells: tuple[str, ...] = (without_emphasis(plain),)
        if "|" in plain and not TABLE_RULE.match(plain):
            inner = re.sub(r"^\||\|$", "", plain).replace(r"\|", "\0")
            cells = tuple(without_emphasis(cell.strip().replace("\0", "|"))[:LONGEST_CELL] for cell in inner.split("|"))
        elif "|" in plain:
            cells = ("---",)
        if not any(cells[:MAX_COLUMNS]):  # only bars
            blank = True
            continue
        rows.append(ListRow(SourceLine(number), cells[:MAX_COLUMNS], plain, blank))
        blank = False
    return tuple(rows)


def _short(lines: list[str], shown: str) -> list[str]:
    """Return the lines. Raises FaultyFile if they are more or longer than a list has: they could take seconds."""
    if sum(map(len, lines)) > MAX_PLAIN_TEXT:
        raise no_list(shown, f"more than {MAX_PLAIN_TEXT:,} characters; a set list has 10,000", "the list alone")
    if sum(len(line) for line in lines if len(line) > LONG_LINE) > MAX_IN_LONG_LINES:
        problem = f"more than {MAX_IN_LONG_LINES:,} characters in lines of over {LONG_LINE}; a list has short lines"
        raise no_list(shown, problem, "the list alone, a line for each song")
    return lines


def _plain(lines: list[str], remarks: tuple[str, ...]) -> ListPage:
    """Return the lines unchanged, with their indents, their marks of quotation and the places of their pieces."""
    rows, blank = [], False
    for number, line in enumerate(_aligned(lines), start=1):
        spaced = INNER_TAB.sub(" \t", line).expandtabs(8) if "\t" in line.strip() else line.expandtabs(4)
        framed = FRAMED.match(spaced)
        spaced = (f"{framed[1]}  {framed[2]}" if framed[2] else framed[1]) if framed else spaced
        unquoted, quoted = without_quotes(spaced)
        plain = without_emphasis(tidy(unquoted))[: LONGEST_CELL * 4]
        if not plain:
            blank = True
            continue
        rows.append(
            ListRow(
                SourceLine(number),
                (plain,),
                one_line(tidy(lines[number - 1])),
                blank,
                indent=float(len(unquoted) - len(unquoted.lstrip())),
                quoted=quoted,
                spans=tuple(_spans(unquoted.rstrip())),
            )
        )
        blank = False
    return ListPage(tuple(rows), remarks=remarks)


def without_quotes(line: str) -> tuple[str, int]:
    """Return a line without a mail's marks of quotation, and how many there are: "> > Moth" is quoted twice."""
    found = None if FRAMED.match(line) else QUOTED.match(line)  # >>> SET 1 <<<
    return (line[found.end() :], found[0].count(">")) if found else (line, 0)


def _aligned(lines: list[str]) -> list[str]:
    """Return the lines with spaces for tabs, where any number of tabs parts each line into as many columns.

    Columns then begin at one place, though the tabs of a short title reach less far than those of a long one.
    """
    parts = {at: TABS.split(line.strip()) for at, line in enumerate(lines) if "\t" in line.strip()}
    width = {len(words) for words in parts.values()}
    values = sum(says_key_or_length(words[-1]) for words in parts.values())
    if len(parts) < FEWEST_TABBED or len(width) != 1 or 2 * values > len(parts):
        return lines  # titles with their keys stand in line enough
    ends = [max(len(words[at]) for words in parts.values()) for at in range(width.pop())]
    if sum(ends) > LONG_LINE * 2:
        return lines
    padded = {
        at: "".join(word.ljust(end + TAB_GAP) for word, end in zip(words, ends, strict=True)).rstrip()
        for at, words in parts.items()
    }
    return [padded.get(at, line) for at, line in enumerate(lines)]


def _spans(line: str) -> list[TextSpan]:
    spans, begin = [], 0
    for gap in [*WIDE.finditer(line), None]:
        end = gap.start() if gap else len(line)
        if line[begin:end].strip():
            spans.append(TextSpan(begin, end, line[begin:end]))
        begin = gap.end() if gap else end
    return spans
