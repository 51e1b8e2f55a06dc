"""Measured speed, as ratios in one run, none asserted. One thread of linear algebra, as every command has."""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("OMP_NUM_THREADS", "1")
