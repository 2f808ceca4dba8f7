# Sourced by ./run, ./test and .ci/run: finds what they need, installs Debian packages only when
# run as root with apt, and otherwise says what is missing and how to get it.

say() { printf '%s\n' "$*" >&2; }

# need COMMAND PACKAGE WHAT-FOR
need() {
  command -v "$1" >/dev/null 2>&1 && return 0
  if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
    say "Installing $2 ($3)"
    if [ -z "${NEEDS_APT_UPDATED:-}" ]; then
      apt-get update -qq && NEEDS_APT_UPDATED=1
    fi
    # shellcheck disable=SC2086 # several packages on purpose
    DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $2 >/dev/null
    command -v "$1" >/dev/null 2>&1 && return 0
  fi
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
