"""Measured speed, as ratios in one run; nothing here is asserted."""
