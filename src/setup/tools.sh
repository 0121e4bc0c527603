# Sourced by src/setup/try and tests/run: says what happens, and gets the tools a build needs.
# SPDX-License-Identifier: BSD-3-Clause

say() { printf '\n== %s\n' "$*"; }

# Debian's names of what the program needs; the table in README.md says the same in words.
program_packages=(g++ cmake ninja-build libeigen3-dev libboost-dev nlohmann-json3-dev libpugixml-dev zlib1g-dev libcli11-dev)
test_packages=(libgtest-dev libbenchmark-dev ccache clang clang-format python3 python3-venv python3-dev graphviz locales ca-certificates)

# install_packages WHY PACKAGE...: through apt where there is apt, otherwise names them and gives up.
install_packages() {
  local why=$1
  shift
  if ! command -v apt-get >/dev/null; then
    printf '%s\nNo apt here. Install what your system calls these Debian packages, then run this again:\n  %s\n' \
      "$why" "$*" >&2
    return 1
  fi
  local as_root=()
  if [ "$(id -u)" != 0 ]; then
    if ! command -v sudo >/dev/null; then
      printf '%s\nThis needs root, and there is no sudo. As root, run this, then try again:\n  apt-get install %s\n' \
        "$why" "$*" >&2
      return 1
    fi
    as_root=(sudo)
  fi
  say "$why: installing $*"
  "${as_root[@]}" apt-get update -qq
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "$@" >/dev/null
}

# configure PRESET PACKAGE...: configures; if that fails for want of something, installs the packages and tries again.
configure() {
  local preset=$1 log
  shift
  log=$(mktemp)
  if command -v cmake >/dev/null && cmake --preset "$preset" >"$log" 2>&1; then
    rm -f "$log"
    return 0
  fi
  rm -f "$log"
  install_packages "The build needs a compiler and some libraries" "$@"
  cmake --preset "$preset" --fresh
}
