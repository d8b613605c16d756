"""Many runs of one study with values changed, as a folder of Parquet parts that any number of machines fill.

Here: `Sweep` (what is to be run), its folder, one part, the runs of one process. Not here: clusters (`distributed`), summaries
(`spread`).

A folder holds `sweep.json` (what is run, with the SHA-256 of all that it was made from), `runs.parquet` (the values of every run;
a row group for each part), `parts/part-00000.parquet` and so on. A part is a pure function of the first two and its number: who
makes it, where, on how many threads and after which mishaps does not change a byte. It is written under another name, flushed to
the disk and renamed, so that a part that is there is whole.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import tempfile
import time
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import ArrayLike

from . import _dewledger
from ._dewledger import DewledgerError, InputError, WorkError
from .study import Study, restored
from .tables import columns, of_csv

if TYPE_CHECKING:
    import pyarrow

MANIFEST = "sweep.json"
RUNS = "runs.parquet"
PARTS = "parts"
UNFINISHED = ".unfinished"
USUAL_CASES = ("unit", "no-recovery")
USUAL_PART = 64
_MARK = b"dewledger.sweep"


@dataclass(frozen=True)
class Done:
    """One part that is whole."""

    part: int
    """Its number, from 0."""
    sha256: str
    """Of its bytes, in hexadecimal digits."""
    size_bytes: int
    """Its size [B]."""
    runs: int
    """Runs in it."""
    failed: int
    """Runs of it that could not be made, whose `reason` says why."""
    seconds: float
    """How long it took [s]."""


class Sweep:
    """What a sweep runs: a study, and for each run the values that are changed in it.

    study: what is left as it is. runs: a column for each path (as `Study.with_values` takes them) with a value for each run:
    numbers, or texts with their units. units: for a path whose column holds numbers of a quantity, its unit, such as
    `{"house.air_leakage": "1/h @50Pa"}`. part: runs in a part, a file each. cases: which houses are kept, a row each.

    The values come from whatever samples them: numpy, scipy's or one's own plans.
    """

    def __init__(
        self,
        study: Study,
        runs: Mapping[str, ArrayLike],
        *,
        units: Mapping[str, str] | None = None,
        part: int = USUAL_PART,
        cases: Sequence[str] = USUAL_CASES,
    ) -> None:
        self.study = study
        self.runs = {path: _column(path, values) for path, values in runs.items()}
        self.units = dict(units or {})
        self.part = part
        self.cases = tuple(cases)
        self._check()

    def _check(self) -> None:
        lengths = {path: len(column) for path, column in self.runs.items()}
        if len(set(lengths.values())) != 1 or 0 in lengths.values():
            said = ", ".join(f"`{path}` {length}" for path, length in lengths.items()) or "none"
            raise InputError(f"error: a sweep needs columns of one length, a value for each run; there are: {said}")
        if self.part < 1:
            raise InputError(f"error: a part of {self.part} runs is no part\n\nhint: give 1 or more")
        for path in self.units:
            if path not in self.runs:
                raise InputError(f"error: the unit of `{path}` is given, but no column of it")
            if self.runs[path].dtype.kind not in "fiu":
                raise InputError(f"error: `{path}` has a unit, but its values are no numbers")
        unknown = set(self.cases) - {row["case"] for row in _CASES}
        if unknown or not self.cases:
            known = ", ".join(row["case"] for row in _CASES)
            raise InputError(f"error: unknown cases: {', '.join(sorted(unknown)) or 'none'}\n\nhint: there are {known}")
        clash = sorted(set(self.runs) & {name for name, _ in _schema()})
        if clash:
            raise InputError(f"error: `{clash[0]}` is the name of a result, not a path of the study")
        # The first run tells of slips of the pen at once, not on a thousand machines.
        self.study.with_values(self.values(0))

    @property
    def count(self) -> int:
        """Number of runs."""
        return len(next(iter(self.runs.values())))

    @property
    def parts(self) -> int:
        """Number of parts."""
        return -(-self.count // self.part)

    def values(self, number: int) -> dict[str, Any]:
        """Paths and values of a run, as `Study.with_values` takes them."""
        return _changes({path: column[number] for path, column in self.runs.items()}, self.units)


_CASES = [
    {"case": name}
    for name in (
        "unit",
        "no-recovery",
        "unit-held-air",
        "no-recovery-held-air",
        "extract-only",
        "no-ventilation",
    )
]


def _column(path: str, values: ArrayLike) -> np.ndarray[Any, Any]:
    column = np.asarray(values)
    if column.ndim != 1 or column.dtype.kind not in "fiubUO":
        raise InputError(f"error: `{path}`: a column of numbers, switches or texts is needed")
    if column.dtype.kind == "f" and not np.isfinite(column).all():
        at = int(np.flatnonzero(~np.isfinite(column))[0])
        raise InputError(f"error: `{path}`: the value of run {at} is no finite number")
    if column.dtype.kind == "O" and not all(isinstance(value, str) for value in column):
        raise InputError(f"error: `{path}`: numbers and texts cannot be mixed in a column")
    return column


def _changes(row: Mapping[str, Any], units: Mapping[str, str]) -> dict[str, Any]:
    def value(path: str, given: Any) -> Any:
        plain = given.item() if isinstance(given, np.generic) else given
        # The fewest digits that read back as the same number, never in powers of ten.
        return f"{np.format_float_positional(plain, trim='-')} {units[path]}" if path in units else plain

    return {path: value(path, given) for path, given in row.items()}


def begin(sweep: Sweep, out: str | os.PathLike[str]) -> Folder:
    """The folder of a sweep: made anew, or the one that a sweep equal to the last byte has begun.

    Raises `InputError` for a folder in which something else lies, so that two sweeps never mix.
    """
    import pyarrow as pa
    import pyarrow.parquet as pq

    out = Path(out)
    table = pa.table({path: pa.array(column.tolist()) for path, column in sweep.runs.items()})
    sink = pa.BufferOutputStream()
    pq.write_table(table, sink, row_group_size=sweep.part, compression="zstd")
    runs = sink.getvalue().to_pybytes()
    manifest = _manifest(sweep, hashlib.sha256(runs).hexdigest())
    if (out / MANIFEST).exists():
        folder = Folder.at(out)
        if folder.manifest != manifest:
            differs = ", ".join(sorted(key for key in manifest if manifest[key] != folder.manifest.get(key)))
            raise InputError(
                f"error: {out}: holds another sweep; what differs: {differs}\n\n"
                "hint: name another folder; a folder goes on with the very sweep that began it"
            )
        return folder
    if out.exists() and any(out.iterdir()):
        raise InputError(f"error: {out}: is not empty and holds no sweep\n\nhint: name another folder")
    (out / PARTS).mkdir(parents=True, exist_ok=True)
    (out / UNFINISHED).mkdir(exist_ok=True)
    _write(out, out / RUNS, runs)
    # Last: a folder with it is a sweep's.
    _write(out, out / MANIFEST, (json.dumps(manifest, indent=1, ensure_ascii=False) + "\n").encode())
    return Folder.at(out)


def _manifest(sweep: Sweep, runs_sha256: str) -> dict[str, Any]:
    native = sweep.study._native
    folder = native.folder
    return {
        "engine": _dewledger.__version__,
        "study": native.text,
        "changes": sweep.study.changes,
        "name": native.name,
        "folder": None if folder is None else str(folder.resolve()),
        "weather_sha256": _weather_hashes(sweep),
        "runs_sha256": runs_sha256,
        "runs": sweep.count,
        "part": sweep.part,
        "units": sweep.units,
        "cases": list(sweep.cases),
    }


def _weather_hashes(sweep: Sweep) -> dict[str, str]:
    """Of each weather file that some run reads. The demonstration's is in the program, whose version is told."""
    folder = sweep.study._native.folder
    if folder is None:
        return {}
    names = {name for name in sweep.runs.get("site.weather", np.array([], dtype=object)).tolist()}
    names = names or {sweep.study.weather}
    hashes = {}
    for name in sorted(names):
        try:
            hashes[name] = hashlib.sha256((folder / name).read_bytes()).hexdigest()
        except OSError as cause:
            raise InputError(f"error: {folder / name}: cannot be read: {cause.strerror}") from cause
    return hashes


