"""The collector of rubbish, spared what stays."""

from __future__ import annotations

import gc


def set_aside() -> None:
    """Spare the collector what is there now and stays for as long as a screen does: to look through it takes three
    frames."""
    if gc.get_freeze_count():
        gc.unfreeze()
        gc.collect()
    gc.freeze()
