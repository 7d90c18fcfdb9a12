#!/usr/bin/env bash
# Tests of the two commands, with dpkg, apt, sudo, cmake, ninja and ctest played by stand-ins in a
# scratch tree, so that the failures a newcomer can meet are met here first. Run as a ctest.
# shellcheck disable=SC2016  # conditions are written in single quotes and evaluated later
set -euo pipefail
here=$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")/.." && pwd -P)
scratch=$(mktemp -d)
trap 'rm -rf -- "$scratch"' EXIT
mkdir -p "$scratch/tree/tools/lib" "$scratch/bin" "$scratch/else where"
cp "$here/graftwright" "$here/test" "$scratch/tree/tools/"
cp "$here/lib/setup.sh" "$scratch/tree/tools/lib/"

# Only these real programs are in reach; everything else is a stand-in.
for program in bash sh env readlink dirname grep cat tail mkdir rm flock sleep tee sed; do
    ln -s "$(command -v "$program")" "$scratch/bin/$program"
done
stand_in() { # stand_in NAME, its text on stdin
    { echo '#!/usr/bin/env bash' && cat; } >"$scratch/bin/$1"
    chmod +x "$scratch/bin/$1"
}

wrong=0
# run COMMAND ARGUMENT…: in another folder; leaves status, out and err.
run() {
    status=0
    (cd "$scratch/else where" && PATH=$scratch/bin "$scratch/tree/tools/$1" "${@:2}") \
        >"$scratch/out" 2>"$scratch/err" <<<"from stdin" || status=$?
    out=$(cat "$scratch/out")
    err=$(cat "$scratch/err")
}
expect() { # expect SENTENCE CONDITION…
    if "${@:2}"; then
        echo "ok: $1"
    else
        printf 'NOT: %s\n  status %s\n  stdout: %s\n  stderr: %s\n' "$1" "$status" "$out" "$err"
        wrong=$((wrong + 1))
    fi
}
has() { [[ $1 == *"$2"* ]]; }
apt_lines() { [[ $(grep -c 'apt-get install' <<<"$err") == 1 && $out == '' ]] && has "$err" "$1"; }

stand_in dpkg-query <<<'printf "installed %s\n" g++ cmake ninja-build libeigen3-dev gemmi-dev libfmt-dev; exit 1'
stand_in id <<<'echo 1000'
stand_in nproc <<<'echo 2'
run graftwright score
expect "without root and sudo: exit 3" [ "$status" = 3 ]
expect "without root and sudo: one line for apt, with what is missing and no more" apt_lines \
    $'\napt-get update && apt-get install -y --no-install-recommends nlohmann-json3-dev libvalijson-dev libcli11-dev'
run test
expect "the tests ask for their own packages too" has "$err" "libcairo2-dev catch2 librapidcheck-dev"

# One list of packages for both releases, but for what one of them lost.
os_is() { printf 'ID=debian\nVERSION_ID="%s"\n' "$1" >"$scratch/os-release"; }
export GRAFTWRIGHT_OS_RELEASE=$scratch/os-release
os_is 12
run test
expect "on Debian 12 the tests ask for CalculiX" has "$err" " calculix-ccx"
os_is 13
run test
expect "on Debian 13, which has none, they do not" eval 'has "$err" " catch2 " && ! has "$err" calculix'

stand_in sudo <<<'exec "$@"'
stand_in dpkg <<<'exit 0'
stand_in apt-get <<<'echo "Temporary failure resolving deb.debian.org"; [[ $* == *update* ]]'
run graftwright score
expect "without network: exit 3" [ "$status" = 3 ]
expect "without network: the line for apt, with sudo" apt_lines \
    $'\nsudo apt-get update && sudo apt-get install -y --no-install-recommends nlohmann-json3-dev'
expect "without network: apt's own words" has "$err" "Temporary failure resolving"
stand_in sudo <<<'echo "sudo: a password is required"; exit 1'
run graftwright score
expect "sudo refuses: exit 3 and its words" eval '[ "$status" = 3 ] && has "$err" "a password is required"'
stand_in id <<<'echo 0'
run graftwright score
expect "root without network: the line for apt, without sudo" apt_lines $'\napt-get update && apt-get install'

