"""The answer of `packet` as a JSON document: what was written, for whom, and what is left out of each part and why."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from ledgewright.memo import Memo
from ledgewright.plan import Plan
from ledgewright.sheets import bundles
from ledgewright.sheets.documents import Json, head
from ledgewright.sheets.model import Page
from ledgewright.sheets.output import Part, leaves_of, pdf_name
from ledgewright.sheets.pages import bound
from ledgewright.sheets.say import Say


def packet_document(plan: Plan, written: Sequence[Path], parts: Sequence[Part], memo: Memo) -> Json:
    """Return the answer of `packet` as a JSON document.

    Args:
        plan: the whole job.
        written: the paths of the files, from `packet`.
        parts: as asked of `packet`.
        memo: as given to `packet`, so that nothing is worked out again.

    Returns:
        A document that keeps to `packet_schema`.
    """
    _, made = leaves_of(plan, parts, memo)
    return {
        **head(plan.job),
        "verdict": plan.verdict,
        "parts": [_part(plan, made, each) for each in parts],
        "files": [{"name": path.name, "bytes": path.stat().st_size} for path in written],
    }


def _part(plan: Plan, made: Mapping[str, Page], part: Part) -> Json:
    bundle = None if part == "whole" else part
    inside = {name: page for name, page in made.items() if name != "cover"}
    say = Say.of(plan.job.meta)
    return {
        "for": part,
        "file": pdf_name(part),
        "pages": [
            {"name": name, "title": page.title, "about": page.about}
            for name, page in bound(plan, made, bundle).items()
        ],
        "left_out": [
            {
                "title": bundles.title_of(bundles.sort_named(lacking.sort), say),
                "about": lacking.about,
                "why": lacking.why,
                "waits": lacking.waits,
            }
            for lacking in bundles.lacking(plan, inside, bundle)
        ],
    }
