"""How a person's hands use the page: with the mouse, or with the keyboard alone."""

from __future__ import annotations

from typing import Protocol

from playwright.sync_api import Page

MOST_TABS = 400


class Hand(Protocol):
    """What a journey needs of a hand; each thing is named by a CSS selector."""

    def press(self, page: Page, what: str) -> None: ...
    def write(self, page: Page, what: str, text: str) -> None: ...
    def choose(self, page: Page, what: str, value: str) -> None: ...


class Mouse:
    """Clicks."""

    def press(self, page: Page, what: str) -> None:
        page.locator(what).first.click()

    def write(self, page: Page, what: str, text: str) -> None:
        page.locator(what).first.click()
        page.locator(what).first.fill(text)

    def choose(self, page: Page, what: str, value: str) -> None:
        page.locator(what).first.select_option(value)


class Keyboard:
    """Tabs to things, and types: what cannot be reached so is found out by the journey's end."""

    def press(self, page: Page, what: str) -> None:
        self._reach(page, what)
        page.keyboard.press("Enter")

    def write(self, page: Page, what: str, text: str) -> None:
        self._reach(page, what)
        page.keyboard.press("Control+A")
        page.keyboard.type(text)

    def choose(self, page: Page, what: str, value: str) -> None:
        self._reach(page, what)
        places = page.locator(what).first.evaluate(
            "(box, value) => [box.selectedIndex, [...box.options].findIndex(o => o.value === value)]",
            value,
        )
        key = "ArrowDown" if places[1] > places[0] else "ArrowUp"
        for _ in range(abs(places[1] - places[0])):
            page.keyboard.press(key)
        assert page.locator(what).first.input_value() == value

    def _reach(self, page: Page, what: str) -> None:
        page.locator(what).first.wait_for()
        for _ in range(MOST_TABS):
            if page.evaluate(
                "what => document.activeElement === document.querySelector(what)", what
            ):
                return
            page.keyboard.press("Tab")
        raise AssertionError(f"{what} is not reached with the Tab key")
