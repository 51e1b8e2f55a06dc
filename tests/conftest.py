"""Property tests run without a deadline, since machines are shared, and the same way each time in CI."""

from __future__ import annotations

import os

from hypothesis import settings

settings.register_profile("shared", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "shared")
