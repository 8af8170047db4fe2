"""Checks at a *Stop now* or milder, put into a phone's store without the taps that lead to them."""

from __future__ import annotations

from playwright.sync_api import Page

PLANTED = """async ({ check, facts, found, kept, trailer, level }) => {
    const { openStore } = await import("/static/data/store.js");
    const { localTime, seal, uuid7 } = await import("/static/data/records.js");
    const { store } = await openStore(() => {});
    const findings = found.map(([finding, place]) => ({ finding, place, level }));
    const { hash, ...data } = await (await fetch("/rulebook.json")).json();
    const date = localTime().slice(0, 10), of = { check, facts, typed: {}, trailer, date };
    if (!kept) {
        const draft = { ...of, id: uuid7(), started: localTime(), skipped: [], known: [] };
        await store.commit([["drafts", draft]]);
        return draft.id;
    }
    const verdict = { level, findings, places: {}, cannot_tell: [], next: [], points: [] };
    const sealed = await seal("check", { ...of, rulebook: hash, verdict });
    await store.commit([["rulebooks", { hash, data: { hash, ...data } }], ["records", sealed]]);
    return sealed.id;
}"""


def plant(
    page: Page,
    facts: dict[str, object],
    found: list[tuple[str, str]],
    check: str = "run_stop",
    kept: bool = False,
    trailer: str | None = None,
    level: str = "stop",
) -> str:
    """Its id. ``found``, findings with their places, is what the verdict of a kept one says."""
    given = {"check": check, "facts": facts, "found": found, "kept": kept, "trailer": trailer}
    given["level"] = level
    return str(page.evaluate(PLANTED, given))
