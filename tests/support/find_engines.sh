#!/bin/sh
# Gets Firefox ESR and WebKitGTK with their drivers, where Debian's packages can be had.
have() { command -v firefox-esr >/dev/null && command -v WebKitWebDriver >/dev/null && command -v xvfb-run >/dev/null; }
have && exit 0
command -v apt-get >/dev/null || { echo "No Firefox ESR or WebKitGTK: those engines are left out." >&2; exit 1; }
root=""
[ "$(id -u)" = 0 ] || root="sudo"
$root apt-get update -qq && $root apt-get install -y -qq firefox-esr webkit2gtk-driver xvfb xauth dbus >/dev/null
have
