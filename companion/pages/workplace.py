"""Where shows are prepared on this computer: the one on the desk, those known, and how a new one comes to be."""

import os
import shutil
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple

import msgspec

from companion.edits import NewText, commit, no_file
from companion.edits.saving import withdraw
from companion.errors import UNREADABLE, CompanionError, FaultyFile
from companion.files.text_file import open_source
from companion.how_many import how_many
from companion.night.demo import demo_show
from companion.pages.desk import ShowDesk, Stack, text_of
from companion.pages.list_chooser import PASTED
from companion.pages.problems import OnThisRig
from companion.pages.stage_door import StageDoor
from companion.pages.visitor import KeptDoor, closed_folder, doubts_path, keep, kept_path
from companion.ports import AnotherCopy, SingleCopyLock
from companion.regular import read_regular
from companion.rig import rig_for
from companion.show import Set, Show
from companion.show.date_words import day_words
from companion.show.show_file import show_in
from companion.show.show_text import write_show
from companion.shown import harmless_line

if TYPE_CHECKING:
    from companion.pages.list_doubts import ListDoubts
    from companion.pages.next_list import NextList
    from companion.setlist import SetList

KNOWN: Final = "known.json"  # in the room's own folder: the shows prepared, the last one first
MAX_KNOWN: Final = 12
MAX_BYTES: Final = 64 * 1024
MAX_NAME: Final = 80  # characters of a file's name that are shown
BESIDE_DEMO: Final = ("songbook.yaml", "charts")


class OpenElsewhere(CompanionError):  # noqa: N818  reads better than an Error
    """Another copy of the program has this show open."""


class Begun(NamedTuple):
    """The next gig as it was begun, and the file of the show that it came from."""

    title: str
    path: Path
    text: str
    earlier: Path


