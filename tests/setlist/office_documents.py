"""The documents in the office folder: three sources written by hand, and what LibreOffice makes of them."""

import subprocess
from pathlib import Path
from typing import Final

OFFICE: Final = Path(__file__).parent / "office"
SOURCES: Final = {  # what is in each: flat OpenDocument files, which are plain XML
    "lines.fodt": ("docx", "odt", "rtf", "html"),  # headings, numbered lists, a comment, a note, a song crossed out
    "table.fodt": ("docx", "odt", "rtf", "html"),  # a table with a crossed-out row and empty cells
    "marks.fods": ("ods", "xlsx"),  # comments, colours, crossed out, hidden, filtered, a length, a hidden sheet
}
MADE: Final = [f"{name.partition('.')[0]}.{ending}" for name, endings in SOURCES.items() for ending in endings]


def make(folder: Path) -> None:
    """Make every document in this folder, without touching the user's own profile.

    The committed ones are made by LibreOffice 7.4 of Debian 12: soffice --headless --convert-to docx lines.fodt
    """
    program = ("soffice", f"-env:UserInstallation={(folder / 'profile').as_uri()}", "--headless")
    for name, endings in SOURCES.items():
        for ending in endings:
            words = ("--convert-to", ending, "--outdir", str(folder), str(OFFICE / name))
            done = subprocess.run((*program, *words), capture_output=True, timeout=180, check=False)
            assert (folder / f"{name.partition('.')[0]}.{ending}").exists(), done.stderr.decode()
