"""Settings for all tests."""

from hypothesis import settings

# A first call may import a package; how long an example takes is no test.
settings.register_profile("modelmath", deadline=None)
settings.load_profile("modelmath")