class Workplace:
    """The desk and what lies around it.

    ``shows`` is the folder of new shows, ``folder`` the program's own, ``host`` where this copy's page is.
    """

    def __init__(self, folder: Path, shows: Path, host: str, address: KeptDoor | None = None) -> None:
        """``address`` is kept for each show that is put on the desk, so that its tab goes on at the next start."""
        self.folder = folder
        self.shows = shows
        self._host = host
        self._address = address
        self.desk: ShowDesk | None = None
        self._held: SingleCopyLock | None = None
        self._new: Path | None = None
        self._begun: Begun | None = None
        self._rigged: tuple[str, str, OnThisRig] | None = None
        self.next_list: NextList | None = None
        self.doubts: ListDoubts | None = None
        self.door = StageDoor(folder)

    def open(self, path: Path) -> None:
        """Put a show on the desk, or name the file of a show that is still to begin. Raises OpenElsewhere."""
        if self.desk is not None and os.path.realpath(self.desk.path) == os.path.realpath(path):
            return
        if not os.path.lexists(path):
            self._new = path
            return
        lock = lock_path(self.folder, path)
        try:
            held = SingleCopyLock(lock)
        except AnotherCopy as another:
            raise OpenElsewhere(f"{path} is open already, at {_at(lock)}") from another
        self.close()
        self.desk, self._held = ShowDesk(path, self.folder), held
        with suppress(CompanionError):  # only the words for a second copy
            keep(lock.with_suffix(".at"), self._host)
            if self._address is not None:
                keep(kept_path(self.folder, path), self._address)
        self._remember(path)
        self.door.take_up(path)
        self._resume_list()
        self._resume_doubts()

    def _resume_list(self) -> None:
        """Continue with the newer list that nobody has decided about yet."""
        from companion.pages.kept_list import ListDrawer

        if self.desk is None:
            return
        drawer = ListDrawer(self.folder, self.desk.path)
        kept = drawer.kept()
        if kept is not None:
            from companion.pages.next_list import NextList

            self.next_list = NextList(kept, self.desk, drawer)

    def _resume_doubts(self) -> None:
        """Continue with the doubts about the list that the show was made from."""
        if self.desk is not None and doubts_path(self.folder, self.desk.path).exists():
            from companion.pages.list_doubts import ListDoubts

            self.doubts = ListDoubts(self.folder, self.desk)

    def put_list_away(self, *, is_taken: bool = False) -> None:
        """Put the newer list away for good. If it was taken, the doubts about the first one are settled too."""
        if self.next_list is not None:
            self.next_list.forget()
        if is_taken and self.doubts is not None:
            self.doubts.forget()
        self.next_list = None

    def close(self) -> None:
        """Take the show off the desk, and leave a running stage to itself."""
        self.door.forget()
        if self._held is not None:
            self._held.__exit__()
        self.desk = self._held = self.next_list = self.doubts = None

    @property
    def known(self) -> tuple[Path, ...]:
        """The shows prepared on this computer that are still there, the last one first."""
        return known_shows(self.folder)

    def titles(self) -> tuple[tuple[str, str], ...]:
        """Return the number of each known show in ``known``, and its title, date and number of songs."""
        return tuple((str(number), _title_of(path)) for number, path in enumerate(self.known))

    def choose(self, number: str) -> None:
        """Open a known show by its number. Raises CompanionError."""
        known = self.known
        if not (number.isascii() and number.isdecimal() and len(number) < 10 and int(number) < len(known)):
            raise CompanionError("that show is no longer there")
        self.open(known[int(number)])

    def begin(self, title: str) -> None:
        """Begin an empty show. Raises CompanionError or FaultyFile."""
        show = Show(title, sets=(Set("First"),))
        self._write_new(self._new_path(show), write_show(show), f"begin {title}")

    def begin_next(self, desk: ShowDesk, title: str) -> None:
        """Begin the next gig beside the show on the desk, with its songs. Raises CompanionError or FaultyFile."""
        from companion.pages.next_gig import next_text, songs_kept
        from companion.setlist import slug_of

        path, earlier = _free(desk.path.parent, slug_of(title, taken=())), desk.path
        text = next_text(songs_kept(desk), title, path)
        self._write_new(path, text, f"begin {title}")
        self._begun = Begun(title, path, text, earlier)

    @property
    def just_begun(self) -> Begun | None:
        """The next gig on the desk, if it is as it was begun from another show; then that can be taken back."""
        begun, desk = self._begun, self.desk
        if begun is None or desk is None or desk.path != begun.path or self.next_list is not None:
            return None
        with suppress(CompanionError):
            return begun if desk.look().file.text == begun.text and begun.earlier.is_file() else None
        return None

    def take_begun_back(self, begun: Begun) -> None:
        """Remove the file of the next gig, and put the show that it came from on the desk. Raises CompanionError."""
        if self.desk is not None:
            file = self.desk.look().file
            self.open(begun.earlier)
            self._begun = None
            withdraw(file, self.folder)

    def bring(self, raw: bytes, name: str) -> str:
        """Make a show of a set list, or compare it with the show on the desk; return a notice about it.

        Raises FaultyFile or CompanionError.
        """
        from companion.setlist import read_list
        from companion.setlist.known_songs import songs_by_title
        from companion.setlist.near_songs import with_near_songs
        from companion.setlist.parsing.gig_names import UNNAMED
        from companion.setlist.proposal import proposed
        from companion.setlist.report import in_short, known_text
        from companion.setlist.settling import SettledList

        shown = harmless_line(os.path.basename(name.replace("\\", "/")))[:MAX_NAME] or "set list"  # noqa: PTH119
        if self.desk is not None:
            from companion.pages.kept_list import KeptList, ListDrawer
            from companion.pages.next_list import NextList

            newer = NextList(KeptList(shown, raw), self.desk, ListDrawer(self.folder, self.desk.path))
            differ = sum(one.is_choice for one in newer.look().imported.differences)
            newer.keep()
            self.next_list = newer
            return f"Read: {how_many(differ, 'difference')} from your show. Nothing is changed yet"
        listed = read_list(shown, raw=raw)
        if shown == PASTED and listed.show.title == UNNAMED:
            says = "This message names no band, venue or date. Type what the gig is called, and try again"
            raise CompanionError(says)
        path = self._new_path(listed.show)
        listed = with_near_songs(listed, songs_by_title(path, listed.show.band))
        proposal = proposed(SettledList(listed), path)
        self._write_new(path, proposal.changes[-1].after, f"import {shown}")
        known = known_text(proposal.imported)
        self._keep_doubts(shown, raw, listed)
        return f"Brought in: {in_short(listed)}{f'; {known}' if known else ''}"

    def _keep_doubts(self, name: str, raw: bytes, listed: "SetList") -> None:
        from companion.pages.list_doubts import ListDoubts

        if self.desk is not None:
            self.doubts = ListDoubts(self.folder, self.desk)
            self.doubts.begin(name, raw, listed)

    def demo(self) -> None:
        """Open a copy of the invented engagement, made if there is none. Raises CompanionError."""
        there = self.shows / "invented engagement"
        show = there / demo_show().name
        if not show.is_file():
            try:
                there.mkdir(parents=True, exist_ok=True)
                for name in BESIDE_DEMO:
                    source = demo_show().parent / name
                    (shutil.copytree if source.is_dir() else shutil.copyfile)(source, there / name)
                shutil.copyfile(demo_show(), show)
            except OSError as error:
                raise CompanionError(f"{there} cannot be written: {error.strerror or error}") from error
        self.open(show)

    def rigged(self, stack: Stack) -> OnThisRig:
        """Return the show on its rig; examined again only if show or rig have changed."""
        rig = text_of(str(rig_for(stack.file.path).path))
        if self._rigged is None or self._rigged[:2] != (stack.version, rig):
            self._rigged = (stack.version, rig, OnThisRig(stack))
        return self._rigged[2]

    def _new_path(self, show: Show) -> Path:
        from companion.setlist import slug_of

        return self._new or _free(self.shows, slug_of(show.title, taken=()))

    def _write_new(self, path: Path, text: str, says: str) -> None:
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise CompanionError(f"{path.parent} cannot be written: {error.strerror or error}") from error
        commit([NewText(no_file(path), text)], says, folder=self.folder)
        self._new = None
        doubts_path(self.folder, path).unlink(missing_ok=True)  # of an earlier show of this name
        self.open(path)

    def _remember(self, path: Path) -> None:
        known = [str(path.absolute()), *(str(one) for one in self.known if one != path.absolute())]
        closed_folder(self.folder)
        keep(self.folder / "pages" / KNOWN, known[:MAX_KNOWN])


