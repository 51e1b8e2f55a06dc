"""The rows of the catalogue: what can be bought, each with its source and how sure that is."""

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
    "Adhesive",
    "Bar",
    "Finish",
    "Kind",
    "Lumber",
    "Panel",
    "Row",
    "Screw",
    "Shape",
    "Status",
    "Timber",
]
