"""The quick bill of one section: mass, hours by the trade's table, materials and price.

Sheets are counted by area with 15 % waste: how many the whole job takes, `cutting` says, and the bill of the whole
job with them comes from the same sum (see `work`).
"""

from __future__ import annotations

from collections.abc import Sequence

from ledgewright.core import mass
from ledgewright.job import Job
from ledgewright.shop.model import Bill, Made
from ledgewright.shop.needs import Counted
from ledgewright.shop.work import bill_of, work


def bill(job: Job, made: Sequence[Made], counted: Counted | None = None) -> Bill:
    """Return the bill of one section by itself, or of several made together.

    Source: common practice; price = (direct + overhead + contingency) / (1 - net margin).

    Args:
        job: meta, tapes, shop with its price file, site.
        made: the sections.
        counted: sheets by a layout; by area if there is none.

    Returns:
        Mass, hours line by line, material lines; price None while a price is missing, and which are.

    Raises:
        TooColdError: if something would have to cure below what its label allows.
    """
    weight = sum(mass(spec=each.spec, frame=each.frame, core=each.core) for each in made)
    return bill_of(work(job, made, counted), weight)
