#!/bin/sh
# Installs what the tests need, builds everything, runs all tests. Usage: sh tests/run.sh [BUILD-FOLDER]
set -eu
top=$(cd "$(dirname "$0")/.." && pwd)
cd "$top"
build=${1:-build-tests}
sh examples/install.sh --tests
if [ ! -d tests/browser/node_modules ]; then (cd tests/browser && npm ci --ignore-scripts --no-audit --no-fund >/dev/null); fi
cmake -S . -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DSAGGAR_UNITY=ON >/dev/null
cmake --build "$build"
ctest --test-dir "$build" --output-on-failure -j2