def _write(out: Path, path: Path, content: bytes) -> None:
    """Whole or not at all, and on the disk when it is there."""
    unfinished = out / UNFINISHED
    unfinished.mkdir(exist_ok=True)
    handle, temporary = tempfile.mkstemp(dir=unfinished, prefix=path.name + ".")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(temporary, 0o644)
        os.replace(temporary, path)
    except OSError as cause:
        Path(temporary).unlink(missing_ok=True)
        raise WorkError(f"error: {path}: cannot be written: {cause.strerror}") from cause
    folder = os.open(path.parent, os.O_RDONLY)
    try:
        os.fsync(folder)
    finally:
        os.close(folder)


@dataclass(frozen=True)
class Folder:
    """The folder of a sweep that has begun."""

    path: Path
    manifest: dict[str, Any]
    digest: str
    """SHA-256 of `sweep.json`: every part carries it."""

    @property
    def reference(self) -> tuple[str, ...]:
        """What another process finds it by."""
        return (str(self.path),)

    @property
    def runs(self) -> int:
        """Number of runs."""
        return int(self.manifest["runs"])

    @classmethod
    def at(cls, path: str | os.PathLike[str]) -> Folder:
        """The sweep in a folder."""
        path = Path(path).resolve()
        try:
            content = (path / MANIFEST).read_bytes()
            manifest = json.loads(content)
        except (OSError, ValueError) as cause:
            raise InputError(f"error: {path}: holds no sweep: {cause}") from cause
        return cls(path, manifest, hashlib.sha256(content).hexdigest())

    @property
    def parts(self) -> int:
        """Number of parts."""
        return -(-int(self.manifest["runs"]) // int(self.manifest["part"]))

    def part_path(self, number: int) -> Path:
        """File of a part."""
        return self.path / PARTS / f"part-{number:05}.parquet"

    def is_whole(self, number: int) -> bool:
        """Whether a part is there, and of this sweep. Its end is read, not all of it."""
        import pyarrow as pa
        import pyarrow.parquet as pq

        try:
            metadata = pq.read_metadata(self.part_path(number)).metadata or {}
        except (OSError, pa.ArrowInvalid):
            return False
        return bool(metadata.get(_MARK) == self._mark(number))

    def missing(self, share: tuple[int, int] = (1, 1)) -> list[int]:
        """Numbers of the parts that are not there yet; of a share K of N, every N-th from the K-th."""
        return [number for number in _share(self.parts, share) if not self.is_whole(number)]

    def _mark(self, number: int) -> bytes:
        return f"{self.digest} {number}".encode()

    def make(self, number: int, *, threads: int | None = 1) -> Done:
        """Runs a part and writes it, also where it is there already (to the same bytes)."""
        begun = time.monotonic()
        table = _part(self, number, threads)
        import pyarrow as pa
        import pyarrow.parquet as pq

        sink = pa.BufferOutputStream()
        pq.write_table(table.replace_schema_metadata({_MARK: self._mark(number)}), sink, compression="zstd")
        content = sink.getvalue().to_pybytes()
        _write(self.path, self.part_path(number), content)
        reasons = table["reason"].drop_null()
        return Done(
            number,
            hashlib.sha256(content).hexdigest(),
            len(content),
            len(table["run"].unique()),
            len(reasons),
            time.monotonic() - begun,
        )

    def tidy(self) -> None:
        """Removes what killed processes left, once every part is there: nobody writes any more."""
        if not self.missing():
            shutil.rmtree(self.path / UNFINISHED, ignore_errors=True)


@dataclass(frozen=True)
class FileParts:
    """The folder of a sweep file (`dewledger sweep FILE`), whose plan, runs and parts are the program's own."""

    file: Path
    path: Path
    native: _dewledger.NativeSweep

    @classmethod
    def open(cls, file: str | os.PathLike[str], out: str | os.PathLike[str]) -> FileParts:
        """Reads a sweep file and takes a folder for it."""
        file, path = Path(file).resolve(), Path(out).resolve()
        return cls(file, path, _dewledger.NativeSweep.open(file, path))

    @property
    def reference(self) -> tuple[str, ...]:
        """What another process finds it by."""
        return str(self.file), str(self.path)

    @property
    def digest(self) -> str:
        """SHA-256 of all that the data set depends on."""
        return self.native.identity

    @property
    def parts(self) -> int:
        """Number of parts."""
        return self.native.parts

    @property
    def runs(self) -> int:
        """Number of runs."""
        return self.native.runs

    def missing(self, share: tuple[int, int] = (1, 1)) -> list[int]:
        """Numbers of the parts that are not there yet; of a share K of N, every N-th from the K-th."""
        return [number for number in _share(self.parts, share) if not self.native.has(number)]

    def make(self, number: int, *, threads: int | None = 1) -> Done:
        """Runs a part and writes it, also where it is there already (to the same bytes)."""
        begun = time.monotonic()
        sha256, size, runs, failed = self.native.make(number, threads)
        return Done(number, sha256, size, runs, failed, time.monotonic() - begun)

    def tidy(self) -> None:
        """Removes what killed processes left, once every part is there: nobody writes any more."""
        if not self.missing():
            self.native.tidy()


@lru_cache(maxsize=4)
def found(reference: tuple[str, ...], digest: str) -> Folder | FileParts:
    """The sweep that a reference names, read once in a process."""
    parts = Folder.at(reference[0]) if len(reference) == 1 else FileParts.open(*reference)
    if parts.digest != digest:
        raise WorkError(f"error: {reference[-1]}: another sweep lies there now")
    return parts


def _share(parts: int, share: tuple[int, int]) -> range:
    first, step = share
    if not 1 <= first <= step:
        raise InputError(f"error: a share of {first}/{step} is none\n\nhint: K/N with K from 1 to N")
    return range(first - 1, parts, step)


@lru_cache(maxsize=4)
def _study_of(path: Path, digest: str) -> tuple[Study, dict[str, Any]]:
    """The study of a folder, read once in a process."""
    folder = Folder.at(path)
    if folder.digest != digest:
        raise WorkError(f"error: {path}: another sweep lies there now")
    manifest = folder.manifest
    text, name, place = manifest["study"], manifest["name"], manifest["folder"]
    return restored(text, name, place, manifest["changes"]), manifest


@lru_cache(maxsize=1)
def _schema() -> tuple[tuple[str, bool], ...]:
    """Columns of `annual.csv` in their order, and whether they hold words."""
    guide = [row["name"] for row in columns() if row["file"] == "annual.csv"]
    return tuple((name, name in {"unit", "case"} or name.endswith("_date")) for name in guide)


def _part(folder: Folder, number: int, threads: int | None) -> pyarrow.Table:
    import pyarrow as pa
    import pyarrow.parquet as pq

    study, manifest = _study_of(folder.path, folder.digest)
    with pq.ParquetFile(folder.path / RUNS) as file:
        runs = file.read_row_group(number)
    rows: list[dict[str, Any]] = []
    for index, given in enumerate(runs.to_pylist()):
        base = {"run": number * manifest["part"] + index, **given}
        rows.extend({**base, **figures} for figures in _figures(study, given, manifest, threads))
    results = [pa.field(name, pa.string() if words else pa.float64()) for name, words in _schema()]
    schema = pa.schema([pa.field("run", pa.int64()), *runs.schema, *results, pa.field("reason", pa.string())])
    return pa.Table.from_pylist(rows, schema.remove_metadata())


def _figures(
    study: Study, given: Mapping[str, Any], manifest: Mapping[str, Any], threads: int | None
) -> Iterable[dict[str, Any]]:
    """A row for each kept house of a run; one with a reason where the run cannot be made."""
    try:
        varied = study.with_values(_changes(given, manifest["units"]))
        annual = of_csv(_dewledger.annual_csv(varied._native, manifest["cases"], threads))
    except DewledgerError as cause:
        return [{"reason": str(cause)}]
    names = [name for name, _ in _schema()]
    rows = []
    for index in range(annual.rows):
        if annual["case"][index] in manifest["cases"]:
            row = {name: annual[name][index] for name in names}
            rows.append({name: _plain(value) for name, value in row.items()})
    return rows


def _plain(value: Any) -> Any:
    if value is np.ma.masked:
        return None
    return value.item() if isinstance(value, np.generic) else value


def sweep(
    what: Sweep | str | os.PathLike[str],
    out: str | os.PathLike[str] | None = None,
    *,
    parts: Iterable[int] | None = None,
    share: tuple[int, int] = (1, 1),
    threads: int | None = None,
) -> list[Done]:
    """Makes the parts of a sweep that are not there yet, in this process; what it made.

    what: a `Sweep`, or the path of a sweep file (`.toml`, as `dewledger sweep` takes it), with its folder `out`; or a folder in
    which a `Sweep` has begun. parts: numbers of parts, left out all. share:
    `(K, N)` takes every N-th part from the K-th, for job arrays. threads: of each run, left out as many as there are cores.

    A run that cannot be made (a value that does not fit) is a row with its `reason`, without figures. Stop it at any time and call
    it again: parts that are there are left alone.
    """
    folder = parts_of(what, out)
    wanted = folder.missing(share)
    if parts is not None:
        asked = set(parts)
        wanted = [number for number in wanted if number in asked]
    done = [folder.make(number, threads=threads) for number in wanted]
    folder.tidy()
    return done


def parts_of(
    what: Sweep | str | os.PathLike[str], out: str | os.PathLike[str] | None
) -> Folder | FileParts:
    """The parts of a sweep, whichever way it was named; see `sweep`."""
    from_file = not isinstance(what, Sweep) and Path(what).suffix.lower() == ".toml"
    if isinstance(what, Sweep) or from_file:
        if out is None:
            raise InputError("error: a sweep needs a folder\n\nhint: give `out`")
        return begin(what, out) if isinstance(what, Sweep) else FileParts.open(what, out)
    if out is not None:
        raise InputError("error: two folders were given\n\nhint: `out` goes with a sweep, a folder stands alone")
    return Folder.at(what)


def _main() -> int:
    """The way in for job arrays: `python -m dewledger.sweeps FOLDER --share K/N`."""
    import argparse
    import sys

    parser = argparse.ArgumentParser(prog="python -m dewledger.sweeps", description="Makes the missing parts of a sweep's folder.")
    parser.add_argument("folder", help="the folder, in which a sweep has begun")
    parser.add_argument("--share", default="1/1", metavar="K/N", help="every N-th part from the K-th [default: all]")
    parser.add_argument("--threads", type=int, help="threads of each run [default: one for each core]")
    given = parser.parse_args()
    try:
        words = [int(word) for word in given.share.split("/")]
    except ValueError:
        words = []
    if len(words) != 2:
        print(f"error: --share {given.share}: two whole numbers with a stroke between them are needed, as 3/100", file=sys.stderr)
        return 2
    try:
        done = sweep(given.folder, share=(words[0], words[1]), threads=given.threads)
    except InputError as cause:
        print(cause, file=sys.stderr)
        return 2
    except DewledgerError as cause:
        print(cause, file=sys.stderr)
        return 1
    failed = sum(part.failed for part in done)
    print(f"{len(done)} parts made, {sum(part.runs for part in done)} runs in them, {failed} of which could not be made")
    return 0


if __name__ == "__main__":
    raise SystemExit(_main())
