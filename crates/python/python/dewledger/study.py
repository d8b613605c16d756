"""Studies and their runs.

Here: `Study`, `run`, `Results`, `core_point`. Not here: columns (`tables`), many runs (`sweeps`, `distributed`).
"""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from functools import cached_property
from pathlib import Path
from typing import Any

from . import _dewledger
from ._dewledger import InputError
from .tables import Table, of_csv

CorePoint = dict[str, Any]
"""What a unit's core is and does: what `dewledger core --json` prints for it."""


class Study:
    """A sound study: a house, its ventilation, its units, and the name of its weather file. It does not change.

    Made by `from_toml`, `from_dict` or `demonstration`; a study with some fault is refused with every problem, its line and
    what would be right, as the command line says it.
    """

    def __init__(self, native: _dewledger.NativeStudy, changes: Mapping[str, Any] | None = None) -> None:
        self._native = native
        self._changes = dict(changes or {})

    @classmethod
    def from_toml(
        cls, source: str | os.PathLike[str], *, folder: str | os.PathLike[str] = ".", name: str = "study.toml"
    ) -> Study:
        """The study in a file, or in a text.

        source: a path; or TOML text, which is any str with a line break in it. folder: where a text's weather file is looked
        for (a file's is looked for beside it). name: what messages call a text.
        """
        if isinstance(source, str) and "\n" in source:
            return cls(_dewledger.NativeStudy.of_text(source, name, Path(folder)))
        return cls(_dewledger.NativeStudy.of_path(Path(source)))

    @classmethod
    def from_dict(
        cls, values: Mapping[str, Any], *, folder: str | os.PathLike[str] = ".", name: str = "study.toml"
    ) -> Study:
        """The study in a dict of the shape that the study file has; quantities are texts with their units.

        folder: where its weather file is looked for. Places in messages are lines of the TOML text that the dict stands for,
        which `text` shows.
        """
        return cls(_dewledger.NativeStudy.of_text(_dewledger.toml_of(values), name, Path(folder)))

    @classmethod
    def demonstration(cls) -> Study:
        """The built-in demonstration: an invented bungalow in an invented, severely cold climate."""
        return cls(_dewledger.NativeStudy.demonstration())

    def with_values(self, changes: Mapping[str, Any]) -> Study:
        """The same study with some values changed, by their paths, as a sweep changes them.

        changes: such as `{"house.air_leakage": "3 1/h @50Pa", "unit.Plate A.balance": 1.1}`.

        Raises `InputError` for a path that there is not, with the nearest that there is, and for a value that does not fit.
        """
        merged = {path: value for path, value in self._changes.items() if path not in changes} | dict(changes)
        return Study(self._native.with_values(dict(changes)), merged)

    @property
    def changes(self) -> dict[str, Any]:
        """Values that were changed since the text was read, by their paths, in their order."""
        return dict(self._changes)

    @property
    def text(self) -> str:
        """The study as TOML text, as it was read: before `changes`."""
        return self._native.text

    @property
    def name(self) -> str:
        """What messages call it."""
        return self._native.name

    @property
    def title(self) -> str:
        """Its title."""
        return self._native.title

    @property
    def weather(self) -> str:
        """Its weather file, as it names it: beside the study, unless it is an absolute path."""
        return self._native.weather

    @property
    def units(self) -> list[str]:
        """Names of its units."""
        return self._native.units

    def __repr__(self) -> str:
        return f"Study {self.title!r} with units {', '.join(self.units)}"

    def __reduce__(self) -> tuple[Any, tuple[Any, ...]]:
        return restored, (self.text, self.name, self._native.folder, self.changes)


def restored(text: str, name: str, folder: str | os.PathLike[str] | None, changes: Mapping[str, Any]) -> Study:
    """A study from what it is made of; without a folder it is the demonstration."""
    if folder is None:
        study = Study.demonstration()
    else:
        study = Study(_dewledger.NativeStudy.of_text(text, name, Path(folder)))
    return study.with_values(changes) if changes else study


class Results:
    """What a run gave: the same figures, to the last digit, as `dewledger run` writes into its files."""

    def __init__(self, native: _dewledger.NativeResults) -> None:
        self._native = native
        self._hours: dict[int, Table] = {}

    @cached_property
    def annual(self) -> Table:
        """`annual.csv`: a row for each house-year, keys `unit` and `case`."""
        return of_csv(self._native.annual_csv)

    @cached_property
    def monthly(self) -> Table:
        """`monthly.csv`: a row for each house-year and month, keys `unit`, `case`, `month` (1 to 12)."""
        return of_csv(self._native.monthly_csv)

    @cached_property
    def money(self) -> Table | None:
        """`money.csv`, or None where the study has no tariff."""
        text = self._native.money_csv
        return None if text is None else of_csv(text)

    @cached_property
    def manifest(self) -> dict[str, Any]:
        """`manifest.json`: inputs with their SHA-256, defaults used, findings, residuals of the books."""
        manifest: dict[str, Any] = json.loads(self._native.manifest_json)
        return manifest

    @property
    def findings(self) -> list[str]:
        """What was noticed in the weather, in sentences."""
        return self._native.findings

    @property
    def houses(self) -> list[tuple[str, str]]:
        """Unit and case of every house-year that was run; the unit of `no-ventilation` is the empty text."""
        return self._native.houses

    def hourly(self, unit: str, case: str = "unit") -> Table:
        """Every hour of a house-year: `month`, `day`, `hour_ending`, then every quantity, 8 760 or 8 784 elements each.

        unit: its name; case: `unit`, `no-recovery`, `extract-only`, `no-ventilation` (whose unit is the empty text), or a case
        with its air held, as `houses` lists them. Each column is copied once out of the engine and kept.
        """
        index = self._index(unit, case)
        if index not in self._hours:
            self._hours[index] = Table(self._native.hourly(index))
        return self._hours[index]

    def ledger(self, unit: str, case: str = "unit") -> Table:
        """Every flow of heat and water of a house-year by month [J, kg], into the house positive."""
        return of_csv(self._native.ledger_csv(self._index(unit, case)))

    def _index(self, unit: str, case: str) -> int:
        try:
            return self.houses.index((unit, case))
        except ValueError:
            there = "; ".join(f'"{name}", "{kind}"' for name, kind in self.houses)
            raise InputError(f'error: no house-year of unit "{unit}", case "{case}" was run\n\nhint: there are {there}') from None

    def __repr__(self) -> str:
        return f"Results of {len(self.houses)} house-years"


def run(study: Study, *, threads: int | None = None) -> Results:
    """Runs every unit of a study, and the houses that it is compared with, through the year.

    threads: how many work at it, left out as many as there are cores. The answer is the same with any number. Other threads of the interpreter go on meanwhile. Raises `InputError` or `WorkError` with the command line's words.
    """
    return Results(_dewledger.run(study._native, threads))


def core_point(
    study: Study,
    outdoor: str | None = None,
    *,
    outdoor_humidity: str = "80 %",
    indoor: str | None = None,
    indoor_humidity: str = "40 %",
    unit: str | None = None,
) -> list[CorePoint]:
    """What each unit's core is, and what it does at one steady point.

    outdoor: such as "-10 °C"; left out, `point` is None. outdoor_humidity: over ice below freezing. indoor: the extract air,
    left out the heating set-point. unit: one unit, left out all.

    A dict for each unit; temperatures in °C, humidity ratios in kg/kg dry air, flows in kg/s, powers in W.
    """
    answer: list[CorePoint] = json.loads(
        study._native.core(outdoor, outdoor_humidity, indoor, indoor_humidity, unit)
    )
    return answer