def shows_folder() -> Path:
    """Return the folder for shows begun on a page: in the user's documents."""
    from platformdirs import user_documents_path

    return user_documents_path() / "Companion"


def known_shows(folder: Path) -> tuple[Path, ...]:
    """Return the shows prepared on this computer that are still there, the last one first."""
    try:
        raw = read_regular(folder / "pages" / KNOWN, MAX_BYTES)
        return tuple(path for one in msgspec.json.decode(raw, type=list[str]) if (path := Path(one)).is_file())
    except (OSError, *UNREADABLE, msgspec.MsgspecError):
        return ()


def is_open_elsewhere(folder: Path, show: Path) -> bool:
    """Return whether another copy of the program has this show on its desk."""
    try:
        with SingleCopyLock(lock_path(folder, show)):
            return False
    except AnotherCopy:
        return True


def lock_path(folder: Path, show: Path | None) -> Path:
    """Return the lock of a show, or of the page without a show."""
    return kept_path(folder, show).with_suffix(".lock")


def _free(folder: Path, slug: str) -> Path:
    """Return a path in the folder where no file is yet."""
    path, number = folder / f"{slug}.yaml", 1
    while os.path.lexists(path):
        number += 1
        path = folder / f"{slug}-{number}.yaml"
    return path


def _at(lock: Path) -> str:
    try:
        host = msgspec.json.decode(read_regular(lock.with_suffix(".at"), MAX_BYTES), type=str)
        return f"http://{harmless_line(host)}/"
    except (OSError, *UNREADABLE, msgspec.MsgspecError):
        return "another window"


def _title_of(path: Path) -> str:
    try:
        show = show_in(open_source(path)).show
        count = sum(len(one.songs) for one in show.sets)
        day = day_words(show.date) if show.date else ""
        return " · ".join(filter(None, (show.title, day, how_many(count, "song"))))
    except FaultyFile:
        return f"{path.stem} (with faults)"
