"""What holds for every test."""

from __future__ import annotations

from hypothesis import settings

# A busy machine is no fault of the code: what must be quick is measured by `tests.bench`.
settings.register_profile("steady", deadline=None)
settings.load_profile("steady")
