#!/bin/sh
# Installs what is missing, builds, and runs every test. Exits 0 only when all passed.
set -eu
root_dir=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
. "$root_dir/tests/support/setup.sh"
install_missing $build_packages $test_packages
command -v npm >/dev/null 2>&1 || install_missing nodejs npm
build_dir=${TUNESHEAF_BUILD_DIR:-"$root_dir/build/tests"}
build_in "$build_dir"
export TUNESHEAF_BUILD_DIR="$build_dir"
sh "$root_dir/tests/outside.sh"
sh "$root_dir/tests/install.sh" "$build_dir"
ctest --test-dir "$build_dir" --output-on-failure --no-tests=error -j "$(nproc)"
