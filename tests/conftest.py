"""Settings for all tests: how long an example takes is no test, and nothing outside this machine is reached.

Kernels are watched too, by an IPython folder of their own; what whoever runs the tests has in theirs is left out.
"""

import os
import shutil
import tempfile
from pathlib import Path

import only_here
from hypothesis import settings

OURS = "MODELMATH_TESTS_IPYTHON"  # set by the first process; those it starts have the same folder

# A first call may import a package; how long an example takes is no test.
settings.register_profile("modelmath", deadline=None)
settings.load_profile("modelmath")


def pytest_configure(config):
    """Watch this process, and the kernels it starts."""
    only_here.watch()
    if OURS not in os.environ:
        folder = Path(tempfile.mkdtemp(prefix="modelmath-ipython-"))
        only_here.startup(folder)
        os.environ[OURS] = os.environ["IPYTHONDIR"] = str(folder)
        config.add_cleanup(lambda: shutil.rmtree(folder, ignore_errors=True))
