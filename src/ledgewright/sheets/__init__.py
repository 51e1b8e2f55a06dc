"""Plan to drawings, packet PDF, CSV and JSON."""

from ledgewright.sheets.bundles import BUNDLES
from ledgewright.sheets.output import contents, packet, pdf
from ledgewright.sheets.pages import pages

__all__ = ["BUNDLES", "contents", "packet", "pages", "pdf"]
