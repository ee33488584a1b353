"""Who may ask for what: a table of requests, each one header away from what the player's own page sends.

Sources: RFC 6265, 8.5 (a cookie goes to every port of its host); DNS rebinding and unchecked Origin (CVE-2025-24010);
unsafe methods across origins (Go 1.25, http.CrossOriginProtection; Fetch Metadata); clickjacking and sniffing headers
(OWASP secure headers).
"""

import logging
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from pages.visiting import HOST, ORIGIN, SHOW, Site

from companion.pages.gate import MAX_JSON, MAX_UPLOAD
from companion.pages.visitor import KEY_S

EDIT = {"title": "Tram Home", "occurrence": 1, "field": "key", "value": "Bb", "was": ""}


OF_THE_SHOW = tuple(
    f"/{name}"
    for name in ("view", "picture", "door", "heard", "recording", "print", "days", "debrief", "questions", "changes")
)
READ = ("/", "/assets/pages.css", *OF_THE_SHOW, "/no-such-page")
CHANGED = tuple(
    f"/{name}"
    for name in (
        *("edit", "try", "row", "where", "stage", "move", "add", "add-set", "leave", "encore", "out"),
        *("undo", "redo", "begin", "next-gig", "demo", "choose", "list", "reply", "refuse", "downbeat", "key"),
    )
)


@pytest.fixture
def site(tmp_path: Path) -> Site:
    return Site(tmp_path)


@pytest.fixture(scope="module")
def closed(tmp_path_factory: pytest.TempPathFactory) -> Site:
    """A site that no request of these tests may change."""
    return Site(tmp_path_factory.mktemp("closed"))


def test_the_table_holds_every_address(site: Site) -> None:
    posts = {one.path for one in site.routes if "POST" in (one.methods or ())}
    reads = {one.path for one in site.routes if "GET" in (one.methods or ())}
    assert posts == {*CHANGED, "/bring"}
    assert reads == {"/", "/assets/{name}", *READ} - {"/assets/pages.css", "/no-such-page"}


def test_the_pages_own_requests_are_answered(site: Site) -> None:
    assert site.ask("GET", "/").status_code == 200
    assert site.ask("GET", "/assets/pages.css").status_code == 200
    assert "Tram Home" in site.ask("GET", "/view").text
    assert site.ask("POST", "/edit", EDIT).status_code == 200
    assert "key: Bb" in site.text


REFUSED: list[tuple[str, dict[str, str | None], int]] = [
    ("another host, as after DNS rebinding", {"Host": "evil.example:4711"}, 421),
    ("another name of this computer", {"Host": "localhost:4711"}, 421),
    ("our host without the port", {"Host": "127.0.0.1"}, 421),
    ("another port", {"Host": "127.0.0.1:4712"}, 421),
    ("no cookie", {"Cookie": None}, 403),
    ("another port's cookie", {"Cookie": "companion-9000=abc"}, 403),
    ("a wrong cookie of our name", {"Cookie": "companion-4711=abc"}, 403),
    ("a page of another site", {"Sec-Fetch-Site": "cross-site"}, 403),
    ("a page on another port", {"Sec-Fetch-Site": "same-site"}, 403),
]
FOR_THE_SHOW: list[tuple[str, dict[str, str | None], int]] = [
    ("the cookie alone", {"X-Companion-Token": None}, 403),
    ("a wrong token", {"X-Companion-Token": "abc"}, 403),
    ("typed into the address bar", {"Sec-Fetch-Site": "none"}, 403),
]
FOR_A_CHANGE: list[tuple[str, dict[str, str | None], int]] = [
    ("another origin", {"Origin": "http://evil.example"}, 403),
    ("another port's origin", {"Origin": "http://127.0.0.1:9000"}, 403),
    ("a page of no origin, as in a sandboxed frame", {"Origin": "null"}, 403),
    ("no origin", {"Origin": None}, 403),
    ("a form", {"Content-Type": "application/x-www-form-urlencoded"}, 415),
    ("a form of parts", {"Content-Type": "multipart/form-data; boundary=x"}, 415),
    ("a form of plain text", {"Content-Type": "text/plain"}, 415),
    ("no content type", {"Content-Type": None}, 415),
]


