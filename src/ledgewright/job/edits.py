"""Changing a job file's text without disturbing the rest of it."""

from __future__ import annotations

import hashlib


class BadEdit(ValueError):  # noqa: N818  # a finding about what was asked, not a fault of ours
    """An edit that cannot be made; the text stays as it was."""

    def __init__(self, path: str, wrong: str, right: str) -> None:
        super().__init__(path, wrong, right)
        self.path = path
        self.wrong = wrong
        self.right = right


def revision(text: str) -> str:
    """Return the name of a text's content: "sha256:" and its SHA-256 (FIPS 180-4) over UTF-8."""
    return "sha256:" + hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()
