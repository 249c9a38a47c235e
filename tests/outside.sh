#!/bin/sh
# Checks of our theory against references outside the project: an open set of chord fingerings and a theory library.
# Both are npm packages, pinned in tests/outside/package.json and used here alone. Usage: tests/outside.sh BUILD_FOLDER
set -eu
here=$(cd "$(dirname "$0")" && pwd)
build=${1:-${TUNESHEAF_BUILD_DIR:-$here/../build/tests}}
status=0

cannot() {
  echo "outside: this check could not run: $1"
  # Where the network or a tool is missing a player can still build and test; continuous integration must run it.
  if [ -n "${CI:-}" ]; then status=1; else echo "outside: set CI=1 to make this an error"; fi
}

for program in outside_chords_db outside_library; do
  if [ ! -x "$build/tests/outside/$program" ]; then
    echo "outside: $build/tests/outside/$program is missing; build the project first"
    exit 1
  fi
done
if ! command -v node >/dev/null 2>&1 || ! command -v npm >/dev/null 2>&1; then
  cannot "node and npm are needed"
  exit "$status"
fi
cd "$here/outside"
if [ ! -d node_modules/@tombatossals/chords-db ] || [ ! -d node_modules/@tonaljs/chord ]; then
  if ! npm install --no-audit --no-fund --no-package-lock --loglevel=error; then
    cannot "the packages of tests/outside/package.json could not be installed"
    exit "$status"
  fi
fi
facts="$here/facts"
echo "outside: chord fingerings (chords-db)"
"$build/tests/outside/outside_chords_db" node_modules/@tombatossals/chords-db/lib "$facts" || status=1
echo "outside: theory library"
node dump.mjs "$build/tests/outside/library.json"
"$build/tests/outside/outside_library" "$build/tests/outside/library.json" "$facts" || status=1
exit "$status"
