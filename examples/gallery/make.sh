#!/bin/sh
# Draws one picture of every kind from the Skerrow example into this folder. Usage: sh make.sh [GRAPH FOLDER]
# Without a folder the example is loaded into a new one first. SAGGAR names the command where it is not on the path;
# GALLERY_FOLDER and GALLERY_FORMAT (png, svg or pdf) say where to and how where it is not PNG here.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
saggar=${SAGGAR:-saggar}
to=${GALLERY_FOLDER:-$here}
format=${GALLERY_FORMAT:-png}
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
graph=$folder/graph
if [ -n "${1:-}" ]; then
  cp -r "$1" "$graph"
else
  SAGGAR=$saggar sh "$here/../skerrow/load.sh" "$graph" >/dev/null
fi
# The example knows no article made for one buyer's line alone; so that the grid shows that state too:
"$saggar" --graph "$graph" note shape:orlop comprises article:egg-cup --scope line:straits-ferry --source source:order-book-2 \
  --at page=90 --quote "egg cups for Straits Ferry, theirs alone" >/dev/null
draw() {
  name=$1
  shift
  "$saggar" --graph "$graph" draw "$@" --dpi 96 --output "$to/$name.$format" 2>/dev/null
}
draw trace trace line:northern --to-kind company --via '(built-on|commissioned-by|^sold-by)+'
draw weigh weigh 'shape:tern comprises article:tureen'
draw weigh-whole weigh 'piece:halyard-jug-unmarked made-by maker:skerrow' --whole
draw research-claim weigh 'line:northern commissioned-by company:northern-provident' --whole
draw dispute dispute 'shape:pinnace modelled-by person:maud-ennersley'
draw around around line:northern
draw around-people around person:maud-ennersley --only person --only shape --only maker
draw around-many around shape:fathom
draw around-web around maker:skerrow --depth 2 --only person --only shape --only line --only source
draw descent descent item:halyard-jug-2 item:halyard-muffin-dish
draw copying copying source:notice-pinnace-1939
draw runs runs
draw runs-pieces runs shape:tern shape:orlop --pieces
draw date date piece:halyard-jug-unmarked
draw date-shape date shape:pinnace
draw grid grid --column article:teapot --column article:tea-plate --column article:butter-dish --column article:muffin-dish \
  --column article:tureen --column article:cake-stand --column article:stacking-cup --column article:toast-rack \
  --column article:night-light --column article:egg-cup
draw grid-treatments grid --relation treated-with --columns 22
draw grid-glazes grid --relation glazed-in
