"""Take the dots that lead from a title to its key off a page's pieces: Harbour Lamps ........ A."""

import re
from collections.abc import Iterator

import msgspec

from companion.setlist.model import ListPage, TextSpan

MAX_FOLLOWED = 0.7  # share of the leaders that must have a column after them
FEWEST = 2  # lines with leaders; dots after one title may belong to it
LEADER = re.compile(r"\s*(?:[.…_·‥]{4,}|…{2,}|(?:\s[.·_]){4,})\s*|\s+(?:\.{3}|…)\s+")


def without_leaders(page: ListPage) -> ListPage:
    """Return the page with leaders taken off, if a column follows; what is on both sides of one are two pieces."""
    found = sum(any(LEADER.search(span.text) for span in row.spans) for row in page.rows)
    followed = sum(any(LEADER.search(span.text) for span in row.spans[:-1]) for row in page.rows)
    if page.is_grid or followed < max(FEWEST, MAX_FOLLOWED * found):
        return page
    rows = tuple(
        msgspec.structs.replace(row, spans=tuple(piece for span in row.spans for piece in _pieces(span)) or row.spans)
        for row in page.rows
    )
    return msgspec.structs.replace(page, rows=rows)


def _pieces(span: TextSpan) -> Iterator[TextSpan]:
    """Yield the words beside the leaders, each placed by its share of the span's letters."""
    begin, letter = 0, (span.end - span.begin) / max(len(span.text), 1)
    for found in [*LEADER.finditer(span.text), None]:
        end = found.start() if found else len(span.text)
        words = span.text[begin:end].strip()
        if words:
            right = span.end if end == len(span.text) else span.begin + end * letter
            yield TextSpan(span.begin + begin * letter, right, words, span.is_typed and not begin)
        begin = found.end() if found else begin
