# Sourced by src/run and tests/run: installs what is missing, and builds.
# On Debian 12 and its kin the packages are installed with apt-get; elsewhere they are named.

build_packages="gcc libc6-dev meson ninja-build pkg-config gettext libgtk-4-dev libjson-glib-dev \
libgsl-dev libarchive-dev libglpk-dev libical-dev"
test_packages="xvfb xauth dbus at-spi2-core admesh assimp-utils units bodr netgen-doc gmsh-doc \
python3 python3-jsonschema libxml2-utils desktop-file-utils poppler-utils"

as_root() {
    if [ "$(id -u)" = 0 ]; then
        "$@"
    elif command -v sudo >/dev/null 2>&1; then
        sudo "$@"
    else
        echo "Cannot install packages: not root, and there is no sudo." >&2
        return 1
    fi
}

# install_missing PACKAGE...: installs those that are not there.
install_missing() {
    if ! command -v dpkg-query >/dev/null 2>&1 || ! command -v apt-get >/dev/null 2>&1; then
        echo "This is not Debian: if the build fails, install what these Debian packages hold:" >&2
        echo "  $*" >&2
        return 0
    fi
    missing=""
    for package in "$@"; do
        state=$(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null || true)
        [ "$state" = installed ] || missing="$missing $package"
    done
    [ -n "$missing" ] || return 0
    echo "Installing:$missing" >&2
    as_root apt-get update -q >&2
    # shellcheck disable=SC2086
    as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends \
        $missing >&2
}

# build_in FOLDER [MESON OPTION...]: sets the folder up if need be and builds.
build_in() {
    folder=$1
    shift
    if [ ! -f "$folder/build.ninja" ]; then
        meson setup "$folder" "$@" >&2
    fi
    ninja -C "$folder" >&2
}
