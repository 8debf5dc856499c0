"""Leaves to cosmic-ray what mutmut makes no mutants of: `python outside_functions.py SESSION`.

Of a session that `cosmic-ray init` made, skips the mutants within plain functions and methods, within
annotations, in unions of types, and of the decorators of records: frozen and slots change no value.
"""

from __future__ import annotations

import ast
import sys
from pathlib import Path

from cosmic_ray.work_db import WorkDB, use_db  # type: ignore[import-not-found]
from cosmic_ray.work_item import WorkerOutcome, WorkResult  # type: ignore[import-not-found]

Area = tuple[tuple[int, int], tuple[int, int]]


def left_out(text: str) -> list[Area]:
    """Where mutmut makes mutants, or where a mutant would be of a type alone."""
    found: list[ast.expr | ast.stmt] = []
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef):
            found += [] if node.decorator_list else [node]
            found += [node.returns] if node.returns is not None else []
        elif isinstance(node, ast.ClassDef):
            found += node.decorator_list
        elif isinstance(node, ast.AnnAssign | ast.arg) and node.annotation is not None:
            found.append(node.annotation)
        elif isinstance(node, ast.BinOp) and isinstance(node.op, ast.BitOr):
            found.append(node)
    return [
        ((node.lineno, node.col_offset), (node.end_lineno or 0, node.end_col_offset or 0)) for node in found
    ]


def main(session: str) -> None:
    """Mark what is left out as skipped, and say how many are left."""
    areas: dict[Path, list[Area]] = {}
    left = 0
    with use_db(session, WorkDB.Mode.open) as db:
        for item in db.work_items:
            (mutant,) = item.mutations
            path = mutant.module_path
            if path not in areas:
                areas[path] = left_out(path.read_text(encoding="utf-8"))
            if any(start <= mutant.start_pos and mutant.end_pos <= end for start, end in areas[path]) or (
                mutant.operator_name == "core/RemoveDecorator"
            ):
                db.set_result(item.job_id, WorkResult(WorkerOutcome.SKIPPED))
            else:
                left += 1
    sys.stdout.write(f"{left} mutants left\n")


if __name__ == "__main__":
    main(sys.argv[1])
