#!/bin/sh
# Starts a graph and loads the whole Skerrow example into it. Usage: sh load.sh [FOLDER]
# SAGGAR names the command where it is not on the path.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
saggar=${SAGGAR:-saggar}
graph=${1:-skerrow-graph}
case $graph in /*) ;; *) graph=$PWD/$graph ;; esac
cd "$here"
"$saggar" --graph "$graph" start --author "Hester Quance"
"$saggar" --graph "$graph" load entities.csv sources.csv bibliography.json
"$saggar" --graph "$graph" load notes/*.md
"$saggar" --graph "$graph" load articles.csv items.csv treatments.csv claims.csv
"$saggar" --graph "$graph" load interview.vtt
"$saggar" --graph "$graph" load pieces.csv --map pieces.csv-metadata.json
"$saggar" --graph "$graph" load orders-1936-1944.csv --map orders-1936-1944.csv-metadata.json
"$saggar" --graph "$graph" load orders-1946-1961.csv --map orders-1946-1961.csv-metadata.json
"$saggar" --graph "$graph" load photographs/captions.csv --map photographs/captions.csv-metadata.json
"$saggar" --graph "$graph" load owners.csv
