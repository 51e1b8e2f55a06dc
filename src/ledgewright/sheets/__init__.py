"""Plan to drawings, packet PDF, CSV and JSON."""

from ledgewright.sheets.output import contents, packet, pdf
from ledgewright.sheets.pages import pages

__all__ = ["contents", "packet", "pages", "pdf"]
