#!/bin/sh
# Installs what is missing, builds, and prints every demo song into songs-demo/printed/.
set -eu
root_dir=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
. "$root_dir/tests/support/setup.sh"
install_missing $build_packages
build_in "$root_dir/build/print" -DTUNESHEAF_TESTS=OFF
mkdir -p "$root_dir/songs-demo/printed"
for song in "$root_dir"/songs-demo/*.yaml; do
  name=$(basename "$song" .yaml)
  "$root_dir/build/print/tunesheaf" handout "$song" -o "$root_dir/songs-demo/printed/$name-handout.pdf"
  echo "songs-demo/printed/$name-handout.pdf"
done
