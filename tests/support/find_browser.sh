#!/bin/sh
# Prints the Chromium the browser tests drive; installs Debian's when there is none.
find_browser() {
    for name in "${TWENTYMILE_CHROMIUM:-}" chromium chromium-browser google-chrome; do
        [ -n "$name" ] && command -v "$name" && return 0
    done
    return 1
}

find_browser && exit 0
if ! command -v apt-get >/dev/null; then
    echo "No Chromium found. Install one, or set TWENTYMILE_CHROMIUM to its path." >&2
    exit 1
fi
root=""
[ "$(id -u)" = 0 ] || root="sudo"
$root apt-get update -qq && $root apt-get install -y -qq chromium >/dev/null
find_browser
