"""The contact sheet in a real browser: ordered, filtered, paged and followed, by keyboard too, without an error."""

import json
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from critique.advice.kinds import KINDS
from critique.report.contact_sheet import Card, Remark, Sheet, sheet_html

pytestmark = pytest.mark.browser

QUIET = (
    "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--remote-debugging-pipe",
)  # fmt: skip
# The browser reads commands from descriptor 3 and replies on descriptor 4.
LAUNCHER = """
import os, sys
commands, replies = (os.dup2(int(number), 20 + place) for place, number in enumerate(sys.argv[1:3]))
os.dup2(commands, 3)
os.dup2(replies, 4)
os.execv(sys.argv[3], sys.argv[3:])
"""
SIZES = {"desktop": (1280, 900, False), "phone": (390, 844, True)}
KEYS = {"Tab": 9, "Enter": 13, "ArrowDown": 40, "End": 35}

SUBJECTS = tuple(kind.title for kind in KINDS)


class Refused(Exception):
    """The browser's answer to a call that it could not follow."""


class Browser:
    """Chromium, spoken to over a pipe. [Chrome DevTools Protocol: Page, Runtime, Input, Log, Emulation]"""

    def __init__(self, profile: Path) -> None:
        program = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
        assert program, "these tests need Chromium: install it, or leave them out with -m 'not browser'"
        commands, self._commands = os.pipe()
        self._replies, replies = os.pipe()
        launch = [sys.executable, "-c", LAUNCHER, str(commands), str(replies)]
        self._process = subprocess.Popen(
            [*launch, program, *QUIET, f"--user-data-dir={profile}"],
            pass_fds=(commands, replies),
            stderr=subprocess.DEVNULL,
        )
        os.close(commands)
        os.close(replies)
        self._buffer, self._number, self._session = b"", 0, ""
        self.events: list[dict] = []
        target = self.call("Target.createTarget", url="about:blank")["targetId"]
        self._session = self.call("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        for domain in ("Page", "Runtime", "Log"):
            self.call(f"{domain}.enable")

    def close(self) -> None:
        self._session = ""
        self.call("Browser.close")
        self._process.wait(timeout=20)

    def call(self, method: str, **parameters: Any) -> dict:
        self._number += 1
        message = {"id": self._number, "method": method, "params": parameters}
        if self._session:
            message["sessionId"] = self._session
        os.write(self._commands, json.dumps(message).encode() + b"\0")
        while (reply := self._next()).get("id") != self._number:
            self.events.append(reply)
        if "error" in reply:
            raise Refused(reply["error"]["message"])
        return reply["result"]

    def _next(self) -> dict:
        while b"\0" not in self._buffer:
            data = os.read(self._replies, 1 << 16)
            assert data, "the browser went away"
            self._buffer += data
        message, _, self._buffer = self._buffer.partition(b"\0")
        return json.loads(message)

    def open(self, page: Path, size: str) -> None:
        width, height, mobile = SIZES[size]
        self.call("Emulation.setDeviceMetricsOverride", width=width, height=height, deviceScaleFactor=1, mobile=mobile)
        self.call("Page.navigate", url=page.as_uri())
        self.until("document.readyState === 'complete'")

    def ask(self, expression: str) -> Any:
        reply = self.call("Runtime.evaluate", expression=expression, returnByValue=True, awaitPromise=True)
        assert "exceptionDetails" not in reply, reply
        return reply["result"].get("value")

    def until(self, expression: str) -> None:
        limit = time.monotonic() + 20
        while not self._is(expression):
            assert time.monotonic() < limit, f"never true: {expression}"
            time.sleep(0.05)

    def _is(self, expression: str) -> bool:
        try:
            return bool(self.ask(expression))
        except Refused:  # asked of a page that was just being left
            return False

    def press(self, key: str) -> None:
        text = {"text": "\r"} if key == "Enter" else {}
        code = KEYS[key]
        self.call("Input.dispatchKeyEvent", type="keyDown", key=key, code=key, windowsVirtualKeyCode=code, **text)
        self.call("Input.dispatchKeyEvent", type="keyUp", key=key, code=key, windowsVirtualKeyCode=code)

    def tab_to(self, expression: str) -> None:
        """Go on with the Tab key until the focused element is as ``expression`` says."""
        for _ in range(60):
            if self.ask(f"(here => {expression})(document.activeElement)"):
                return
            self.press("Tab")
        raise AssertionError(f"not reached by keyboard: {expression}")

    def complaints(self) -> list[dict]:
        """Errors of scripts, of loading and of the page's own security policy."""
        self.call("Runtime.evaluate", expression="0")
        return [
            event
            for event in self.events
            if event["method"] == "Runtime.exceptionThrown"
            or (event["method"] == "Log.entryAdded" and event["params"]["entry"]["level"] == "error")
            or (event["method"] == "Runtime.consoleAPICalled" and event["params"]["type"] == "error")
        ]


@pytest.fixture(scope="module")
def chromium(tmp_path_factory) -> Iterator[Browser]:
    opened = Browser(tmp_path_factory.mktemp("profile"))
    yield opened
    opened.close()


@pytest.fixture
def browser(chromium) -> Iterator[Browser]:
    """The browser, which must have had nothing to complain of in the end."""
    chromium.events.clear()
    yield chromium
    assert chromium.complaints() == []


def many(folder: Path, number: int, thumbnail: Path) -> Path:
    """The sheet of many cards, all with one thumbnail."""
    shutil.copy(thumbnail, folder / "one.jpg")
    levels = ("holds", "watch", "rework")
    cards = [
        Card(
            rank=place + 1,
            name=f"{(place * 7919) % number:04d} <i>{'🌳' if place % 9 == 0 else ''}.jpg",
            folder="",
            href=f"reviews/{place}/report.html",
            thumbnail="one.jpg",
            width=1200,
            height=900,
            level=levels[place * 3 // number],
            levels=(levels[place * 3 // number], *("holds" for _ in SUBJECTS[1:])),
            key=("low", "middle", "high")[place % 3],
            green=(place * 31 % 101) / 101,
            value=(place * 17 % 97) / 10,
            alt="A picture in the middle key.",
        )
        for place in range(number)
    ]
    counts = tuple((level, sum(card.level == level for card in cards)) for level in reversed(levels))
    sheet = Sheet("Many", number, counts, SUBJECTS, SUBJECTS, (), 240, (Remark("One key.", "#445566"),), (), (), ())
    page = folder / "portfolio.html"
    page.write_text("".join(sheet_html(sheet, cards)), encoding="utf-8")
    return page


NAMES = "[...document.querySelectorAll('.cards .name')].map(each => each.textContent)"
RANKS = "[...document.querySelectorAll('.cards .rank')].map(each => Number(each.textContent))"


def choose(browser: Browser, **values: str) -> None:
    for name, value in values.items():
        browser.ask(
            f"(() => {{ const field = document.querySelector('.choose').elements[{json.dumps(name)}];"
            f" field.value = {json.dumps(value)}; field.dispatchEvent(new Event('input', {{ bubbles: true }})); }})()"
        )


@pytest.mark.parametrize("size", SIZES)
def test_the_sheet_of_a_real_portfolio_shows_every_picture_with_its_text(browser, made, size):
    browser.open(made / "out" / "portfolio.html", size)
    assert sorted(browser.ask(NAMES)) == ["dune.png", "marsh.png", "mill.png", "orchard.png"]
    browser.ask("document.querySelectorAll('img').forEach(each => { each.loading = 'eager'; })")
    browser.until("[...document.images].every(each => each.complete)")
    assert browser.ask("[...document.images].every(each => each.naturalWidth > 0 && each.alt.length > 12)")
    assert browser.ask("[...document.querySelectorAll('select, input')].every(each => each.labels.length === 1)")
    assert browser.ask("document.documentElement.scrollWidth") == SIZES[size][0]


@pytest.mark.parametrize("size", SIZES)
def test_every_link_of_the_sheet_opens_a_review(browser, made, size):
    browser.open(made / "out" / "portfolio.html", size)
    links = browser.ask("[...document.querySelectorAll('.cards a.name')].map(each => [each.textContent, each.href])")
    assert len(links) == 4
    for name, _ in links:
        link = f"[...document.querySelectorAll('.cards a.name')].find(each => each.textContent === '{name}')"
        browser.ask(f"void setTimeout(() => {link}.click())")  # later, for the page that answers is gone by then
        browser.until("document.title.endsWith('a review')")
        assert browser.ask("document.querySelector('h1').textContent") == name.removesuffix(".png")
        browser.ask("void setTimeout(() => history.back())")
        browser.until("document.title.endsWith('a portfolio') && document.querySelectorAll('.cards li figure').length")


@pytest.mark.parametrize("size", SIZES)
def test_ordering_and_filtering(browser, made, tmp_path, size):
    thumbnail = next((made / "out" / "thumbnails").rglob("*.jpg"))
    browser.open(many(tmp_path, 60, thumbnail), size)
    assert browser.ask(RANKS) == list(range(1, 61))
    choose(browser, order="name")
    names = browser.ask(NAMES)
    assert names == sorted(names) and len(names) == 60
    choose(browser, order="needs")
    assert browser.ask(RANKS) == list(range(60, 0, -1))
    choose(browser, order="ready", level="r")
    assert browser.ask(RANKS) == list(range(41, 61))
    assert browser.ask("document.querySelector('.shown').textContent") == "20 of 60 pictures"
    choose(browser, level="", subject="0")  # a finding alone: where it does not hold
    assert browser.ask(RANKS) == list(range(21, 61))
    choose(browser, subject="", key="low", name=" <I>🌳")
    assert browser.ask(RANKS) == [rank for rank in range(1, 61) if (rank - 1) % 9 == 0]
    browser.ask("document.querySelector('.choose button').click()")
    browser.until("document.querySelectorAll('.cards .name').length === 60")
    assert browser.ask("document.documentElement.scrollWidth") == SIZES[size][0]


def test_hundreds_of_pictures_are_paged_and_the_choice_outlives_a_visit(browser, made, tmp_path):
    thumbnail = next((made / "out" / "thumbnails").rglob("*.jpg"))
    browser.open(many(tmp_path, 500, thumbnail), "desktop")
    assert browser.ask(RANKS) == list(range(1, 121))
    choose(browser, order="needs")
    browser.ask("document.querySelector('.pager button[name=after]').click()")
    assert browser.ask(RANKS) == list(range(380, 260, -1))
    assert browser.ask("document.querySelector('.pager span').textContent") == "Page 2 of 5"
    browser.call("Page.navigate", url="about:blank")
    browser.until("location.href === 'about:blank'")
    browser.ask("void setTimeout(() => history.back())")
    browser.until("document.title.startsWith('Many') && document.querySelectorAll('.cards .name').length")
    assert browser.ask(RANKS) == list(range(380, 260, -1))
    choose(browser, level="h")
    assert len(browser.ask(RANKS)) == 167 and browser.ask("document.querySelector('.pager').hidden")


def test_everything_is_reached_and_used_by_keyboard(browser, made):
    browser.open(made / "out" / "portfolio.html", "desktop")
    browser.tab_to("here.name === 'order'")
    for _ in range(2):
        browser.press("ArrowDown")
    assert browser.ask(NAMES) == ["dune.png", "marsh.png", "mill.png", "orchard.png"]
    assert browser.ask("getComputedStyle(document.activeElement).outlineStyle") == "solid"
    for name in ("level", "subject", "key", "name"):
        browser.tab_to(f"here.name === '{name}'")
    browser.tab_to("here.matches('.cards .name') && here.textContent === 'marsh.png'")
    browser.press("Enter")
    browser.until("document.title === 'marsh · a review'")


def test_pages_are_turned_by_keyboard(browser, made, tmp_path):
    thumbnail = next((made / "out" / "thumbnails").rglob("*.jpg"))
    browser.open(many(tmp_path, 500, thumbnail), "phone")
    browser.ask("[...document.querySelectorAll('.cards .name')].at(-1).focus()")
    browser.tab_to("here.name === 'after'")
    browser.press("Enter")
    assert browser.ask(RANKS)[0] == 121


def test_without_scripts_the_pictures_are_listed(browser, made):
    browser.call("Emulation.setScriptExecutionDisabled", value=True)
    try:
        browser.open(made / "out" / "portfolio.html", "desktop")
        assert browser.ask("document.querySelectorAll('noscript li a').length") == 4
    finally:
        browser.call("Emulation.setScriptExecutionDisabled", value=False)
