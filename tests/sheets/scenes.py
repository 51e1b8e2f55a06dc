"""The three scenes as every test of their pages reads them: put together, typeset and read back once."""

from __future__ import annotations

from functools import cache

from ledgewright.sheets.bundles import Bundle
from ledgewright.sheets.model import Page
from ledgewright.sheets.output import leaves_of
from ledgewright.sheets.pages import block, bound
from ledgewright.sheets.press import press
from tests import jobs
from tests.sheets import paper

SCENES = ("stoneware-corner", "reading-alcove", "record-wall")


@cache
def every(name: str) -> dict[str, Page]:
    """Every page of a scene by name, without the other ways to make it, which no bundle looked at here has."""
    _, made = leaves_of(jobs.plan(name), ("client",), jobs.MEMO)
    return made


@cache
def shown(name: str, bundle: Bundle | None) -> dict[str, Page]:
    """The pages of a bundle in their order; of the whole packet with None."""
    return bound(jobs.plan(name), every(name), bundle)


@cache
def printed(name: str, bundle: Bundle | None) -> tuple[paper.Sheet, ...]:
    """The sheets of a bundle, or of the whole packet, as they come out of the printer."""
    return paper.read(press(block(jobs.plan(name), bundle), shown(name, bundle)))
