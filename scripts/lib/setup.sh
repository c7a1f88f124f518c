# shellcheck shell=bash
# Sets up what the scripts need. Source it from a bash script, then call set_up: afterwards ROOT is
# the repository and VENV its Python environment. A second call does nothing and takes a moment.
# Exit code 2: something is missing that only a person can install.

ROOT=$(CDPATH='' cd -- "$(dirname -- "${BASH_SOURCE[0]}")/../.." && pwd -P)
VENV="$ROOT/.venv"
STAMP="$VENV/tanksheet.stamp"
EXTRAS=cluster,excel,test,check
# Spreadsheet engines, the PDF renderer, and the fonts without which pages come out blank or ragged.
DEBIAN_PACKAGES=(
    libreoffice-calc python3-uno gnumeric poppler-utils fonts-dejavu-core fonts-liberation
)
PROGRAMS=(soffice ssconvert pdftoppm)

set_up() {
    find_missing
    if ((${#MISSING[@]})); then
        install_debian_packages
        find_missing
    fi
    venv_is_current && return
    [[ -n $PYTHON ]] || stop "Tanksheet needs Python 3.11 or newer. Install it and run this again."
    make_venv
}

say() { printf '%s\n' "$*" >&2; }

stop() {
    say "$@"
    exit 2
}

# Fills MISSING (Debian packages) and PYTHON (empty where the environment is ready or none is found).
find_missing() {
    MISSING=() PYTHON=
    if command -v dpkg-query >/dev/null; then
        find_missing_packages
    else
        require_programs
    fi
    venv_is_current || find_python
}

find_missing_packages() {
    local installed package
    # dpkg-query fails as soon as one package is unknown, and still lists the others.
    installed=$(dpkg-query -W -f '|${db:Status-Status} ${Package}|' "${DEBIAN_PACKAGES[@]}" \
        2>/dev/null) || true
    for package in "${DEBIAN_PACKAGES[@]}"; do
        [[ $installed == *"|installed $package|"* ]] || MISSING+=("$package")
    done
}

require_programs() {
    local program
    for program in "${PROGRAMS[@]}"; do
        command -v "$program" >/dev/null ||
            stop "$program was not found. Install LibreOffice Calc with its Python module uno," \
                "Gnumeric and Poppler's tools with your system's package manager, and run this again."
    done
}

find_python() {
    local name
    for name in python3 python3.13 python3.12 python3.11; do
        if is_new_enough "$name"; then
            PYTHON=$(command -v "$name")
            require_ensurepip
            return
        fi
    done
    # Debian's python3 is new enough, but a bare image has none.
    command -v python3 >/dev/null &&
        stop "Tanksheet needs Python 3.11 or newer; here is $(python3 --version 2>&1)." \
            "Install a newer one beside it (python3.11, say) and run this again."
    MISSING+=(python3 python3-venv)
}

is_new_enough() {
    command -v "$1" >/dev/null &&
        "$1" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null
}

# Debian keeps the part of Python that makes environments in a package of its own.
require_ensurepip() {
    "$PYTHON" -c 'import ensurepip' 2>/dev/null ||
        MISSING+=("python$("$PYTHON" -c 'import sys; print("%d.%d" % sys.version_info[:2])')-venv")
}

install_debian_packages() {
    local as_root=()
    local command="apt-get update && apt-get install --no-install-recommends ${MISSING[*]}"
    command -v apt-get >/dev/null || stop "Install these and run this again: ${MISSING[*]}"
    if ((EUID != 0)); then
        may_sudo || stop "Packages are missing. Run this as root, then try again:"$'\n'"$command"
        as_root=(sudo)
    fi
    say "Installing Debian packages (this can take some minutes): ${MISSING[*]}"
    # One unreachable source must not stop the set-up: the packages may come from the others.
    quietly "${as_root[@]}" apt-get -q update || say "Going on with the package lists at hand."
    quietly "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -q -y \
        -o DPkg::Lock::Timeout=300 install --no-install-recommends "${MISSING[@]}" ||
        stop "These packages could not be installed: ${MISSING[*]}"
}

# Whether sudo can be used: it may ask a person for a password, but there must be a person.
may_sudo() {
    command -v sudo >/dev/null && { sudo -n true 2>/dev/null || [[ -t 0 ]]; }
}

# Runs a command; shows what it printed only if it fails.
quietly() {
    local printed
    printed=$("$@" 2>&1 </dev/null) || {
        say "$printed"
        return 1
    }
}

venv_is_current() {
    [[ -f $STAMP && -x $VENV/bin/python && $(<"$STAMP") == "$(fingerprint)" ]]
}

# Changes when the wanted packages, the Python or the place of the repository change.
fingerprint() {
    "$VENV/bin/python" -I -S -c '
import hashlib, pathlib, sys
files = b"".join(pathlib.Path(name).read_bytes() for name in sys.argv[2:])
print(hashlib.sha256(files + sys.version.encode() + sys.argv[1].encode()).hexdigest())
' "$EXTRAS $ROOT" "$ROOT/pyproject.toml" "$ROOT/constraints.txt" "$ROOT/scripts/lib/setup.sh"
}

make_venv() {
    say "Installing Python packages into $VENV (versions and hashes: constraints.txt)"
    "$PYTHON" -m venv --clear "$VENV"
    pip_install --require-hashes --no-deps --requirement "$ROOT/constraints.txt"
    # Nothing more may come from outside: what the project names is there by now, or this fails.
    pip_install --no-index --no-build-isolation --editable "${ROOT}[$EXTRAS]" ||
        stop "If pyproject.toml names a package that constraints.txt has not: run scripts/pin there."
    prove_engines
    fingerprint >"$STAMP"
}

pip_install() {
    "$VENV/bin/python" -m pip --quiet --disable-pip-version-check --no-input install "$@"
}

# An engine that does not start would make its tests fail one by one; say it here, once.
prove_engines() {
    local engine
    for engine in ironcalc formualizer formulas; do
        quietly "$VENV/bin/python" -c "import $engine" || stop "$engine does not load; see above."
    done
    quietly soffice --headless --version || stop "LibreOffice (soffice) does not start; see above."
    quietly ssconvert --version || stop "Gnumeric (ssconvert) does not start; see above."
}
