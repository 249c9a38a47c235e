#!/bin/sh
# Installs a finished build into a folder of its own and uses it as a stranger would: the program and its styles, the
# manual page, the completions, find_package(tunesheaf), the Debian package. The build's folder is the argument.
set -eu
root_dir=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
build_dir=${1:-${TUNESHEAF_BUILD_DIR:-"$root_dir/build/tests"}}
build_dir=$(CDPATH= cd -- "$build_dir" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
fail() {
  echo "install: $*" >&2
  exit 1
}

cmake --install "$build_dir" --prefix "$work/usr" >"$work/install.log"
song="$root_dir/songs-demo/biscuit-weather.yaml"
program="$work/usr/bin/tunesheaf"
(cd "$work" && "$program" check "$song" >said.log && "$program" handout "$song" --style large -o sheet.pdf 2>>said.log) ||
  fail "the installed program: $(tail -20 "$work/said.log")"
head -c 5 "$work/sheet.pdf" | grep -q '%PDF-' || fail "no sheet from the installed program"

page="$work/usr/share/man/man1/tunesheaf.1"
groff -ww -man -Tutf8 "$page" 2>"$work/man.err" >"$work/man.txt"
[ ! -s "$work/man.err" ] || fail "the manual page: $(cat "$work/man.err")"
grep -q 'handout' "$work/man.txt" || fail "the manual page lacks a command"

bash -c '. "$1"; COMP_WORDS=(tunesheaf hando); COMP_CWORD=1; _tunesheaf; [ "${COMPREPLY[*]}" = handout ]' bash \
  "$work/usr/share/bash-completion/completions/tunesheaf" || fail "bash does not complete"
! command -v zsh >/dev/null || zsh -n "$work/usr/share/zsh/site-functions/_tunesheaf" || fail "zsh cannot read its completion"
! command -v fish >/dev/null || fish -n "$work/usr/share/fish/vendor_completions.d/tunesheaf.fish" || fail "fish cannot read its completion"

cmake -S "$root_dir/tests/install" -B "$work/example" -DCMAKE_PREFIX_PATH="$work/usr" -DCMAKE_BUILD_TYPE=Debug >"$work/example.log"
cmake --build "$work/example" >>"$work/example.log" || fail "the example does not build: $(tail -20 "$work/example.log")"
"$work/example/bars_of_a_song" "$song" 2>/dev/null | grep -q 'Biscuit Weather: [1-9]' || fail "the example does not run"

(cd "$work" && cpack --config "$build_dir/CPackConfig.cmake" -G DEB -B "$work/deb" >"$work/cpack.log") ||
  fail "no Debian package: $(tail -20 "$work/cpack.log")"
deb=$(ls "$work"/deb/*.deb)
dpkg-deb --field "$deb" Depends | grep -q 'fonts-lato' || fail "the package does not ask for its fonts"
dpkg-deb --field "$deb" Depends | grep -q 'libcairo2' || fail "the package does not ask for its libraries"
dpkg-deb --extract "$deb" "$work/unpacked"
(cd "$work" && "$work/unpacked/usr/bin/tunesheaf" handout "$song" --style ink -o deb.pdf 2>said.log) ||
  fail "the package's program: $(tail -20 "$work/said.log")"
head -c 5 "$work/deb.pdf" | grep -q '%PDF-' || fail "no sheet from the package's program"
echo "install: the program, its manual page and completions, the libraries and the Debian package work"
