# shellcheck shell=bash
# What ./tools/graftwright, ./tools/test and the other commands share: packages, configure, build.
# Sourced after `set -euo pipefail`. Everything it says goes to stderr, nothing reads stdin, and
# whatever goes wrong in it ends with exit code 3 (the machine is at fault).

# The one list of Debian packages. What building and running need …
build_packages=(g++ cmake ninja-build
    libeigen3-dev gemmi-dev nlohmann-json3-dev libvalijson-dev libcli11-dev libfmt-dev libbox2d-dev
    libsfml-dev libimgui-dev pkg-config libfreetype-dev libfontconfig-dev libgl-dev libx11-dev fonts-inter
    libsoci-dev libboost-dev libsqlite3-dev libpq-dev nettle-dev
    librsvg2-dev libcairo2-dev)
# … and what the tests need beside it.
test_packages=(catch2 librapidcheck-dev libbenchmark-dev python3
    xvfb xauth xdotool imagemagick
    postgresql
    chromium poppler-utils libxml2-utils python3-html5lib python3-pil)

# What only one of the releases has or calls otherwise stands here: Debian 13 lost CalculiX, and the one
# test that runs it says so and goes without.
os_release=${GRAFTWRIGHT_OS_RELEASE:-/etc/os-release}
debian=$(sed -n 's/^VERSION_ID="\?\([0-9]*\).*/\1/p' "$os_release" 2>/dev/null || true)
[[ $debian != 12 ]] || test_packages+=(calculix-ccx)

root=$(cd -- "$(dirname -- "$(readlink -f -- "${BASH_SOURCE[0]}")")/../.." && pwd -P)

say() { printf 'graftwright: %s\n' "$*" >&2; }
fail() {
    say "$@"
    exit 3
}

# find_missing PACKAGE…: sets `missing` to those that are not fully installed.
find_missing() {
    local package installed
    missing=()
    installed=$(dpkg-query -W -f='${db:Status-Status} ${Package}\n' "$@" 2>/dev/null || true)
    for package in "$@"; do
        [[ $'\n'$installed$'\n' == *$'\n'"installed $package"$'\n'* ]] || missing+=("$package")
    done
}

