"""Choose among the sheets of a workbook: sheets that are sets belong together, sheets that are gigs do not."""

import itertools
import re
from collections.abc import Sequence

from companion.setlist.model import Doubt, DoubtAnswer, ListPage, ReadAgain
from companion.setlist.parsing.builder import SetListBuilder
from companion.setlist.parsing.cells import any_date_in
from companion.setlist.parsing.column_roles import read_heads
from companion.setlist.parsing.doubts import YES
from companion.setlist.parsing.gig_days import next_gig
from companion.setlist.parsing.lists_in_file import doubt_which, size_text
from companion.setlist.parsing.set_headings import read_heading
from companion.show.titles import folded

MAX_ABOUT = 6  # rows of a sheet without names of columns that is about the document, beside a list
FEWEST = 3  # rows, without which a sheet is no list
_STORE = re.compile(
    r"\b(?:repertoire|rep|master|all songs?|song ?(?:bank|book|list)|library|archive|archiv|old|alt|"
    r"ideas|maybe|wish ?list|"
    r"contacts?|notes?|kontakte|template|legend|keys?)\b",
    re.IGNORECASE,
)
MAX_WORDS = 2  # of a sheet's name that is a set
_SET_WORD = re.compile(
    r"^(?:early|late|first|second|third|opening|main|closing|encores?|dinner|dance|acoustic)\b", re.IGNORECASE
)
_PART = re.compile(r"^(?:sheet|tabelle|feuille|blatt|hoja|foglio|ark|blad)\s?\d+$", re.IGNORECASE)


def pages_to_read(pages: Sequence[ListPage], gathered: SetListBuilder, chosen: str | None) -> list[ListPage]:
    """Return the pages of one list, the others set aside with a doubt which one it is."""
    visible = [page for page in pages if not page.is_hidden]
    if not visible:
        visible = list(pages)
    for page in pages:
        if page.is_hidden and page not in visible and page.name != chosen:
            _set_aside(page, gathered, f"of the hidden sheet {page.name}")
    lists = [
        page for page in pages if page.name and len(page.rows) >= FEWEST and (page in visible or page.name == chosen)
    ]
    if len(lists) < 2 or all(read_heading(page.name or "") or _PART.match(page.name or "") for page in lists):
        return visible if chosen is None else [page for page in pages if page.name == chosen] or visible
    names = [page.name or "" for page in lists]
    if chosen is None and _are_sets(lists):
        said = f"sheets read as the sets of one list: {', '.join(names)}"
        no = DoubtAnswer("no", (ReadAgain(chosen=names[0]),))
        gathered.doubts.append(Doubt(said, f"Are {' and '.join(names)} sets of one list?", (YES, no)))
        return lists
    at = names.index(chosen) if chosen in names else _newest(lists)
    gathered.choices, gathered.chosen = tuple(names), names[at]
    gathered.doubts.append(
        doubt_which(names, at, [size_text(_songs_on(page), any_date_in(page.name or "")) for page in lists])
    )
    for page in visible:
        if page is not lists[at]:
            _set_aside(page, gathered, f"of another sheet: {page.name}")
    return [lists[at]]


def _about_the_document(lists: Sequence[ListPage]) -> list[ListPage]:
    """Return the sheets with a few lines and no names of columns, beside one that has them above more songs."""
    named = [page for page in lists if _songs_on(page) >= FEWEST and any(read_heads(row.cells) for row in page.rows)]
    fewest = min(map(_songs_on, named), default=0)
    return [page for page in lists if page not in named and len(page.rows) <= MAX_ABOUT and len(page.rows) < fewest]


def _are_sets(lists: Sequence[ListPage]) -> bool:
    """Return whether sheets may be sets: a name says so, none names a day or a store, no song is on two of them."""
    names = [page.name or "" for page in lists]
    if not any(read_heading(name) or _SET_WORD.match(name) for name in names):
        return False
    if any(any_date_in(name) or _STORE.search(name) or len(name.split()) > MAX_WORDS for name in names):
        return False
    texts = [{folded(max(row.cells, key=len)) for row in page.rows[1:] if any(row.cells)} for page in lists]
    return not any(one & other for one, other in itertools.combinations(texts, 2))


def _songs_on(page: ListPage) -> int:
    """Return how many rows of a sheet may be songs: at least two filled cells, below the first row."""
    return sum(sum(map(bool, row.cells)) > 1 and not row.is_hidden for row in page.rows[1:])


def _set_aside(page: ListPage, gathered: SetListBuilder, reason: str) -> None:
    for row in page.rows:
        gathered.aside(row, row.text, reason)


def _newest(lists: Sequence[ListPage]) -> int:
    """Return the sheet of the next gig; else the first sheet that is no store of songs."""
    about = _about_the_document(lists)
    songs = [at for at, page in enumerate(lists) if page not in about]
    gigs = [at for at in songs if not _STORE.search(lists[at].name or "")] or songs
    names = [lists[at].name or "" for at in gigs]
    return gigs[next_gig([(name, any_date_in(name)) for name in names]) or 0]
