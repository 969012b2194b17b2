"""The page's application for one folder, asked without a browser or a server."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from flask.testing import FlaskClient

from divert.page.app import make_app
from divert.page.guard import Keys
from divert.page.house import House

KEYS = Keys("a-token-of-this-test", 4711)
HOME = "http://127.0.0.1:4711"


@contextmanager
def opened(folder: Path) -> Iterator[FlaskClient]:
    """Open a folder's page once it is read, as whoever has its first address."""
    house = House(KEYS)
    desk = house.open(folder)
    assert desk.wait_for(1, 60) is not None
    client = make_app(house).test_client()
    client.get(f"/enter/{KEYS.token}", base_url=HOME)
    yield client
    desk.close()


def asked(browser: FlaskClient, path: str, form: dict[str, str] | None = None) -> str:
    """Return a view's HTML, or what the page answers to a form."""
    if form is None:
        return browser.get(path, base_url=HOME).get_data(as_text=True)
    said = {"form_token": KEYS.form} | form
    answer = browser.post(path, base_url=HOME, headers={"Origin": HOME}, data=said)
    return answer.get_data(as_text=True)
