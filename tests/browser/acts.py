"""What a person does on a page, and sees."""

from __future__ import annotations

from typing import Any


def shows(locator: Any, text: str) -> None:
    """Wait until a text is shown."""
    from playwright.sync_api import expect

    expect(locator).to_contain_text(text, timeout=15_000)


def has(page: Any, label: str, text: str) -> None:
    """Wait until a field, as its label names it, holds a text."""
    from playwright.sync_api import expect

    expect(page.get_by_label(label, exact=True).first).to_have_value(text, timeout=15_000)


def greyed(locator: Any) -> None:
    """Wait until a button or box can't be used."""
    from playwright.sync_api import expect

    expect(locator).to_be_disabled(timeout=15_000)


def ticked(locator: Any) -> None:
    """Wait until a box is ticked."""
    from playwright.sync_api import expect

    expect(locator).to_be_checked(timeout=15_000)


def enter(page: Any, label: str, text: str) -> None:
    """Type into a field, or choose, as its label names it."""
    control = page.get_by_label(label, exact=True).first
    if control.evaluate("node => node.tagName") == "SELECT":
        control.select_option(text)
        return
    control.fill(text)
    if control.evaluate("node => node.tagName") == "TEXTAREA":
        control.blur()
    else:
        control.press("Enter")
