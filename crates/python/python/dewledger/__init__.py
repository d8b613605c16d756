"""Dewledger: a house and its ventilation recovery core through every hour of a typical year.

A weather file and a study go in; annual figures, months and hours come out as columns that polars, pandas and pyarrow take.

>>> import dewledger
>>> study = dewledger.Study.demonstration()
>>> results = dewledger.run(study.with_values({"house.air_leakage": "3 1/h @50Pa"}))
>>> results.annual["useful_saving_kwh"]
>>> results.hourly("Plate A").to_polars()

Everything is in SI; a column's name ends in its unit. Arrays of an hourly table have one element for each hour of the year,
8 760 or 8 784, in local standard time. What cannot be done raises `DewledgerError`, whose text is the command line's: what is
wrong, where, and what would be right.

For sizing and explaining; local codes and licensed practice decide what is built.
"""

from ._dewledger import DewledgerError, InputError, WorkError, __version__
from .air import MoistAir, moist_air
from .bins import bins
from .study import CorePoint, Results, Study, core_point, run
from .sweeps import Done, Sweep, sweep
from .tables import Table, columns
from .weather import Weather, read_weather

__all__ = [
    "CorePoint",
    "DewledgerError",
    "Done",
    "InputError",
    "MoistAir",
    "Results",
    "Study",
    "Sweep",
    "Table",
    "Weather",
    "WorkError",
    "__version__",
    "bins",
    "columns",
    "core_point",
    "moist_air",
    "read_weather",
    "run",
    "sweep",
]
