"""What the tests share: the repository, the built program, a study of one's own.

The program stands beside the package as the other side of every comparison; `.ci/python` builds both from one source.
"""

from __future__ import annotations

import os
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[3]


def program() -> Path:
    """The command line's binary."""
    path = Path(os.environ.get("DEWLEDGER", ROOT / "target" / "debug" / "dewledger"))
    if not path.is_file():
        pytest.fail(f"{path} is not there; build it with `cargo build`, or name another in DEWLEDGER")
    return path


def command(*arguments: str | Path, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    """Runs the program; its texts and exit code."""
    words = [str(program()), *map(str, arguments)]
    return subprocess.run(words, capture_output=True, text=True, check=False, cwd=cwd)


@pytest.fixture(scope="session")
def own_study(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A study file that `dewledger new` wrote, with a price and the prices of energy."""
    folder = tmp_path_factory.mktemp("own") / "house"
    done = command("new", folder)
    assert done.returncode == 0, done.stderr
    path = folder / "bungalow.toml"
    text = path.read_text(encoding="utf-8").replace('name = "Plate A"\n', 'name = "Plate A"\nprice = "2200 USD"\n')
    if "\n[tariff]" not in text:
        text += '\n[tariff]\nelectricity = "0.14 USD/kWh"\ngas = "0.045 USD/kWh"\n'
    path.write_text(text, encoding="utf-8")
    return path
