"""Executes a notebook from its first cell to its last, in a folder of its own, and fails where a cell fails.

    python execute.py NOTEBOOK FOLDER
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

import nbformat
from nbclient import NotebookClient


def main() -> None:
    """Executes; says how many cells ran."""
    path, folder = Path(sys.argv[1]).resolve(), Path(sys.argv[2]).resolve()
    notebook = nbformat.read(path, as_version=4)
    nbformat.validate(notebook)
    with tempfile.TemporaryDirectory(dir=folder) as scratch:
        client = NotebookClient(
            notebook, timeout=120, kernel_name="python3", resources={"metadata": {"path": scratch}}
        )
        client.execute()
    cells = sum(cell.cell_type == "code" for cell in notebook.cells)
    print(f"{path.name}: {cells} cells ran to the end")


if __name__ == "__main__":
    main()