@pytest.mark.parametrize(("headers", "status"), [pytest.param(*one[1:], id=one[0]) for one in REFUSED])
def test_nobody_else_can_read_anything(closed: Site, headers: dict[str, str | None], status: int) -> None:
    for path in READ:
        answer = closed.ask("GET", path, **headers)
        assert answer.status_code == status, path
        assert "Tram Home" not in answer.text
        assert closed.visitors.token not in answer.text


@pytest.mark.parametrize(("headers", "status"), [pytest.param(*one[1:], id=one[0]) for one in FOR_THE_SHOW])
def test_only_an_opened_tab_can_read_the_show(closed: Site, headers: dict[str, str | None], status: int) -> None:
    for path in OF_THE_SHOW:
        assert closed.ask("GET", path, **headers).status_code == status, path


@pytest.mark.parametrize(
    ("headers", "status"), [pytest.param(*one[1:], id=one[0]) for one in (*REFUSED, *FOR_THE_SHOW, *FOR_A_CHANGE)]
)
def test_nobody_else_can_change_anything(closed: Site, headers: dict[str, str | None], status: int) -> None:
    for path in CHANGED:
        assert closed.ask("POST", path, EDIT, **headers).status_code == status, path
    octets = {"Content-Type": "application/octet-stream", **headers}
    assert closed.ask("POST", "/bring?name=list.csv", b"Tram Home\n", **octets).status_code == status
    assert closed.text == SHOW
    assert not list(closed.path.parent.glob("shows/*"))


@pytest.mark.parametrize("method", ["GET", "HEAD", "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"])
def test_only_a_post_request_changes_anything(closed: Site, method: str) -> None:
    for path in (*CHANGED, "/bring"):
        assert closed.ask(method, path, EDIT).status_code == 405, path
    assert closed.text == SHOW
    assert not list(closed.path.parent.glob("shows/*"))


@pytest.mark.parametrize("headers", [{}, {"Cookie": None}, {"Host": "evil.example"}], ids=["let in", "out", "rebound"])
def test_every_response_has_the_protective_headers(closed: Site, headers: dict[str, str | None]) -> None:
    for path in (*READ, "/assets/no-such-file"):
        closes(closed.ask("GET", path, **headers).headers)


def closes(told: dict[str, str]) -> None:
    policy = told["content-security-policy"]
    assert policy.startswith("default-src 'none'")
    assert "unsafe" not in policy
    assert "frame-ancestors 'none'" in policy
    assert told["x-frame-options"] == "DENY"
    assert told["x-content-type-options"] == "nosniff"
    assert told["referrer-policy"] == "no-referrer"
    assert told["cache-control"] == "no-store"
    assert not [name for name in told if name.startswith("access-control")]


def test_a_preflight_from_another_site_is_denied(site: Site) -> None:
    asked = {"Origin": "http://evil.example", "Access-Control-Request-Method": "POST"}
    answer = site.ask("OPTIONS", "/edit", **asked)
    assert answer.status_code == 405
    assert not [name for name in answer.headers if name.startswith("access-control")]


# ------------------------------------------------------------------ the key in the address


def test_the_access_key_works_once_and_becomes_a_cookie_and_a_token(site: Site) -> None:
    address = f"/?key={site.visitors.new_key()}"
    first = site.ask("GET", address, Cookie=None, X_Companion_Token=None, Sec_Fetch_Site="none")
    assert first.status_code == 200
    cookie = first.headers["set-cookie"]
    assert cookie.startswith("companion-4711=")
    assert "HttpOnly" in cookie
    assert "SameSite=Strict" in cookie
    assert site.visitors.token in first.text
    assert site.ask("GET", address, Cookie=None).status_code == 403


def test_the_access_key_is_valid_for_a_minute(site: Site) -> None:
    early, late = site.visitors.new_key(), site.visitors.new_key()
    site.clock.now_s = KEY_S - 0.1
    assert site.ask("GET", f"/?key={early}", Cookie=None).status_code == 200
    site.clock.now_s = KEY_S + 0.1
    assert site.ask("GET", f"/?key={late}", Cookie=None).status_code == 403


