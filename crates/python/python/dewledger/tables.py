"""Columns of results, and how polars, pandas and pyarrow take them.

Here: `Table`, and the guide to every column. Not here: what is in the tables (`study`, `weather`, `bins`).
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from . import _dewledger

if TYPE_CHECKING:
    import pandas
    import polars
    import pyarrow

Column = np.ndarray[Any, np.dtype[Any]]

# Columns that hold words, also where a word looks like a number.
_WORDS = frozenset({"unit", "case", "book", "line", "label", "month_name", "currency", "verdict", "reason"})


class Table(Mapping[str, Column]):
    """Named columns of one length: a read-only mapping from a column's name to a one-dimensional numpy array.

    Numbers are float64; months, days and hours are uint8; words are objects of type str; a day that there is not is None. A column in which some figure has no
    meaning (an empty field of the CSV file) is a `numpy.ma.MaskedArray`, masked there: there is no NaN.
    """

    def __init__(self, columns: Mapping[str, Column]) -> None:
        self._columns = dict(columns)

    def __getitem__(self, name: str) -> Column:
        try:
            return self._columns[name]
        except KeyError:
            raise KeyError(f"there is no column `{name}`; there are {', '.join(self._columns)}") from None

    def __iter__(self) -> Iterator[str]:
        return iter(self._columns)

    def __len__(self) -> int:
        return len(self._columns)

    @property
    def rows(self) -> int:
        """Number of rows: length of every column."""
        return next((len(column) for column in self._columns.values()), 0)

    def to_polars(self) -> polars.DataFrame:
        """The same as a `polars.DataFrame`. Columns of plain numbers are taken without copying where polars can."""
        import polars as pl

        return pl.DataFrame([_series(pl, name, column) for name, column in self._columns.items()])

    def to_pandas(self) -> pandas.DataFrame:
        """The same as a `pandas.DataFrame`; masked figures become pandas' own missing values.

        Columns of plain numbers are views of the arrays here.
        """
        import pandas as pd

        def taken(column: Column) -> Any:
            if isinstance(column, np.ma.MaskedArray):
                return pd.Series(pd.array(column.data, dtype="Float64")).mask(np.ma.getmaskarray(column))
            return pd.Series(column, copy=False)

        return pd.DataFrame({name: taken(column) for name, column in self._columns.items()}, copy=False)

    def to_pyarrow(self) -> pyarrow.Table:
        """The same as a `pyarrow.Table`. Columns of plain numbers share their memory with the arrays here."""
        import pyarrow as pa

        return pa.table({name: _arrow(pa, column) for name, column in self._columns.items()})

    def __arrow_c_stream__(self, requested_schema: object | None = None) -> object:
        """The Arrow stream of the table, for every library that takes one; needs pyarrow."""
        return self.to_pyarrow().__arrow_c_stream__(requested_schema)

    def __repr__(self) -> str:
        return f"Table of {self.rows} rows: {', '.join(self._columns)}"

    def _repr_html_(self) -> str:
        most = 12
        head = "".join(f"<th>{_escaped(name)}</th>" for name in self._columns)
        body = ""
        for row in range(min(self.rows, most)):
            cells = (_shown(column[row]) for column in self._columns.values())
            body += "<tr>" + "".join(f"<td>{_escaped(cell)}</td>" for cell in cells) + "</tr>"
        more = f"<p>{self.rows} rows, the first {most} of them shown</p>" if self.rows > most else ""
        return f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>{more}"


def _escaped(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;")


def _shown(value: Any) -> str:
    if value is np.ma.masked:
        return ""
    return f"{value:.6g}" if isinstance(value, float) else str(value)


def _series(pl: Any, name: str, column: Column) -> Any:
    if isinstance(column, np.ma.MaskedArray):
        present = pl.Series(~np.ma.getmaskarray(column))
        return pl.select(pl.when(present).then(pl.Series(name, column.data)).alias(name)).to_series()
    if column.dtype == object:
        return pl.Series(name, column.tolist(), dtype=pl.String)
    return pl.Series(name, column)


def _arrow(pa: Any, column: Column) -> Any:
    if isinstance(column, np.ma.MaskedArray):
        return pa.array(column.data, mask=np.ma.getmaskarray(column))
    if column.dtype == object:
        return pa.array(column.tolist(), pa.string())
    return pa.array(column)


def of_csv(text: str) -> Table:
    """The table in a CSV text of the program: numbers to their last digit, words, and empty fields masked."""
    header, *rows = csv.reader(io.StringIO(text))
    fields = zip(*rows) if rows else ([] for _ in header)
    return Table({name: _of_fields(name, list(cells)) for name, cells in zip(header, fields)})


def of_rows(rows: list[dict[str, Any]]) -> Table:
    """The table of rows that hold numbers or words under the same names."""
    names = list(rows[0]) if rows else []
    return Table({name: _of_values([row[name] for row in rows]) for name in names})


def _of_values(values: list[Any]) -> Column:
    if any(isinstance(value, str) for value in values):
        return np.array(values, dtype=object)
    if any(value is None for value in values):
        present = [0.0 if value is None else value for value in values]
        return np.ma.MaskedArray(present, [value is None for value in values], dtype=np.float64)
    return np.array(values)


def _of_fields(name: str, cells: list[str]) -> Column:
    if name.endswith("_date"):
        return np.array([cell or None for cell in cells], dtype=object)
    if name in _WORDS:
        return np.array(cells, dtype=object)
    try:
        numbers = [float(cell) if cell else 0.0 for cell in cells]
    except ValueError:
        return np.array(cells, dtype=object)
    empty = [not cell for cell in cells]
    column = np.array(numbers, dtype=np.float64)
    return np.ma.MaskedArray(column, empty) if any(empty) else column


def columns() -> list[dict[str, Any]]:
    """The guide to every column of the result files: a dict for each, with its file, name, unit and meaning."""
    guide: list[dict[str, Any]] = json.loads(_dewledger.columns())
    return guide
