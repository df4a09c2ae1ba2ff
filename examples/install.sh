#!/bin/sh
# Installs what saggar is built with (Debian 12). With --tests also what its tests use. Does nothing where all is there.
set -eu
base="g++ cmake ninja-build pkg-config ccache ca-certificates
librocksdb-dev libboost1.74-dev libgraphviz-dev librsvg2-dev libcairo2-dev nlohmann-json3-dev libfmt-dev libicu-dev libcli11-dev
libsodium-dev libcmark-gfm-dev libcmark-gfm-extensions-dev libserd-dev libbdd-dev libexif-dev libpugixml-dev
fonts-dejavu-core catch2 librapidcheck-dev"
tests="git libxml2-utils python3 python3-networkx python3-rdflib python3-pyld python3-jsonschema pandoc citation-style-language-styles tidy poppler-utils chromium libsqlite3-dev"
packages=$base
if [ "${1:-}" = --tests ]; then packages="$base $tests"; fi

missing=
for package in $packages; do
  dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q 'ok installed' || missing="$missing $package"
done
as_root=
if [ "$(id -u)" != 0 ]; then as_root=sudo; fi
if [ -n "$missing" ]; then
  $as_root apt-get update -qq
  # shellcheck disable=SC2086
  DEBIAN_FRONTEND=noninteractive $as_root apt-get install -y -qq --no-install-recommends $missing >/dev/null
fi
# Browser tests want node and npm; Debian's npm is large, so any that is there will do.
if [ "${1:-}" = --tests ] && ! command -v npm >/dev/null 2>&1; then
  DEBIAN_FRONTEND=noninteractive $as_root apt-get install -y -qq --no-install-recommends nodejs npm >/dev/null
fi
