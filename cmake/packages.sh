#!/bin/sh
# Installs what ohmleaf needs on Debian 12, asking nothing: `packages.sh build` to build and run
# it, `packages.sh test` for the tests as well, `packages.sh long` for tests/long too. As root, or through sudo.
set -eu

build="g++ cmake ninja-build libhpdf-dev libtomlplusplus-dev libfmt-dev libcli11-dev
  nlohmann-json3-dev libssl-dev nettle-dev libsqlite3-dev libutf8proc-dev libdeflate-dev libpng-dev
  libjpeg-dev libqpdf-dev libzip-dev pkg-config"
test="doctest-dev python3-jsonschema mandoc man-db zsh fish tmux poppler-utils qpdf mupdf-tools openssl
  strace binutils jq xz-utils git file dpkg-dev clang-tidy clang-14 libclang-rt-14-dev ccache python3
  libexpat1-dev libcsv-dev golang-github-burntsushi-toml-dev"

long="valgrind debootstrap e2fsprogs mount curl lintian librsvg2-bin"

case "${1:-}" in
  build) wanted="$build" ;;
  test) wanted="$build $test" ;;
  long) wanted="$build $test $long" ;;
  *) echo "packages.sh: say build, test or long" >&2; exit 2 ;;
esac

missing=""
for package in $wanted; do
  state=$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null || true)
  [ "$state" = installed ] || missing="$missing $package"
done
[ -n "$missing" ] || exit 0

if [ "$(id -u)" -eq 0 ]; then as_root=""; else as_root="sudo"; fi
export DEBIAN_FRONTEND=noninteractive
$as_root apt-get -q update
# shellcheck disable=SC2086
$as_root env DEBIAN_FRONTEND=noninteractive apt-get -q -y --no-install-recommends install $missing
