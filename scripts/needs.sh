# Sourced by ./run, ./test and .ci/run: finds what they need, installs Debian packages only when
# run as root with apt, and otherwise says what is missing and how to get it.

say() { printf '%s\n' "$*" >&2; }

# install PACKAGES WHAT-FOR: where that can be done
install() {
  [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1 || return 1
  say "Installing $1 ($2)"
  if [ -z "${NEEDS_APT_UPDATED:-}" ]; then
    apt-get update -qq && NEEDS_APT_UPDATED=1
  fi
  # shellcheck disable=SC2086 # several packages on purpose
  DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $1 >/dev/null
}

# need COMMAND PACKAGES WHAT-FOR
need() {
  command -v "$1" >/dev/null 2>&1 && return 0
  install "$2" "$3" && command -v "$1" >/dev/null 2>&1 && return 0
  say "Missing: $1 ($3)."
  say "  On Debian or Ubuntu: sudo apt-get install $2"
  return 1
}

need_rust() {
  if ! command -v cargo >/dev/null 2>&1 && [ -x "$HOME/.cargo/bin/cargo" ]; then
    PATH="$HOME/.cargo/bin:$PATH"
  fi
  need cargo "rustc-web cargo-web" "Rust 1.94 or newer; elsewhere see https://rustup.rs" || return 1
  local have
  have=$(rustc --version | cut -d' ' -f2)
  if [ "$(printf '%s\n' 1.94.0 "$have" | sort -V | head -n 1)" != 1.94.0 ]; then
    say "Rust $have is too old: Combwright needs 1.94 or newer (rustup update stable)."
    return 1
  fi
  need cc gcc "a C compiler, for the embedded SQLite" || return 1
}

# The app in the browser is built for WebAssembly: the installed target, else rustup's, else Debian's
# packages. The build itself looks in the same order; this only installs what is missing.
# COMBWRIGHT_WASM=debian leaves the first two out.
need_wasm() {
  local libs packages="rustc-web cargo-web rust-web-src lld-19"
  if [ "${COMBWRIGHT_WASM:-}" != debian ]; then
    libs=$(rustc --print target-libdir --target wasm32-unknown-unknown 2>/dev/null || true)
    ls "$libs"/libcore-* >/dev/null 2>&1 && return 0
    command -v rustup >/dev/null 2>&1 &&
      rustup target add wasm32-unknown-unknown >/dev/null 2>&1 && return 0
  fi
  export COMBWRIGHT_WASM=debian
  has_debian_wasm && return 0
  install "$packages" "Rust's library for the browser" && has_debian_wasm && return 0
  say "Missing: Rust's library for the browser (WebAssembly)."
  say "  With rustup: rustup target add wasm32-unknown-unknown"
  say "  On Debian or Ubuntu: sudo apt-get install $packages"
  return 1
}

has_debian_wasm() {
  [ -x /usr/bin/cargo ] &&
    [ -e "$(/usr/bin/rustc --print sysroot 2>/dev/null)/lib/rustlib/src/rust/library/std/Cargo.toml" ]
}

# The tests in a real browser.
need_browser() {
  need chromium chromium "the tests in a browser" &&
    need chromedriver chromium-driver "the tests in a browser" &&
    need certutil libnss3-tools "the tests in a browser"
}

# The tests in another engine; its window wants a screen.
need_engines() {
  need WebKitWebDriver webkit2gtk-driver "the tests in WebKit" &&
    need Xvfb xvfb "the tests in WebKit"
}
