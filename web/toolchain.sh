# To be sourced: what builds for a browser, serves and tests. Sets `cargo_web` (an array), `RUSTC` and the like, and gives functions.
# Where the tools cannot be had, `no_toolchain` is called with the reason; whoever sources this defines it.

triple=wasm32-unknown-unknown
root="$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)"
target="${CARGO_TARGET_DIR:-$root/target}"

# Installs Debian's packages that are missing, where this is Debian and one may.
debian_has() {
    command -v dpkg-query >/dev/null || return 1
    local missing=() package as_root=()
    for package in "$@"; do
        dpkg-query -W -f '${Status}' "$package" 2>/dev/null | grep -q 'ok installed' || missing+=("$package")
    done
    ((${#missing[@]})) || return 0
    [[ $(id -u) == 0 ]] || as_root=(sudo -n)
    "${as_root[@]}" apt-get update -qq &&
        "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive \
            apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null
}

# A cargo that builds for a browser: the toolchain's own, or Debian's with the standard library built from its sources.
find_toolchain() {
    if [[ -d "$(rustc --print sysroot)/lib/rustlib/$triple/lib" ]]; then
        cargo_web=(cargo)
        build_std=()
        return
    fi
    debian_has rustc-web cargo-web rust-web-src lld-19 ||
        no_toolchain "there is no standard library for $triple (rustup target add $triple, or Debian's rustc-web, cargo-web, rust-web-src and lld-19)."
    local linker
    linker="$(compgen -c wasm-ld- | sort -rV | head -n 1)"
    export RUSTC=/usr/bin/rustc RUSTDOC=/usr/bin/rustdoc RUSTC_BOOTSTRAP=1
    export CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER="$linker"
    cargo_web=(/usr/bin/cargo)
    build_std=(-Zbuild-std=std,panic_abort)
}

# The program of that name out of wasm-bindgen-cli, of the very version that the lock file has.
bindgen() {
    local name="$1" version found
    version="$(grep -A 1 '^name = "wasm-bindgen"$' "$root/Cargo.lock" | sed -n 's/^version = "\(.*\)"$/\1/p')"
    for found in "$(command -v "$name" || true)" "$target/wasm-bindgen/bin/$name"; do
        [[ -n $found && "$("$found" --version 2>/dev/null)" == "$name $version" ]] && {
            echo "$found"
            return
        }
    done
    # Unlocked, since its own lock file may name versions that an index does not have.
    env -u RUSTC -u RUSTDOC -u RUSTC_BOOTSTRAP cargo install --quiet --debug --force --root "$target/wasm-bindgen" \
        --target-dir "$target/wasm-bindgen/target" --version "$version" wasm-bindgen-cli >&2 || return 1
    echo "$target/wasm-bindgen/bin/$name"
}

# A Python environment of its own with what the first of these files asks for; made anew when any of them changes.
python_environment() {
    local venv="$1" wanted
    shift
    command -v python3 >/dev/null || {
        echo "Python 3.10 or later is wanted; python3 is missing." >&2
        return 1
    }
    wanted="$(cat "$@"; python3 --version)"
    [[ "$(cat "$venv/wanted" 2>/dev/null)" != "$wanted" ]] || return 0
    rm -rf "$venv"
    python3 -m venv "$venv" || {
        echo "Python can make no environment; on Debian the package python3-venv is missing." >&2
        return 1
    }
    "$venv/bin/pip" install --quiet --disable-pip-version-check -r "$1"
    printf '%s' "$wanted" >"$venv/wanted"
}
