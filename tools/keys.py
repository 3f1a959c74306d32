"""Write docs/keys.md from the description of scenarios: `python tools/keys.py`."""

from __future__ import annotations

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]


def main() -> int:
    """Write the page."""
    sys.path.insert(0, str(ROOT))
    from simulator.scenario.key_list import page

    out = ROOT / "docs" / "keys.md"
    out.write_text(page(), encoding="utf-8")
    print(f"written: {out}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
