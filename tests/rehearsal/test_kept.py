"""The file of rows: whatever is cut off or damaged, what is whole is kept, and runs are not mixed."""

from __future__ import annotations

from pathlib import Path

import pytest

from simulator.files.writing import Refused
from simulator.rehearsal import kept
from simulator.rehearsal.driven import DrawRow, FirstCause
from simulator.rehearsal.kept import NAME, KeptRows
from tests.rehearsal.short import job, made_up, short_drill


@pytest.fixture(scope="module")
def rows() -> list[DrawRow]:
    lift = short_drill()
    why = made_up(lift, 2, ended="cannot begin")._replace(values=(), why="a line that pulls")
    return [
        made_up(lift, 1, nose__capacity_used=1 / 3),
        why,
        made_up(lift, 3)._replace(cause=FirstCause("early", "nose")),
    ]


def written(folder: Path, rows: list[DrawRow]) -> Path:
    with KeptRows(folder, job()) as file:
        for row in rows:
            file.add(row)
    return folder / NAME


def read(folder: Path) -> list[DrawRow]:
    with KeptRows(folder, job()) as file:
        return list(file.rows())


def test_rows_come_back_to_the_last_bit(tmp_path: Path, rows: list[DrawRow]) -> None:
    written(tmp_path, rows)
    assert repr(read(tmp_path)) == repr(rows)


def test_cut_off_at_any_byte_what_is_whole_is_kept_and_gone_on_with(tmp_path: Path, rows: list[DrawRow]) -> None:
    path = written(tmp_path, rows)
    whole = path.read_bytes()
    lines = whole.splitlines(keepends=True)
    ends = [len(b"".join(lines[:place])) for place in range(1, len(lines) + 1)]
    near = {cut for end in ends for cut in (end - 1, end, end + 1)}
    for cut in sorted({*near, *range(ends[0], len(whole), 97)} & set(range(ends[0], len(whole)))):
        path.write_bytes(whole[:cut])
        there = [row for place, row in enumerate(rows, 2) if len(b"".join(lines[:place])) <= cut]
        with KeptRows(tmp_path, job()) as file:
            assert repr(list(file.rows())) == repr(there)
            for row in rows[len(there) :]:
                file.add(row)
        assert path.read_bytes() == whole


def test_a_damaged_line_is_driven_again_and_a_second_of_a_draw_is_none(tmp_path: Path, rows: list[DrawRow]) -> None:
    path = written(tmp_path, [*rows, rows[0]])
    lines = path.read_bytes().splitlines(keepends=True)
    for damaged in (
        b"\n",
        b"}\n",
        b'{"draw": 3}\n',
        b'{"draw": {"number": "x"}}\n',
        b"\xff\n",
        b"[1]\n",
        lines[1].replace(b"1", b"2", 1),
        lines[1].replace(b"[null,", b"[", 1),
    ):
        path.write_bytes(b"".join([lines[0], damaged, *lines[2:4]]))
        assert repr(read(tmp_path)) == repr(rows[1:])
    path.write_bytes(b"".join(lines))
    assert len(read(tmp_path)) == len(rows)


def test_another_run_is_refused_with_what_differs(
    tmp_path: Path, rows: list[DrawRow], monkeypatch: pytest.MonkeyPatch
) -> None:
    path = written(tmp_path, rows)
    other = job()._replace(lots=job().lots._replace(seed=8, wind_mps=None))
    with pytest.raises(Refused) as refused:
        KeptRows(tmp_path, other)
    may = "the same settings to go on with it, or a folder of its own for this run"
    said = f"{path}: given a run with seed 7 there, 8 now; wind_mps [0.0, 6.0] there, none now, allowed: {may}"
    assert str(refused.value) == said
    monkeypatch.setattr(kept, "program", lambda: {"sources": "others"})
    with pytest.raises(Refused, match=r"program: sources .* there, others now"):
        KeptRows(tmp_path, job())
    path.write_text("draw,weight\n")
    with pytest.raises(Refused, match="given a file that is no rehearsal"):
        KeptRows(tmp_path, job())
    with pytest.raises(Refused, match="given a file, allowed: a folder"):
        KeptRows(path, job())
    assert path.read_text() == "draw,weight\n"
