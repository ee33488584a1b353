"""The browser's own files: those of others are unchanged, ours are typed, and together they are small."""

import gzip
import hashlib
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont
from pages.visiting import Site
from pages.web_faces import STYLE, WEB_FACES, WebFace, letters_of, style

from companion.cli import main
from companion.commands import preparing
from companion.pages.asset_files import FACES, KINDS, asset, takes_gzip
from companion.picture import FACE_NAMES
from companion.screen.screen_fonts import FACES as SCREEN_FACES

ROOT = Path(__file__).resolve().parents[2]
ASSETS = ROOT / "companion" / "pages" / "assets"

UNCHANGED = [
    # npm, htmx.org 4.0.1: dist/htmx.min.js and dist/ext/hx-sse.min.js
    (ASSETS / "htmx.min.js", "a0abb04f2f45a1f89d1d4844023245537e5e6014c87b144553e0607b4cc32130"),
    (ASSETS / "hx-sse.min.js", "18ef2761356ec1fe0bb6d92612315b37517a7c1e9856b661c5ae81fef239d103"),
    # npm, axe-core 4.14.1: axe.min.js
    (Path(__file__).parent / "axe" / "axe.min.js", "29348999450cdf2849a8e70b7912fc2da85a849da39c0d0d5394f51d4a9ed95c"),
]


@pytest.mark.parametrize(("path", "digest"), UNCHANGED)
def test_third_party_files_are_unchanged(path: Path, digest: str) -> None:
    assert hashlib.sha256(path.read_bytes()).hexdigest() == digest


def test_exactly_the_asset_files_are_served() -> None:
    there = {path.name for path in ASSETS.iterdir() if not path.name.endswith("LICENSE.txt")}
    assert there == set(KINDS)
    assert all(asset(name) for name in (*KINDS, *FACES))
    assert len(FACES) == len(FACE_NAMES)
    assert asset("htmx-LICENSE.txt") is None


def test_the_compressed_assets_are_small() -> None:
    """Rare letters have files of their own, which a page asks for only where it shows them."""
    rare = {"letters-more.woff2", "letters-greek.woff2", "letters-cyrillic.woff2", "others-more.woff2"}
    packed = sum(len(gzip.compress(path.read_bytes())) for path in ASSETS.iterdir() if path.name not in rare)
    assert packed < 150 * 1024


@pytest.mark.parametrize(
    ("header", "takes"),
    [
        ("gzip, deflate, br, zstd", True),  # Chromium 140
        ("br, gzip;q=0.5", True),
        ("gzip;q=1.0, *;q=0.5", True),  # RFC 9110, 12.5.3
        ("GZIP", True),  # names of codings are case-insensitive (RFC 9110, 8.4.1)
        ("gzip;q=0", False),  # "not acceptable"
        ("gzip; q=0.000", False),
        ("identity, br", False),
        ("notgzip", False),
        ("", False),
    ],
)
def test_a_file_is_packed_for_whoever_takes_gzip(tmp_path: Path, header: str, *, takes: bool) -> None:
    assert takes_gzip(header) == takes
    site = Site(tmp_path)
    for name, kind in KINDS.items():
        answer, there = site.ask("GET", f"/assets/{name}", accept_encoding=header), (ASSETS / name).read_bytes()
        is_packed = takes and not kind.startswith("font/")
        assert answer.headers.get("content-encoding") == ("gzip" if is_packed else None)
        assert (gzip.decompress(answer.body) if is_packed else answer.body) == there
        assert int(answer.headers["content-length"]) == len(answer.body)
        assert answer.headers["content-security-policy"].startswith("default-src 'none'")
        assert ("vary" in answer.headers) != kind.startswith("font/")


def test_nothing_that_holds_a_secret_or_words_of_the_show_is_compressed(tmp_path: Path) -> None:
    site = Site(tmp_path)
    song = site.workplace.desk.look().songs[0].mark if site.workplace.desk else ""
    edit = {"title": "Tram Home", "field": "key", "value": "A", "was": ""}
    asked = [
        site.ask("GET", f"/?key={site.visitors.new_key()}", accept_encoding="gzip"),
        site.ask("GET", "/", accept_encoding="gzip"),
        site.ask("GET", "/view", accept_encoding="gzip"),
        site.ask("GET", f"/view?song={song}", accept_encoding="gzip"),
        site.ask("GET", f"/picture?song={song}", accept_encoding="gzip"),
        site.ask("GET", "/door", accept_encoding="gzip"),
        site.ask("POST", "/key", {}, accept_encoding="gzip"),
        *(site.ask("POST", path, edit, accept_encoding="gzip") for path in ("/try", "/edit")),
    ]
    assert [answer.status_code for answer in asked] == [200] * len(asked)
    assert not any("content-encoding" in answer.headers for answer in asked)


