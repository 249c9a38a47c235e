#!/bin/sh
# The long proof: 5,000 generated songs judged as handouts, 3,000 as charts and as practice sheets, and 20,000 spoilt ones
# read. Writes what it found to tests/long-result.txt and exits 0 only when nothing failed. Takes about ten minutes on
# two cores. Usage: tests/long.sh [SONGS [SPOILT [SHEETS]]]
set -eu
root_dir=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
. "$root_dir/tests/support/setup.sh"
songs=${1:-5000}
spoilt=${2:-20000}
sheets=${3:-3000}
install_missing $build_packages $test_packages
build_dir=${TUNESHEAF_BUILD_DIR:-"$root_dir/build/tests"}
build_in "$build_dir"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

cores=$(nproc)
share=$((songs / cores))
spoilt_share=$((spoilt / cores))
sheets_share=$((sheets / cores))
failed=0
core=0
while [ "$core" -lt "$cores" ]; do
  (
    code=0
    "$build_dir/tests/generated/try_songs" $((core * share)) "$share" >"$work/songs.$core" 2>&1 || code=1
    for sheet in chart practice; do
      "$build_dir/tests/generated/try_songs" $((core * sheets_share)) "$sheets_share" --sheet $sheet \
        >"$work/$sheet.$core" 2>&1 || code=1
    done
    "$build_dir/tests/generated/spoil_songs" $((core * spoilt_share)) "$spoilt_share" "$root_dir/songs-demo" \
      >"$work/spoilt.$core" 2>&1 || code=1
    echo $code >"$work/code.$core"
  ) &
  core=$((core + 1))
done
wait
core=0
while [ "$core" -lt "$cores" ]; do
  [ "$(cat "$work/code.$core")" = 0 ] || failed=1
  core=$((core + 1))
done

{
  echo "date: $(date -u +%Y-%m-%d)"
  echo "machine: $cores cores, $(uname -m)"
  echo "state: $(git -C "$root_dir" rev-parse --short HEAD 2>/dev/null || echo unknown)"
  echo "songs judged (check, Timeline, tidy, layout, audit, dump; all styles, two papers):"
  cat "$work"/songs.* | sed 's/^/  /'
  echo "songs as charts (one page or refused with a remedy, audit; all styles, two papers, names and players spread):"
  cat "$work"/chart.* | sed 's/^/  /'
  echo "songs as practice sheets (each section's bars and notes, audit; all styles, two papers):"
  cat "$work"/practice.* | sed 's/^/  /'
  echo "songs spoilt:"
  cat "$work"/spoilt.* | sed 's/^/  /'
} >"$root_dir/tests/long-result.txt"
cat "$root_dir/tests/long-result.txt"
exit $failed
