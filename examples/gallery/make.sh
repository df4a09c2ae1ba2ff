#!/bin/sh
# Draws one picture of every kind from the Skerrow example into this folder. Usage: sh make.sh [GRAPH FOLDER]
# Without a folder the example is loaded into a new one first. SAGGAR names the command where it is not on the path.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
saggar=${SAGGAR:-saggar}
graph=${1:-}
if [ -z "$graph" ]; then
  folder=$(mktemp -d)
  trap 'rm -rf "$folder"' EXIT
  graph=$folder/graph
  SAGGAR=$saggar sh "$here/../skerrow/load.sh" "$graph" >/dev/null
fi
draw() {
  name=$1
  shift
  "$saggar" --graph "$graph" draw "$@" --dpi 96 --output "$here/$name.png" 2>/dev/null
}
draw trace trace line:northern --to-kind company --via '(built-on|commissioned-by|^sold-by)+'
draw weigh weigh 'shape:tern comprises article:tureen'
draw weigh-whole weigh 'piece:halyard-jug-unmarked made-by maker:skerrow' --whole
draw dispute dispute 'shape:pinnace modelled-by person:maud-ennersley'
draw around around line:northern
draw around-people around person:maud-ennersley --only person --only shape --only maker
draw descent descent item:halyard-jug-2 item:halyard-muffin-dish
draw copying copying source:notice-pinnace-1939
draw runs runs
draw runs-pieces runs shape:tern shape:orlop --pieces
draw date date piece:halyard-jug-unmarked
draw date-shape date shape:pinnace
draw grid grid shape:fathom shape:lantern shape:pinnace shape:halyard shape:orlop shape:tern --columns 11
draw grid-glazes grid --relation glazed-in
draw around-many around shape:fathom