@pytest.mark.parametrize("key", ["", "wrong", "%00", "%ff%fe", "é", "a" * 5000])
def test_a_wrong_access_key_opens_nothing(site: Site, key: str) -> None:
    site.visitors.new_key()
    answer = site.ask("GET", f"/?key={key}", Cookie=None)
    assert answer.status_code == 403
    assert "set-cookie" not in answer.headers


def test_the_access_key_opens_only_the_first_page(site: Site) -> None:
    assert site.ask("GET", f"/view?key={site.visitors.new_key()}", Cookie=None).status_code == 403


def test_the_page_for_a_cookie_alone_holds_no_secret_and_nothing_of_the_show(site: Site) -> None:
    page = site.ask("GET", "/", X_Companion_Token=None).text
    assert site.visitors.token not in page
    assert "Mill" not in page


# ------------------------------------------------------------------ addresses and bodies

TRAVERSAL = [
    "/assets/../routes.py",
    "/assets/..%2froutes.py",
    "/assets/%2e%2e/routes.py",
    "/assets/%2e%2e%2froutes.py",
    "/assets/..%5croutes.py",
    "/assets/....//routes.py",
    "/assets/%252e%252e%252froutes.py",
    "/assets//etc/passwd",
    "/assets/%2fetc%2fpasswd",
    "/assets/pages.css%00.js",
    "/assets/./pages.css/../../routes.py",
    "/..%c0%af..%c0%afetc/passwd",
    "/assets/C:%5cWindows%5cwin.ini",
]


@pytest.mark.parametrize("path", TRAVERSAL)
def test_no_spelling_of_an_address_leads_out_of_the_asset_files(closed: Site, path: str) -> None:
    answer = closed.ask("GET", path)
    assert answer.status_code in (403, 404)
    assert "import" not in answer.text
    assert "root:" not in answer.text


def test_a_body_declared_too_long_is_refused_unread(site: Site) -> None:
    assert site.ask("POST", "/edit", b"[" * (MAX_JSON + 1)).status_code == 413


def test_a_body_of_unknown_length_is_refused_once_it_is_too_long(site: Site) -> None:
    taken = 0

    def endless() -> Iterator[bytes]:
        nonlocal taken
        while True:
            taken += 65536
            yield b" " * 65536

    assert site.send("POST", "/edit", endless(), site.headers).status_code == 413
    assert taken <= MAX_JSON + 2 * 65536


def test_a_set_list_longer_than_eight_mebibytes_is_refused(site: Site) -> None:
    octets = {"Content-Type": "application/octet-stream"}
    answer = site.ask("POST", "/bring?name=long.csv", b"a" * (MAX_UPLOAD + 1), **octets)
    assert answer.status_code == 413
    assert not list(site.path.parent.glob("shows/*"))


@pytest.mark.parametrize(
    "body", [b"", b"null", b"[]", b'{"title": 1}', b"\xff\xfe", b"[" * 100_000, b'{"title":"\\ud800"}']
)
def test_a_malformed_body_changes_nothing(site: Site, body: bytes) -> None:
    assert site.ask("POST", "/edit", body).status_code in (400, 422)
    assert site.text == SHOW


def test_no_secret_reaches_the_log_even_if_a_response_fails(
    site: Site, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def breaks() -> object:
        raise RuntimeError(f"broken: {site.visitors.token}")

    monkeypatch.setattr(site.workplace.desk, "look", breaks)
    caplog.set_level(logging.DEBUG)
    key = site.visitors.new_key()
    site.ask("GET", f"/?key={key}", Cookie=None)
    assert site.ask("GET", "/view?column=hard").status_code == 500
    assert re.search("/view failed", caplog.text)
    secrets = (key, site.visitors.token, site.visitors.set_cookie.partition(";")[0].partition("=")[2])
    assert not [one for one in secrets if one in caplog.text]


def test_the_page_names_no_other_host(site: Site) -> None:
    told = [site.ask("GET", path).text for path in ("/", "/view", "/assets/pages.css", "/assets/pages.js")]
    links = {link for text in told for link in re.findall(r"https?://[^\s\"'<>)]+", text)}
    assert not {link for link in links if HOST not in link and ORIGIN not in link}
