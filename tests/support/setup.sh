# Sourced by the scripts that set everything up. Installs what is missing from Debian's packages and builds.
# Needs: root_dir (the checkout). Gives: install_missing PACKAGE…, build_in FOLDER [cmake options].

build_packages="g++ cmake ninja-build pkg-config libcairo2-dev libpango1.0-dev libyaml-cpp-dev nlohmann-json3-dev
  libqrencode-dev libpng-dev zlib1g-dev libhyphen-dev hyphen-en-us hyphen-de fonts-sil-gentiumplus fonts-lato fonts-noto-core"
test_packages="make libgtest-dev python3 python3-jsonschema python3-yaml qpdf poppler-utils mupdf-tools libxml2-utils zbar-tools groff dpkg-dev"

install_missing() {
  missing=""
  for package in "$@"; do
    dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q 'ok installed' || missing="$missing $package"
  done
  [ -z "$missing" ] && return 0
  echo "installing:$missing"
  as_root=""
  if [ "$(id -u)" -ne 0 ]; then as_root="sudo"; fi
  $as_root env DEBIAN_FRONTEND=noninteractive apt-get update -qq &&
    $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing >/dev/null
}

build_in() {
  folder=$1
  shift
  cmake -S "$root_dir" -B "$folder" -G Ninja -DCMAKE_BUILD_TYPE=Release -DTUNESHEAF_AT_ONCE=ON "$@" >/dev/null && cmake --build "$folder"
}
