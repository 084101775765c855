"""Runs a notebook in a clean kernel and writes what came out of its cells, as JSON.

usage: execute.py NOTEBOOK RESULT FOLDER KERNEL SECONDS

NOTEBOOK is left as it is. RESULT gets {"cells": [{"execution_count", "outputs"}], "failure"}; the failure is null or
{"cell", "message"}: the index of the cell (null before the first) and what went wrong beyond what the outputs say.
The kernel runs in FOLDER; a cell may take SECONDS.
"""

import json
import sys

import nbformat
from nbclient import NotebookClient
from nbclient.exceptions import CellExecutionError

STARTUP_SECONDS = 120
LAST_OUTPUT_SECONDS = 60


def main():
    source, result, folder, kernel, seconds = sys.argv[1:]
    notebook = nbformat.read(source, as_version=4)
    failure = None
    position = {"cell": None}

    def on_cell_start(cell, cell_index):
        position["cell"] = cell_index

    client = NotebookClient(
        notebook,
        kernel_name=kernel,
        resources={"metadata": {"path": folder}},
        timeout=int(seconds),
        startup_timeout=STARTUP_SECONDS,
        # Outputs that come late on a busy machine are waited for, not lost.
        iopub_timeout=LAST_OUTPUT_SECONDS,
        raise_on_iopub_timeout=True,
        # No tag of a cell makes it pass.
        force_raise_errors=True,
        skip_cells_with_tag="",
        record_timing=False,
        shutdown_kernel="immediate",
        on_cell_start=on_cell_start,
    )
    try:
        client.execute()
    except CellExecutionError:
        failure = {**position, "message": ""}
    except Exception as problem:
        failure = {**position, "message": f"{type(problem).__name__}: {problem}"}
    cells = [
        {"execution_count": cell.get("execution_count"), "outputs": cell.get("outputs", [])}
        for cell in notebook.cells
    ]
    with open(result, "w", encoding="utf-8") as file:
        json.dump({"cells": cells, "failure": failure}, file)


main()