@pytest.mark.parametrize("one", WEB_FACES, ids=lambda one: str(one.name))
def test_the_subset_typefaces_keep_the_stages_letter_widths(one: WebFace) -> None:
    small = TTFont(str(ASSETS / one.name))
    whole = TTFont(str(SCREEN_FACES[one.face]))
    there, letters = small.getBestCmap(), letters_of(one)
    assert set(there) == set(letters)
    names = whole.getBestCmap()
    assert small["head"].unitsPerEm == whole["head"].unitsPerEm
    assert [small["hmtx"][there[code]][0] for code in letters] == [whole["hmtx"][names[code]][0] for code in letters]
    if one.name.startswith("letters"):
        assert "kern" in {record.FeatureTag for record in small["GPOS"].table.FeatureList.FeatureRecord}


def test_the_style_sheet_names_each_letter_s_typeface() -> None:
    assert (ASSETS / STYLE).read_text(encoding="utf-8") == style()
    assert {chr(code) for one in WEB_FACES for code in letters_of(one)} >= set(
        "Aéß♭♯→−●½Žλж…“”\N{REPLACEMENT CHARACTER}"
    )


@pytest.mark.long
def test_our_script_passes_strict_type_checks(tmp_path: Path) -> None:
    compiler = shutil.which("tsc")
    if compiler is None:
        pytest.skip("no TypeScript compiler is installed")
    options = (
        "--noEmit",
        "--skipLibCheck",  # the browser's own declarations are not ours to check
        "--checkJs",
        "--allowJs",
        "--strict",
        "--target",
        "es2022",
        "--lib",
        "es2022,dom,dom.iterable",
    )
    done = subprocess.run(
        (compiler, *options, str(ASSETS / "pages.js")), capture_output=True, text=True, check=False, cwd=tmp_path
    )
    assert done.returncode == 0, done.stdout


@pytest.mark.parametrize("words", [["--help"], ["prepare", "--help"], ["guide"]])
def test_no_other_command_loads_the_web_server(words: list[str]) -> None:
    look = (
        "import sys\nfrom companion.cli import main\n"
        f"main({words!r})\n"
        "sys.exit(bool({'starlette', 'uvicorn', 'companion.pages'} & set(sys.modules)))\n"
    )
    done = subprocess.run((sys.executable, "-c", look), cwd=ROOT, capture_output=True, check=False)
    assert done.returncode == 0


def test_without_a_command_the_program_serves_the_pages(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[Path | None] = []
    monkeypatch.setattr(preparing, "serve", lambda show=None, **_: asked.append(show))
    assert main([]) == 0
    assert main(["prepare", "shows/first-show.yaml"]) == 0
    assert asked == [None, Path("shows/first-show.yaml")]


def test_a_stack_and_a_sheet_weigh_at_most_150_kib(tmp_path: Path) -> None:
    """What a browser fetches for the invented engagement's stack, and then its longest sheet, with all headers."""
    shutil.copytree(ROOT / "shows", tmp_path, dirs_exist_ok=True)
    site = Site(tmp_path, (tmp_path / "pier-street.yaml").read_text(encoding="utf-8"))
    assert site.workplace.desk is not None
    song = max(site.workplace.desk.look().songs, key=lambda one: len(one.song.road_map))
    pages = [site.ask("GET", path) for path in ("/", "/view", f"/view?song={song.mark}")]
    fetched = ["faces.css", "pages.css", "pages.js", "htmx.min.js", "hx-sse.min.js", "icon.svg"]
    fetched += ["letters.woff2", "others.woff2", "signs.woff2"]
    assets = [site.ask("GET", f"/assets/{name}", accept_encoding="gzip") for name in fetched]
    assert {one.status_code for one in (*pages, *assets)} == {200}
    headers = 500 * len((*pages, *assets))
    assert sum(len(one.body) for one in (*pages, *assets)) + headers <= 150 * 1024
