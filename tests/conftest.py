"""What all tests share: how the property tests search, and a plain terminal."""

from __future__ import annotations

import os

from hypothesis import settings

# The same examples in every run, so that a red test is about the change at hand.  To look for
# new ones: HYPOTHESIS_PROFILE=search python -m pytest tests/...
settings.register_profile("steady", deadline=None, derandomize=True)
settings.register_profile("search", deadline=None, max_examples=1000)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "steady"))

# Output is compared as text; a developer's own terminal settings must not colour or fold it.
os.environ["NO_COLOR"] = "1"
os.environ["COLUMNS"] = "100"

# It is a plugin of the browser tests, and pytest wants to be the first to load such a one.
collect_ignore = ["page/page_fixtures.py"]
