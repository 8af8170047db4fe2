// The outbox: what is kept on this phone but not yet proven to be on the server, and when it is tried.
// What sends it comes once something waits.

const WAITS = [15, 60, 300, 900]; // seconds between tries while nothing gets through

export class Sender {
  /**
   * `changed(state)` hears `{waiting, refused, clock, why}` whenever it moves: a set of ids, a list, how
   * many seconds the server found this phone's clock to be ahead, and why it asks to wait.
   *
   * @param {StoreOf} store @param {string} device @param {(state: SendState) => void} changed
   */
  constructor(store, device, changed) {
    this.store = store;
    this.device = device;
    this.changed = changed;
    this.fails = this.timer = this.clock = 0;
    this.busy = this.again = false;
    this.why = "";
    /** @type {BroadcastChannel | null} */
    this.windows = null;
    /** @type {Map<string, number>} */
    this.failed = new Map();
  }

  start() {
    // What one window sent, the others count no more.
    this.windows = "BroadcastChannel" in globalThis ? new BroadcastChannel("twentymile-sent") : null;
    this.windows?.addEventListener("message", () => this.report(false));
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

  async report(tell = true) {
    const items = await this.store.all("outbox");
    this.changed({ waiting: new Set(items.map((item) => item.id)), refused: items.filter((item) => item.message),
      clock: this.clock, why: this.why });
    if (tell) this.windows?.postMessage(0);
  }

  /** @type {(refused: boolean) => Promise<void>} */
  async #all(refused) {
    clearTimeout(this.timer);
    // Refused by an earlier release, an item carries no code: it may have been somebody else who refused.
    const waiting = (await this.store.all("outbox")).filter((item) => refused || !item.code);
    const left = waiting.length > 0 &&
      await import("./sending.js").then((part) => part.sendAll(this, waiting), () => true);
    if (!left) { this.fails = 0; return; }
    const wait = WAITS[Math.min(this.fails++, WAITS.length - 1)];
    this.timer = setTimeout(() => this.send(), wait * 1000);
  }
}

// Locks exist in secure contexts only; on plain http the flag in `busy` has to do.
/** @type {(work: () => Promise<void>) => Promise<unknown>} */
function alone(work) {
  return navigator.locks ? navigator.locks.request("twentymile-send", work) : work();
}
