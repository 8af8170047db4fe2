// The outbox: what is kept on this phone but not yet proven to be on the server. An item leaves it
// only on an answer with the same id and the same hash, never by age.

const TIME_OUT = 10_000;
const WAITS = [15, 60, 300, 900]; // seconds between tries while nothing gets through
const LATER = [401, 408, 409, 425, 429]; // refusals that another try can cure

export class Sender {
  /** `changed(state)` hears `{waiting, refused}`, a set of ids and a list, whenever it moves. */
  constructor(store, device, changed) {
    Object.assign(this, { store, device, changed, fails: 0, timer: 0, busy: false });
  }

  start() {
    addEventListener("online", () => this.send());
    document.addEventListener("visibilitychange", () => { if (!document.hidden) this.send(); });
    return this.send();
  }

  /** Try everything unsent, oldest first. One sender over all open pages. */
  async send({ refused = false } = {}) {
    if (this.busy) { this.again = true; return; }
    this.busy = true;
    try {
      await alone(() => this.#all(refused));
    } finally {
      this.busy = false;
      await this.report();
    }
    if (this.again) { this.again = false; await this.send(); }
  }

  async report() {
    const items = await this.store.all("outbox");
    this.changed({ waiting: new Set(items.map((item) => item.id)), refused: items.filter((item) => item.message) });
  }

  async #all(refused) {
    clearTimeout(this.timer);
    const waiting = (await this.store.all("outbox")).filter((item) => refused || !item.message);
    if (waiting.length) await this.report();
    for (const item of waiting) {
      if (await this.#one(item)) continue;
      // No answer: the rest would fare no better, so wait and try again.
      const wait = WAITS[Math.min(this.fails++, WAITS.length - 1)];
      this.timer = setTimeout(() => this.send(), wait * 1000);
      return;
    }
    this.fails = 0;
  }

  /** True when the server answered for good, be it yes or no. */
  async #one({ id }) {
    const kept = await this.store.get("records", id);
    if (!kept) { await this.store.commit([["outbox", null, id]]); return true; }
    const reply = await post({ record: kept.record, hash: kept.hash }, this.device);
    if (!reply) return false;
    const { status, body } = reply;
    if (status < 300 && body?.id === id && body?.hash === kept.hash) {
      await this.store.commit([["outbox", null, id], ["records", { ...kept, sent: new Date().toISOString() }]]);
      return true;
    }
    if (status >= 500 || status < 400 || LATER.includes(status)) return false;
    await this.store.commit([["outbox", { id, message: reason(status, body) }]]);
    return true;
  }
}

async function post(body, device) {
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), TIME_OUT);
  try {
    const response = await fetch("/api/records", {
      method: "POST",
      headers: { "Content-Type": "application/json", "X-Twentymile-Device": device },
      body: JSON.stringify(body),
      signal: stop.signal,
    });
    return { status: response.status, body: await response.json().catch(() => null) };
  } catch {
    return null;
  } finally {
    clearTimeout(timer);
  }
}

function reason(status, body) {
  const said = body?.message ?? body?.error?.message ?? body?.error ?? body?.description;
  return typeof said === "string" && said ? said : `The server refused it (${status}).`;
}

// Locks exist in secure contexts only; on plain http the flag in `busy` has to do.
function alone(work) {
  return navigator.locks ? navigator.locks.request("twentymile-send", work) : work();
}
