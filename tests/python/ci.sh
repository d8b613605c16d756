#!/usr/bin/env bash
# The checks by reference libraries, and whether the validation page is up to date. Called by `.ci/run` after the tests, which
# write their own rows. A fresh virtual environment under target/; needs the Python package index once.
set -euo pipefail
cd "$(dirname "$0")/../.."

environment=target/python-checks
rm -rf "$environment"
python3 -m venv "$environment"
if ! "$environment/bin/pip" install --quiet --disable-pip-version-check -r tests/python/requirements.txt; then
  echo "tests/python: the reference libraries could not be installed." >&2
  echo "They come from the Python package index (tests/python/requirements.txt): is there a network, or a mirror in pip's settings?" >&2
  exit 1
fi
"$environment/bin/python" tests/python/run.py target/validation/python.json
"$environment/bin/python" tests/python/page.py target/validation crates/cli/docs/validation.md --check
