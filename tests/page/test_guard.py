"""Who is answered: the browser that came by the first address, from this page, and nobody else."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import pytest
from flask.testing import FlaskClient

from divert.page.app import make_app
from divert.page.guard import Keys
from divert.page.house import House

KEYS = Keys("a-token-of-this-test", 4711)
HOME = "http://127.0.0.1:4711"
VIEWS = ("files", "yard", "sheets", "names", "questions", "numbers", "reports", "sent")


@pytest.fixture
def house(tmp_path: Path) -> House:
    house = House(KEYS)
    (tmp_path / "yard").mkdir()
    house.open(tmp_path / "yard")
    return house


@pytest.fixture
def browser(house: House) -> FlaskClient:
    client = make_app(house).test_client()
    client.get(f"/enter/{KEYS.token}", base_url=HOME)
    return client


def test_the_first_address_sets_a_cookie_that_no_script_and_no_other_site_can_use(
    house: House,
) -> None:
    answer = make_app(house).test_client().get(f"/enter/{KEYS.token}", base_url=HOME)
    cookie = answer.headers["Set-Cookie"]
    assert answer.status_code == 302
    assert "HttpOnly" in cookie and "SameSite=Strict" in cookie
    assert KEYS.token not in cookie


@pytest.mark.parametrize(
    "path", [*(f"/{v}" for v in VIEWS), "/", "/state", "/start", "/static/page.js", "/look.css"]
)
def test_without_the_cookie_nothing_is_answered(house: House, path: str) -> None:
    assert make_app(house).test_client().get(path, base_url=HOME).status_code == 403


def test_a_wrong_token_lets_nobody_in(house: House) -> None:
    answer = make_app(house).test_client().get("/enter/guess", base_url=HOME)
    assert answer.status_code == 403
    assert "Set-Cookie" not in answer.headers


@pytest.mark.parametrize("host", ["evil.example", "evil.example:4711", "127.0.0.1", "127.0.0.1:80"])
def test_a_foreign_host_is_refused_even_with_the_cookie(browser: FlaskClient, host: str) -> None:
    assert browser.get("/files", base_url=HOME).status_code == 200
    assert browser.get("/files", base_url=HOME, headers={"Host": host}).status_code == 403
    assert (
        browser.get(f"/enter/{KEYS.token}", base_url=HOME, headers={"Host": host}).status_code
        == 403
    )


@pytest.mark.parametrize(
    "origin", ["http://evil.example", "null", "https://127.0.0.1:4711", "http://127.0.0.1:4712"]
)
def test_a_foreign_origin_is_refused(browser: FlaskClient, origin: str) -> None:
    said = {"form_token": KEYS.form, "version": "x"}
    foreign = {"Origin": origin}
    assert browser.post("/changes", base_url=HOME, data=said, headers=foreign).status_code == 403
    assert browser.get("/files", base_url=HOME, headers=foreign).status_code == 403


def test_a_change_needs_origin_and_form_token(browser: FlaskClient) -> None:
    told = {"form_token": KEYS.form, "version": "x"}
    ours = {"Origin": HOME}
    assert browser.post("/changes", base_url=HOME, data=told).status_code == 403
    assert (
        browser.post("/changes", base_url=HOME, data={"version": "x"}, headers=ours).status_code
        == 403
    )
    assert browser.post("/changes", base_url=HOME, data=told, headers=ours).status_code == 200


def test_no_page_may_hold_script_or_anything_from_elsewhere(browser: FlaskClient) -> None:
    for view in VIEWS:
        answer = browser.get(f"/{view}", base_url=HOME)
        policy = answer.headers["Content-Security-Policy"]
        assert "default-src 'self'" in policy and "unsafe" not in policy
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        page = answer.get_data(as_text=True)
        assert "<style" not in page and " style=" not in page and " onclick" not in page
        assert "://" not in page.replace("http://www.w3.org/2000/svg", "")


def bring(browser: FlaskClient, name: str, content: bytes) -> None:
    browser.post(
        "/files", base_url=HOME, headers={"Origin": HOME}, content_type="multipart/form-data",
        data={"form_token": KEYS.form, "files": (BytesIO(content), name)},
    )  # fmt: skip


@pytest.mark.parametrize(
    "name",
    [
        "../../site.toml",
        "../a.csv",
        "..\\..\\a.csv",
        "/etc/a.csv",
        "a/../../b.csv",
        ".hidden.csv",
        "con.csv",
    ],
)
def test_an_upload_stays_in_the_folder_whatever_its_name(
    browser: FlaskClient, tmp_path: Path, name: str
) -> None:
    bring(browser, name, b"Date,What\n2025-01-01,scraps\n")
    everything = {p for p in tmp_path.rglob("*") if p.is_file()}
    assert everything <= {
        tmp_path / "yard" / "a.csv",
        tmp_path / "yard" / "b.csv",
        tmp_path / "yard" / "hidden.csv",
    }


def test_an_upload_never_takes_another_files_place(browser: FlaskClient, tmp_path: Path) -> None:
    for content in (b"Date\n1", b"Date\n2", b"Date\n2"):
        bring(browser, "log.csv", content)
    kept = {p.name: p.read_bytes() for p in (tmp_path / "yard").glob("*.csv")}
    assert kept == {"log.csv": b"Date\n1", "log (2).csv": b"Date\n2"}
