#!/bin/sh
# Formatting, a second compiler and the linter, over every source file. In: nothing; from any folder. Out: what was run,
# what each found, and exit code 0 when all are content. Installs nothing; a missing tool fails.
set -u
cd "$(dirname "$0")/.." || exit 2

jobs=$(nproc 2>/dev/null || echo 2)
failed=0
libraries="yaml-cpp pangocairo pangoft2 fontconfig cairo cairo-pdf libqrencode libpng"
work=$(mktemp -d) || exit 2
trap 'rm -rf "$work"' EXIT INT TERM

need() {
  for name in "$@"; do
    if command -v "$name" >/dev/null 2>&1; then
      echo "$name"
      return 0
    fi
  done
  echo "lint: $1 is missing" >&2
  return 1
}

format=$(need clang-format-14 clang-format) || exit 2
compiler=$(need clang++-14 clang++) || exit 2
tidy=$(need clang-tidy-14 clang-tidy) || exit 2
need pkg-config >/dev/null || exit 2
# Headers of libraries are not ours to judge.
system=$(pkg-config --cflags $libraries | sed 's/-I/-isystem /g') || exit 2
flags="-std=c++20 -Iinclude -Itests $system -DTUNESHEAF_SOURCE_DIR=\"\" -DTUNESHEAF_BINARY_DIR=\"\""
warnings="-Wall -Wextra -Wpedantic -Wshadow -Wconversion -Werror"

find src include tests -name node_modules -prune -o \( -name '*.cpp' -o -name '*.h' \) -print | LC_ALL=C sort >"$work/all"
grep '\.cpp$' "$work/all" >"$work/units"
grep '^src/.*\.cpp$' "$work/all" >"$work/product"


run() {
  title=$1
  list=$2
  shift 2
  echo "== $title: $(wc -l <"$list") files"
  if ! xargs -P "$jobs" -I{} sh "$work/one.sh" "$@" {} <"$list"; then
    echo "== $title: FAILED"
    failed=1
  fi
}

cat >"$work/one.sh" <<END
tool=\$1
file=\$2
own=\$(echo "\$file" | sed -n 's,^\(src\|tests\)/\([^/]*\)/.*,-Isrc/\2,p')
case \$tool in
format) exec $format --dry-run -Werror "\$file" ;;
compile)
  # Tests may shadow and convert; the product may not.
  case \$file in
  src/*) strict="$warnings" ;;
  *) strict="-Wall -Wextra -Werror" ;;
  esac
  exec $compiler $flags \$own \$strict -fsyntax-only "\$file"
  ;;
tidy) $tidy --quiet "\$file" -- $flags \$own 2>"$work/tidy.\$\$" || { cat "$work/tidy.\$\$" >&2; exit 1; } ;;
esac
END

run "$format" "$work/all" format
run "$compiler -fsyntax-only" "$work/units" compile
run "$tidy" "$work/product" tidy

if [ "$failed" -ne 0 ]; then
  echo "lint: failed"
  exit 1
fi
echo "lint: all is well"
