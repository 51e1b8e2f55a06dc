"""Plan to drawings, packet PDF, CSV and JSON."""
