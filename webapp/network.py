"""Who is behind a network address."""

from __future__ import annotations

import ipaddress
import re

NOWHERE = "0.0.0.0"
# What some proxies add to the address: `192.0.2.1:4711`, `[2001:db8::1]:4711`.
WITH_PORT = re.compile(r"\[(?P<six>[^\]]+)\](:\d+)?|(?P<four>\d+(\.\d+){3}):\d+")


def network_of(text: str | None) -> str:
    """The address in ``text``; of an IPv6 address its network, which one person has whole.

    What is no address (a proxy may write any word) counts as one place nobody is from.
    """
    found = WITH_PORT.fullmatch((text or "").strip())
    plain = (found["six"] or found["four"]) if found else (text or "").strip()
    try:
        address = ipaddress.ip_address(plain)
    except ValueError:
        return NOWHERE
    if isinstance(address, ipaddress.IPv6Address):
        if address.ipv4_mapped is not None:
            return str(address.ipv4_mapped)
        return str(ipaddress.ip_network((int(address), 64), strict=False))
    return str(address)
