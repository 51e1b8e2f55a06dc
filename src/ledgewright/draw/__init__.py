"""Drawing primitives, text metrics, SVG and DXF; knows no shelf."""
