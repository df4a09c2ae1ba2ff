#!/bin/sh
# From nothing to the first answer: installs, builds, loads the Skerrow example, asks who ordered the "Northern" line.
set -eu
top=$(cd "$(dirname "$0")/.." && pwd)
cd "$top"
sh examples/install.sh
cmake -S . -B build -G Ninja -DCMAKE_BUILD_TYPE=Release -DSAGGAR_UNITY=ON -DSAGGAR_TESTS=OFF >/dev/null
cmake --build build --target saggar
PATH=$top/build/bin:$PATH
out=${1:-$top/build/skerrow}
rm -rf "$out"
mkdir -p "$out"
sh examples/skerrow/load.sh "$out/graph"
echo
saggar --graph "$out/graph" trace line:northern --to-kind company --via '(built-on|commissioned-by|^sold-by)+'
saggar --graph "$out/graph" draw trace line:northern --to-kind company --via '(built-on|commissioned-by|^sold-by)+' --output "$out/northern.svg"
echo "the diagram: $out/northern.svg"
