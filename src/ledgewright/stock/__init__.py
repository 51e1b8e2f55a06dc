"""The rows of the catalogue: what can be bought, each with its source and how sure that is."""

from ledgewright.stock.catalogue import (
    KINDS,
    NotStocked,
    adhesive,
    bar,
    finish,
    lumber,
    panel,
    rows,
    screw,
    timber,
)
from ledgewright.stock.check import check_rows, faults
from ledgewright.stock.model import (
    Adhesive,
    Bar,
    Finish,
    Kind,
    Lumber,
    Panel,
    Row,
    Screw,
    Shape,
    Status,
    Timber,
)

__all__ = [
    "KINDS",
    "Adhesive",
    "Bar",
    "Finish",
    "Kind",
    "Lumber",
    "NotStocked",
    "Panel",
    "Row",
    "Screw",
    "Shape",
    "Status",
    "Timber",
    "adhesive",
    "bar",
    "check_rows",
    "faults",
    "finish",
    "lumber",
    "panel",
    "rows",
    "screw",
    "timber",
]