# install_packages PACKAGE…: installs what is missing, or exits 3 with the one line that would.
install_packages() {
    command -v dpkg-query >/dev/null || return 0 # not Debian: configuring will name what is missing
    local missing
    find_missing "$@"
    [[ ${#missing[@]} != 0 ]] || return 0

    local sudo=()
    [[ $(id -u) == 0 ]] || sudo=(sudo)
    local update='apt-get update' install="apt-get install -y --no-install-recommends ${missing[*]}"
    if [[ $(id -u) != 0 ]] && ! command -v sudo >/dev/null; then
        say "packages are missing and there is no sudo here. As root, run:"
        printf '%s\n' "$update && $install" >&2
        exit 3
    fi

    say "installing with apt, once: ${missing[*]}"
    local log=$root/build/install.log
    # One root shell, so that a password is asked for once. An earlier install that was cut short is
    # finished first; packages at hand install even when the update fails.
    # shellcheck disable=SC2016  # expanded by the inner shell
    if ! "${sudo[@]}" env DEBIAN_FRONTEND=noninteractive sh -c '
            options="-q -o Acquire::Retries=1 -o Acquire::http::Timeout=30 -o DPkg::Lock::Timeout=300"
            dpkg --configure -a
            apt-get $options update
            apt-get $options -o Dpkg::Use-Pty=0 install -y --no-install-recommends "$@"' \
        sh "${missing[@]}" >"$log" 2>&1 </dev/null 9>&-; then
        tail -n 12 -- "$log" >&2
        say "the packages could not be installed (no network? no right to sudo?). The line to run:"
        printf '%s\n' "${sudo[*]:+sudo }$update && ${sudo[*]:+sudo }$install" >&2
        exit 3
    fi
    find_missing "${missing[@]}"
    [[ ${#missing[@]} == 0 ]] || fail "apt did not install ${missing[*]}; its words are in $log"
}

# take_lock: one set-up at a time in this tree, until release_lock or the end.
take_lock() {
    if ! { mkdir -p -- "$root/build" && : >>"$root/build/.lock"; } 2>/dev/null; then
        fail "cannot write to $root/build (made by another user?)"
    fi
    exec 9>>"$root/build/.lock"
    command -v flock >/dev/null || return 0
    flock -n 9 && return 0
    say "another build is at work here; waiting for it"
    flock 9
}
release_lock() { exec 9>&-; }

# configure PRESET ON|OFF: only when there is something to configure. Tests once on stay on, so that
# the two commands can take turns in one build folder.
configure() {
    local preset=$1 tests=$2 folder=$root/build/$1
    local cache=$folder/CMakeCache.txt log=$root/build/configure-$1.log fresh=()
    if [[ -f $cache ]]; then
        # A tree that was moved or copied brings a cache that speaks of the old place.
        grep -qxF "CMAKE_HOME_DIRECTORY:INTERNAL=$root" "$cache" || fresh=(--fresh)
        if grep -qx 'GRAFTWRIGHT_TESTS:BOOL=ON' "$cache"; then
            tests=ON
        elif [[ $tests == ON ]]; then
            rm -f -- "$folder/build.ninja"
        fi
        # CMake watches its own files, but not the presets.
        [[ ! $root/CMakePresets.json -nt $folder/build.ninja ]] || rm -f -- "$folder/build.ninja"
    fi
    [[ ${#fresh[@]} == 0 && -f $folder/build.ninja ]] && return 0
    command -v cmake >/dev/null || fail "cmake is missing. Debian's names for all that is needed:" \
        "${build_packages[*]}$([[ $tests == OFF ]] || echo " ${test_packages[*]}")"
    # The tests' build holds the benchmarks too, so that they keep compiling.
    local options=(-DGRAFTWRIGHT_TESTS="$tests" -DGRAFTWRIGHT_BENCH="$tests")
    if ! cmake "${fresh[@]}" -S "$root" --preset "$preset" "${options[@]}" \
        >"$log" 2>&1 </dev/null 9>&-; then
        rm -f -- "$folder/build.ninja"
        # What an interrupted or older attempt left in the cache must not stand in the way.
        if ! cmake --fresh -S "$root" --preset "$preset" "${options[@]}" \
            >"$log" 2>&1 </dev/null 9>&-; then
            rm -f -- "$folder/build.ninja"
            cat -- "$log" >&2
            fail "configuring failed"
        fi
    fi
}

# build PRESET TARGET…: quiet when nothing changed; one line when something did; the compiler's own
# words when it fails.
build() {
    local preset=$1 folder=$root/build/$1
    shift
    local log=$root/build/build-$preset.log jobs
    jobs=$(nproc 2>/dev/null || echo 2)
    if ! ninja -C "$folder" -j "$jobs" "$@" </dev/null 9>&- 2>&1 | watch_ninja "$preset" "$log"; then
        grep -vE '^\[[0-9]+/[0-9]+\] (Building|Linking|Generating|Re-)' -- "$log" >&2 || true
        fail "building failed"
    fi
}

# watch_ninja PRESET LOG: keeps ninja's words in LOG; the first real step is announced, and a
# terminal sees the count.
watch_ninja() {
    local line told=''
    : >"$2"
    while IFS= read -r line; do
        printf '%s\n' "$line" >>"$2"
        [[ $line =~ ^\[[0-9]+/[0-9]+\]\ (Building|Linking) ]] || continue
        [[ -n $told ]] || say "building ($1; minutes the first time, seconds later)"
        told=yes
        [[ ! -t 2 ]] || printf '\r%.78s\e[K' "$line" >&2
    done
    [[ -z $told || ! -t 2 ]] || printf '\r\e[K' >&2
}

# prepare PRESET ON|OFF TARGET: the whole way, under the lock.
prepare() {
    local packages=("${build_packages[@]}")
    [[ $2 == OFF ]] || packages+=("${test_packages[@]}")
    # Whatever nobody thought of is the machine's fault too, and never the program's exit code.
    set -E
    trap 'fail "set-up stopped at line $LINENO of ${BASH_SOURCE[0]##*/}"' ERR
    take_lock
    install_packages "${packages[@]}"
    configure "$1" "$2"
    build "$1" "$3"
    release_lock
    trap - ERR
}
