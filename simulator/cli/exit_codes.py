"""What every command ends with."""

from __future__ import annotations

from typing import Final

OK: Final = 0
"""Done, landed with no stop limit passed, drill passed; of a check: no stated limit is passed."""
NO: Final = 1
"""A stated limit is passed, the lift did not end as it should, or a replay differs."""
BAD_INPUT: Final = 2
"""Input that cannot be used."""
NOT_JUDGED: Final = 3
"""Something that a judgment needs is missing."""
OF_VERDICT = {"limit passed": NO, "not judged": NOT_JUDGED, "no limit passed": OK}
"""Of the three answers of a check."""
