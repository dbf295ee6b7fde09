"""The same job gives the same bytes in another process."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
DIGEST = """
from hashlib import sha256
from namebatch.output.cutdxf import cut_dxf
from namebatch.output.cutsvg import cut_svg
from namebatch.output.held import held_csv
from namebatch.output.manifest import manifest
from namebatch.output.printpdf import print_pdf
from tests.output import jobs
for job in (jobs.faced_job(), jobs.bare_job()):
    for sheet in job.sheets:
        for draw in (cut_svg, cut_dxf):
            data = draw(sheet.cuts, sheet.size_mm, jobs.COLOURS)
            print(draw.__name__, sha256(data).hexdigest())
    print("held", sha256(held_csv(job)).hexdigest())
    print("manifest", sha256(manifest(job, {})).hexdigest())
print("print", sha256(print_pdf(jobs.faced_job(), lambda done, total: None)).hexdigest())
"""


@pytest.fixture(scope="module")
def first() -> str:
    """What one process makes."""
    return digests("1")


def digests(seed: str) -> str:
    """Digests of everything, made in a process whose sets and hashes are ordered by `seed`."""
    run = subprocess.run(
        [sys.executable, "-c", DIGEST],
        env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)},
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    return run.stdout


@pytest.mark.parametrize("seed", ["2", "3"])
def test_no_order_of_a_set_reaches_a_file(first: str, seed: str) -> None:
    """Python orders sets of words anew in every process; no file may show it."""
    assert first.count("\n") == 11
    assert digests(seed) == first
