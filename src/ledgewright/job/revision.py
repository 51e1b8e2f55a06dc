"""The name of a text's content, by which a save knows whether the file changed meanwhile."""

from __future__ import annotations

import hashlib


def revision(text: str) -> str:
    """Return "sha256:" and the SHA-256 of a text in UTF-8.

    Source: FIPS 180-4.

    Args:
        text: as it stands in the file, line ends and all.
    """
    return "sha256:" + hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()
