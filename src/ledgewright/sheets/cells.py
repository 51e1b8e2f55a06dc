"""Texts in tables for other programs."""

from __future__ import annotations


def cell(text: str) -> str:
    """Return a text that no spreadsheet takes for a formula: an apostrophe stands before what would be one.

    Source: OWASP, "CSV Injection" (from memory): cells that begin with = + - @ are run by spreadsheets.
    """
    return "'" + text if text[:1] in tuple("=+-@\t\r") else text
