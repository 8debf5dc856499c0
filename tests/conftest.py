"""Settings that every test shares."""

from hypothesis import settings

# A slow machine is no failure: no example is judged by the clock.
settings.register_profile("house", deadline=None)
settings.load_profile("house")
