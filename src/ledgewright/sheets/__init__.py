"""Plan to drawings, packet PDF, CSV and JSON."""

from ledgewright.sheets.bundles import BUNDLES
from ledgewright.sheets.output import bundle_pdf, contents, packet, pdf
from ledgewright.sheets.pages import pages

__all__ = ["BUNDLES", "bundle_pdf", "contents", "packet", "pages", "pdf"]
