"""For all tests: property tests try the same cases in every run, and shipped lifts are driven once for all workers."""

import gc
import os

import pytest
from hypothesis import settings

from tests.draws import ROAM
from tests.shipped_lifts import Demonstrations

os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")

settings.register_profile("same", deadline=None, derandomize=True, database=None)
settings.register_profile("roam", deadline=None, max_examples=ROAM)
settings.load_profile("same")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Files with something long in them come first, so that at the end no worker is busy alone."""
    long = {item.path for item in items if item.get_closest_marker("long")}
    items.sort(key=lambda item: item.path not in long)


def pytest_collection_finish() -> None:
    """What thousands of tests are made of stays till the end: left out of every search for what nobody holds."""
    gc.collect()
    gc.freeze()


@pytest.fixture(scope="session")
def demonstrated(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Demonstrations:
    """The shipped lifts of this test run."""
    own = tmp_path_factory.getbasetemp()
    folder = (own if worker_id == "master" else own.parent) / "demonstrations"
    folder.mkdir(exist_ok=True)
    return Demonstrations(folder)