# apt succeeds, and from here on everything is installed.
cat >"$scratch/installing" <<'E2'
echo "Setting up things"
[[ $* != *update* ]] || exit 0
[[ $* == *" install -y --no-install-recommends nlohmann-json3-dev"* ]] || exit 1
printf '#!/usr/bin/env bash\nfor p; do [[ $p == -* ]] || echo "installed $p"; done\n' >"${0%/*}/dpkg-query"
E2
stand_in apt-get <"$scratch/installing"
stand_in cmake <<<'echo "CMake Error: no such compiler"; exit 1'
run graftwright score
expect "installing is said once, on stderr" eval '[ "$(grep -c "installing with apt" <<<"$err")" = 1 ] && [ -z "$out" ]'
expect "configuring fails: exit 3 and its words" eval '[ "$status" = 3 ] && has "$err" "no such compiler"'

stand_in cmake <<'E2'
while [[ $1 != -S ]]; do shift; done
mkdir -p "$2/build/$4"
echo "CMAKE_HOME_DIRECTORY:INTERNAL=$2" >"$2/build/$4/CMakeCache.txt"
[[ $* != *TESTS=ON* ]] || echo "GRAFTWRIGHT_TESTS:BOOL=ON" >>"$2/build/$4/CMakeCache.txt"
echo "$@" >"$2/build/$4/build.ninja"
E2
stand_in ninja <<<'echo "[1/2] Building CXX object x.o"; echo "x.cpp:1: error: a slip"; exit 1'
run graftwright score
expect "building fails: exit 3 and the compiler's words, on stderr only" eval \
    '[ "$status" = 3 ] && has "$err" "x.cpp:1: error: a slip" && [ -z "$out" ]'

stand_in ninja <<'E2'
mkdir -p "$2/bin"
[[ -x $2/bin/graftwright ]] && { echo "ninja: no work to do."; exit 0; }
echo "[1/2] Building CXX object x.o"
printf '#!/usr/bin/env bash\npwd; printf "<%%s>\\n" "$@"; cat; [ ! -e /proc/self/fd/9 ] || echo lock; exit 7\n' >"$2/bin/graftwright"
[ -x "$2/bin/graftwright" ] || PATH=/bin:/usr/bin chmod +x "$2/bin/graftwright"
E2
run graftwright score "an attempt.json" ''
expect "the program's exit code, output, input, arguments and folder are its own" eval \
    '[ "$status" = 7 ] && [ "$out" = "$scratch/else where"$'"'\n<score>\n<an attempt.json>\n<>\nfrom stdin'"' ]'
run graftwright
expect "a second run says nothing" eval '[ "$status" = 7 ] && [ -z "$err" ]'

echo "CMAKE_HOME_DIRECTORY:INTERNAL=/elsewhere" >"$scratch/tree/build/release/CMakeCache.txt"
run graftwright
expect "a tree that was moved is configured afresh" grep -qxF "CMAKE_HOME_DIRECTORY:INTERNAL=$scratch/tree" \
    "$scratch/tree/build/release/CMakeCache.txt"
stand_in ctest <<<'echo "80% tests passed, 2 tests failed out of 10"; exit 8'
run test
expect "the tests' last line counts them" eval '[ "$(tail -n 1 <<<"$out")" = "8 passed, 2 failed" ] && [ "$status" = 1 ]'
expect "tests once wanted are configured in" grep -qx 'GRAFTWRIGHT_TESTS:BOOL=ON' \
    "$scratch/tree/build/release/CMakeCache.txt"
stand_in ctest <<<'echo "No tests were found!!!"; exit 8'
run test
expect "no tests at all is no success" [ "$status" != 0 ]

flock "$scratch/tree/build/.lock" sleep 1 &
sleep 0.3
run graftwright
expect "two builds at once: the second waits and says so" has "$err" "waiting"
wait

[[ $wrong == 0 ]] || echo "$wrong of the set-up's promises are broken"
[[ $wrong == 0 ]]
